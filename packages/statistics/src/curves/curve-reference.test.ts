import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import { resampledCubic } from "../../../signal/src/resampled-cubic.ts";
import { curveClusters, pairedCurveClusters } from "./curve-clusters.ts";
import { curveConditions } from "./curve-conditions.ts";
import { curveDifference, pairedCurveDifference } from "./curve-difference.ts";
import { registeredByEvents, registeredCurves } from "./registration.ts";

/** NumPy and SciPy by reference/statistics-curves.py, every labelling one by one. */
const reference = JSON.parse(
  readFileSync(join(import.meta.dirname, "../../../../reference/statistics-curves.json"), "utf8"),
);
const draw = { seed: 1, streams: random, label: "reference" };
const labels = (nA: number, nB: number) => ({ groups: [...Array(nA).fill(0), ...Array(nB).fill(1)] });
const rowsOf = (rows: number[][]) => ({ values: rows.flat(), countPoints: rows[0]?.length ?? 0 });
const closeAll = (got: ArrayLike<number>, wanted: ArrayLike<number>, tolerance: number): void => {
  expect(got.length).toBe(wanted.length);
  for (let q = 0; q < wanted.length; q++)
    expect(Math.abs(got[q]! - wanted[q]!), `${q}: ${got[q]}, wanted ${wanted[q]}`).toBeLessThanOrEqual(
      tolerance * Math.max(Math.abs(wanted[q]!), 1e-2),
    );
};
function given<T extends { kind: string }>(result: T): Exclude<T, { kind: "withheld" }> {
  expect(result.kind).not.toBe("withheld");
  return result as Exclude<T, { kind: "withheld" }>;
}

interface Summary {
  readonly t: number[];
  readonly threshold: number;
  readonly adjusted: number[];
  readonly countArrangements: number;
  readonly clusters: readonly { firstPoint: number; lastPoint: number; sign: number; mass: number; p: number }[];
}
function expectSummary(
  comparison: ReturnType<typeof curveDifference>,
  clusters: ReturnType<typeof curveClusters>,
  wanted: Summary,
): void {
  const [result, found] = [given(comparison), given(clusters)];
  expect(result.countArrangements).toBe(wanted.countArrangements);
  // SciPy forms variances in another order: curves of 400 with a scatter of 1 leave 11 digits.
  closeAll(result.curves[0]?.t ?? [], wanted.t, 1e-10);
  closeAll([result.threshold], [wanted.threshold], 1e-10);
  closeAll(result.curves[0]?.adjustedP ?? [], wanted.adjusted, 1e-12);
  expect(found.clusters.map((one) => [one.firstPoint, one.lastPoint, one.side])).toEqual(
    wanted.clusters.map((one) => [one.firstPoint, one.lastPoint, one.sign > 0 ? "above" : "below"]),
  );
  closeAll(
    found.clusters.flatMap((one) => [one.mass, one.p]),
    wanted.clusters.flatMap((one) => [one.mass, one.p]),
    1e-10,
  );
}

describe("whole curves against NumPy and SciPy", () => {
  it("two conditions: even, uneven, and with a noise floor", () => {
    for (const one of reference.twoConditions) {
      const curve = { ...rowsOf([...one.a, ...one.b]), sigma: Array(one.t.length).fill(one.sigma) };
      const labelled = labels(one.a.length, one.b.length);
      expectSummary(curveDifference([curve], labelled, draw), curveClusters([curve], labelled, draw), one);
    }
  });
  it("the simultaneous interval of a difference", () => {
    for (const band of reference.bands) {
      const { a, b } = reference.twoConditions[band.case];
      const result = given(curveDifference([rowsOf([...a, ...b])], labels(a.length, b.length), draw));
      const [curve] = result.curves;
      closeAll([curve?.nu ?? 0, curve?.roughness ?? 0, result.factor], [band.nu, band.roughness, band.factor], 1e-9);
      closeAll(curve?.low ?? [], band.low, 1e-9);
    }
  });
  it("pairs by all sign flips", () => {
    const curve = rowsOf(reference.pairs.differences);
    expectSummary(pairedCurveDifference([curve], draw), pairedCurveClusters([curve], draw), reference.pairs);
  });
  it("three conditions by all labellings", () => {
    const wanted = reference.threeConditions;
    const ask = { ...draw, leastCurves: 2 };
    const result = given(curveConditions([rowsOf(wanted.values)], { groups: wanted.groups }, ask));
    expect(result.countArrangements).toBe(wanted.countArrangements);
    closeAll(result.f[0] ?? [], wanted.f, 1e-10);
    closeAll([result.threshold], [wanted.threshold], 1e-10);
    closeAll(result.adjustedP[0] ?? [], wanted.adjusted, 1e-12);
  });
  it("registration by events", () => {
    const { samples, rateHz, ownMs, targetMs, readAtMs, values } = reference.registration;
    const mirror = ownMs.map((time: number, k: number) => 2 * targetMs[k] - time);
    const registration = registeredByEvents([ownMs, mirror], [0], readAtMs.length);
    if (registration === undefined) throw new Error("no registration");
    closeAll(registration.readAtMs.subarray(0, readAtMs.length), readAtMs, 1e-12);
    const curve = { values: Float64Array.from(samples), firstMs: 0, rateHz };
    const registered = registeredCurves([curve, curve], registration, resampledCubic);
    closeAll(registered.subarray(0, values.length), values, 1e-9);
  });
});
