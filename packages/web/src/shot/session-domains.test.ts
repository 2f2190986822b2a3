import type { SheetColumn } from "@underfoot/report";
import { expect, test } from "vitest";
import { widenedDomains } from "./session-domains.ts";

const column = (id: SheetColumn["id"], min: number, max: number) => ({ id, domain: { min, max } }) as SheetColumn;

test("a scale widens to hold the next shot and never narrows", () => {
  const first = widenedDomains({}, [column("push", -50, 100)]);
  const second = widenedDomains(first, [column("push", -20, 150), column("up", 0.8, 1.2)]);
  expect(second).toEqual({ push: { min: -50, max: 150 }, up: { min: 0.8, max: 1.2 } });
  expect(widenedDomains(second, [column("push", 0, 10)])).toBe(second);
});
