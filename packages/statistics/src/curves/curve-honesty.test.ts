import { describe, expect, it } from "vitest";
import { type Random, random } from "../../../domain/src/random.ts";
import { curveDifference } from "./curve-difference.ts";

const countPoints = 101;
const sdPoints = 4;

/** Smooth Gaussian curves of sd `scale`: white noise under a bell. Invented. */
function smooth(stream: Random, count: number, scale: number): number[] {
  const half = 3 * sdPoints;
  const bell = Array.from({ length: 2 * half + 1 }, (_, k) => Math.exp(-(((k - half) / sdPoints) ** 2) / 2));
  const perUnit = scale / Math.hypot(...bell);
  return Array.from({ length: count }, () => {
    const noise = Float64Array.from({ length: countPoints + 2 * half }, () => stream.normal());
    return Array.from(
      { length: countPoints },
      (_, q) => perUnit * bell.reduce((sum, w, k) => sum + w * noise[q + k]!, 0),
    );
  }).flat();
}

/** Shares of sessions without any true difference in which labels alone, and labels with the interval, call the curves different. */
function falseShares(o: { nA: number; nB: number; ratio: number; countCurves: number; runs: number }) {
  const stream = random(20250101, `honesty/${o.nA}/${o.nB}/${o.ratio}/${o.countCurves}`);
  const groups = [...Array(o.nA).fill(0), ...Array(o.nB).fill(1)];
  let [byLabels, byBoth] = [0, 0];
  for (let run = 0; run < o.runs; run++) {
    const curves = Array.from({ length: o.countCurves }, () => ({
      values: [...smooth(stream, o.nA, 1), ...smooth(stream, o.nB, o.ratio)],
      countPoints,
    }));
    const ask = { seed: run, streams: random, label: "honesty", countDrawn: 200, mostExact: 200 };
    const result = curveDifference(curves, { groups }, ask);
    if (result.kind === "withheld") throw new Error("withheld");
    if (result.p <= 0.05) byLabels++;
    if (result.curves.some(({ stretches }) => stretches.length > 0)) byBoth++;
  }
  return { byLabels: byLabels / o.runs, byBoth: byBoth / o.runs };
}

/** Nominal 5 %; 300 runs know it to ± 2.5 points, so the limits are 5 % and two and a half of its errors. */
describe("without a true difference curves are called different", () => {
  it("in about one of twenty sessions where the conditions scatter alike", () => {
    const { byLabels, byBoth } = falseShares({ nA: 6, nB: 6, ratio: 1, countCurves: 1, runs: 300 });
    expect(byLabels).toBeGreaterThan(0.015);
    expect(byLabels).toBeLessThan(0.082);
    expect(byBoth).toBeLessThanOrEqual(byLabels);
  });
  it("no oftener where they scatter unlike, though labels alone would", () => {
    const { byLabels, byBoth } = falseShares({ nA: 9, nB: 5, ratio: 2, countCurves: 1, runs: 300 });
    expect(byLabels).toBeGreaterThan(0.1);
    expect(byBoth).toBeLessThan(0.082);
  });
  it("no oftener for three curves looked at together", () => {
    const { byLabels, byBoth } = falseShares({ nA: 9, nB: 5, ratio: 2, countCurves: 3, runs: 200 });
    expect(byLabels).toBeGreaterThan(0.1);
    expect(byBoth).toBeLessThan(0.09);
  });
});
