import { UnderfootError } from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import { planSize } from "./plan-size.ts";

/** n values with the standard deviation asked for, n even: half above, half below. */
function scattered(n: number, sd: number, middle = 0): number[] {
  const step = sd * Math.sqrt((n - 1) / n);
  return Array.from({ length: n }, (_, k) => middle + (k % 2 === 0 ? step : -step));
}

describe("how many shots are needed", () => {
  test("a difference of 1.5 sd, sd from 10 shots: 9, or 13 at the upper limit", () => {
    const size = planSize({ values: [scattered(10, 2)], difference: -3, unit: "%" });
    expect(size).toMatchObject({ shots: 9, shotsAtUpperLimit: 13, n: 10, detectable: undefined });
    expect(size.sd).toBeCloseTo(2, 12);
    expect(size.sentence).toBe(
      "To show 3 points in 80 of 100 such sessions, hit 9 shots of each condition, or 13 if the scatter is at its upper limit: single shots scatter by 2 points, from 10 shots.",
    );
  });

  // R 4.x, power.t.test(power = 0.8, delta = 1, sd = 1)$n = 16.71 and delta = 0.5: 63.77 (documented examples; from memory).
  test("17 and 64 shots for 1 and 0.5 sd, as two-sample power tables give", () => {
    const values = [scattered(40, 1)];
    expect(planSize({ values, difference: 1, unit: "N" }).shots).toBe(17);
    expect(planSize({ values, difference: 0.5, unit: "N" }).shots).toBe(64);
  });

  test("conditions are pooled by their own means: a difference between them is no scatter", () => {
    const size = planSize({ values: [scattered(6, 2, 10), scattered(6, 2, 90), [50]], difference: 3, unit: "%" });
    expect(size.sd).toBeCloseTo(2, 12);
    expect(size.n).toBe(12);
  });

  test("planned counts: what they can show has power 0.8, and more shots show less", () => {
    const at = (count: number) =>
      planSize({ values: [scattered(10, 2)], difference: 3, unit: "%", counts: [count, count] });
    expect(at(9).detectable).toBeLessThan(3);
    expect(at(8).detectable).toBeGreaterThan(3);
    expect(at(9).sentence).toContain("9 and 9 shots can show 2.8 points.");
  });

  test("too few earlier shots, none that differ, a difference that is none", () => {
    const four = planSize({ values: [scattered(4, 2), [1, Number.NaN]], difference: 3, unit: "%" });
    expect(four).toMatchObject({ shots: undefined, sd: undefined, n: 4 });
    expect(four.sentence).toContain("There are 4 earlier shots");
    expect(planSize({ values: [], difference: 3, unit: "%" }).sentence).toContain("There is no earlier shot");
    expect(planSize({ values: [[5, 5, 5, 5, 5]], difference: 3, unit: "%" }).shots).toBeUndefined();
    expect(planSize({ values: [scattered(10, 20)], difference: 0.1, unit: "%" }).sentence).toContain("Even 200 shots");
    expect(() => planSize({ values: [], difference: 0, unit: "%" })).toThrow(UnderfootError);
    expect(() => planSize({ values: [], difference: 1, unit: "%", counts: [1, 5] })).toThrow(UnderfootError);
  });
});
