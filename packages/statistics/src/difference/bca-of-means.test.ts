import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import { mean, type Values } from "../samples.ts";
import { bcaInterval } from "./bca.ts";
import { bcaOfMeanDifferences, drawnIndices } from "./bca-of-means.ts";

const draw = { seed: 4, streams: random, label: "bca/force/A/B" };
const bMinusA = (groups: readonly Values[]): number => mean(groups[1] ?? []) - mean(groups[0] ?? []);

describe("BCa of many measures by the same resamples", () => {
  it.each([
    [12, 12],
    [8, 11],
    [17, 9],
    [70, 8],
  ])("is bcaInterval of each, %i and %i shots", (nA, nB) => {
    const stream = random(nA, "values");
    const measures = [0, 1].map(() => Float64Array.from({ length: nA + nB }, () => 600 + 30 * stream.normal() ** 2));
    const options = { ...draw, countResamples: 3000 };
    const together = bcaOfMeanDifferences(measures, drawnIndices({ nA, nB }, options));
    measures.forEach((values, m) => {
      const alone = bcaInterval([values.subarray(0, nA), values.subarray(nA)], bMinusA, options);
      for (const name of ["value", "low", "high", "z0", "acceleration"] as const)
        expect(Math.abs((together[m]?.[name] ?? 0) - alone[name])).toBeLessThan(
          1e-10 * Math.max(1, Math.abs(alone[name])),
        );
      expect(together[m]).toMatchObject({ isExact: false, seed: 4, countArrangements: 3000, n: [nA, nB] });
    });
  });
  it("has no width without scatter, and refuses values of other shots", () => {
    const resamples = drawnIndices({ nA: 3, nB: 3 }, { ...draw, countResamples: 100 });
    expect(bcaOfMeanDifferences([[1, 1, 1, 4, 4, 4]], resamples)[0]).toMatchObject({ value: 3, low: 3, high: 3 });
    expect(() => bcaOfMeanDifferences([[1, 2, 3]], resamples)).toThrow(RangeError);
  });
});
