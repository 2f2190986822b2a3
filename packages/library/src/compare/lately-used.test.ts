import { expect, test } from "vitest";
import { latelyUsed } from "./lately-used.ts";

test("what was used last stays, what is too much goes, the last one always stays", () => {
  const kept = latelyUsed<number>(10, (size) => size);
  kept.set("a", 4);
  kept.set("b", 4);
  expect(kept.get("a")).toBe(4);
  kept.set("c", 4);
  expect([kept.get("a"), kept.get("b"), kept.get("c")]).toEqual([4, undefined, 4]);
  kept.set("a", 1);
  kept.set("d", 5);
  expect([kept.get("a"), kept.get("c"), kept.get("d")]).toEqual([1, 4, 5]);
  kept.set("huge", 99);
  expect([kept.get("a"), kept.get("huge")]).toEqual([undefined, 99]);
  kept.clear();
  expect(kept.get("huge")).toBeUndefined();
});
