import { random } from "@underfoot/domain";
import fc from "fast-check";
import { expect, test } from "vitest";
import { idMaker } from "./new-id.ts";

test("ids sort by time, even where the clock stands still or goes back, and never repeat", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 2, maxLength: 300 }), (steps) => {
      let nowMs = 1_700_000_000_000;
      let at = 0;
      const newId = idMaker(() => {
        nowMs += steps[at++ % steps.length]!;
        return nowMs;
      }, random(1));
      const ids = steps.map(() => newId());
      expect(ids).toEqual([...ids].sort());
      expect(new Set(ids).size).toBe(ids.length);
      for (const id of ids) expect(id).toMatch(/^[0-9a-hjkmnp-tv-z]{19}$/);
    }),
  );
});

test("more ids within a millisecond than it can count run on into the next", () => {
  const newId = idMaker(() => 1_700_000_000_000, random(1));
  const ids = Array.from({ length: 5000 }, () => newId());
  expect(ids).toEqual([...ids].sort());
});

test("two machines at the same moment do not make the same id", () => {
  const one = idMaker(() => 1, random(1));
  const other = idMaker(() => 1, random(2));
  expect(one()).not.toBe(other());
});
