import { expect, test } from "vitest";
import { dayText } from "./day-text.ts";

test("a day in words, with and without its year", () => {
  expect(dayText("2026-03-09")).toBe("9 Mar 2026");
  expect(dayText("2025-12-31", "without year")).toBe("31 Dec");
});
