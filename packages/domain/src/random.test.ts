import { expect, test } from "vitest";
import { random, randomFromState } from "./random.ts";

test("xoshiro128** from state 1 2 3 4 gives the published first outputs", () => {
  // Blackman & Vigna's reference code, first outputs as published test vectors have them (typed from memory).
  const stream = randomFromState([1, 2, 3, 4]);
  expect([stream.u32(), stream.u32(), stream.u32(), stream.u32()]).toEqual([11520, 0, 5927040, 70819200]);
});

test("a seed and a label make one stream, the same every time", () => {
  const first = (label: string): number[] =>
    Array.from(
      { length: 4 },
      (
        (s) => () =>
          s.u32()
      )(random(1, label)),
    );
  // A separate Python program made these from the same rule.
  expect(first("")).toEqual([1695105466, 1423115009, 634581793, 1068227753]);
  expect(first("maxt")).toEqual([848105127, 3123710909, 1116103499, 1686638983]);
});

test("units, bounded integers and signs follow their rules", () => {
  expect(random(1).unit()).toBe(0.3946724931250869);
  const stream = random(1);
  expect(Array.from({ length: 12 }, () => stream.below(10))).toEqual([3, 3, 1, 2, 1, 9, 8, 6, 6, 6, 4, 7]);
  const signs = random(1);
  expect(Array.from({ length: 7 }, () => signs.sign())).toEqual([1, 1, 1, 1, 1, -1, -1]);
});
