import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import { resampledCubic } from "../../../signal/src/resampled-cubic.ts";
import { hedgesG } from "../difference/effect-size.ts";
import { type CurveClusters, curveClusters, pairedCurveClusters } from "./curve-clusters.ts";
import { type CurveConditions, curveConditions } from "./curve-conditions.ts";
import { curveDifference } from "./curve-difference.ts";
import { effectSizeCurve } from "./effect-size-curve.ts";
import type { ComparedCurve } from "./pointwise-t.ts";
import { registeredByEvents, registeredByImpact, registeredCurves } from "./registration.ts";

const draw = { seed: 1, streams: random, label: "curves/force/A/B" };
const labels = (nA: number, nB: number) => ({ groups: [...Array(nA).fill(0), ...Array(nB).fill(1)] });
const rowsOf = (rows: readonly (readonly number[])[]): ComparedCurve => ({
  values: rows.flat(),
  countPoints: rows[0]?.length ?? 0,
});
function given<T extends { kind: string }>(result: T): Exclude<T, { kind: "withheld" }> {
  if (result.kind === "withheld") throw new Error("withheld");
  return result as Exclude<T, { kind: "withheld" }>;
}
const closeAll = (got: ArrayLike<number>, wanted: ArrayLike<number>, tolerance: number): void => {
  expect(got.length).toBe(wanted.length);
  for (let q = 0; q < wanted.length; q++)
    expect(Math.abs(got[q]! - wanted[q]!), `${q}: ${got[q]}, wanted ${wanted[q]}`).toBeLessThanOrEqual(
      tolerance * Math.max(Math.abs(wanted[q]!), 1e-3),
    );
};
/** Invented curves: waves of the shot's own, and a level for each condition on the second half. */
const waves = (count: number, level: (k: number) => number, countPoints = 40): number[][] =>
  Array.from({ length: count }, (_, k) =>
    Array.from(
      { length: countPoints },
      (__, q) => Math.sin(2.3 * k * k + 0.35 * q) + 0.6 * Math.cos(5.1 * k + 0.11 * q) + (q >= 20 ? level(k) : 0),
    ),
  );

describe("clusters", () => {
  it("find a long, weak difference that no instant shows, and say nothing of instants", () => {
    const curves = rowsOf(waves(12, (k) => (k < 6 ? 0 : 1.5)));
    const result: CurveClusters = given(curveClusters([curves], labels(6, 6), draw));
    const [largest] = [...result.clusters].sort((a, b) => b.mass - a.mass);
    expect(largest?.side).toBe("above");
    expect(largest?.p).toBeLessThan(0.05);
    expect(Object.keys(largest ?? {})).not.toContain("low");
    const points = given(curveDifference([curves], labels(6, 6), draw));
    expect(points.p).toBeGreaterThan(largest?.p ?? 1);
  });
  it("judge several curves as one family, and carry the grid into their times and masses", () => {
    const curves = rowsOf(waves(12, (k) => (k < 6 ? 0 : 1.5)));
    const other = rowsOf(waves(12, () => 0));
    const alone = given(curveClusters([curves], labels(6, 6), draw));
    const grid = { firstMs: -40, stepMs: 2 };
    const family = given(
      curveClusters(
        [
          { ...curves, grid },
          { ...other, grid },
        ],
        labels(6, 6),
        draw,
      ),
    );
    alone.clusters.forEach((cluster, at) => {
      const same = family.clusters[at];
      expect(same?.p).toBeGreaterThanOrEqual(cluster.p);
      expect(same?.mass).toBeCloseTo(2 * cluster.mass, 9);
      expect(same?.fromMs).toBe(-40 + 2 * cluster.firstPoint);
    });
  });
  it("of unequal counts, of pairs, and withheld below four", () => {
    const curves = rowsOf(waves(12, (k) => (k < 5 ? 0 : 4)));
    expect(given(curveClusters([curves], labels(5, 7), draw)).clusters.some(({ p }) => p < 0.05)).toBe(true);
    const pairs = given(pairedCurveClusters([rowsOf(waves(7, () => 4))], draw));
    expect(pairs).toMatchObject({ method: "cluster-mass-of-pairs", countArrangements: 128, n: [7] });
    expect(pairs.clusters.at(-1)?.p).toBeCloseTo(2 / 128, 12);
    expect(curveClusters([rowsOf(waves(6, () => 0))], labels(3, 3), draw)).toMatchObject({ kind: "withheld" });
  });
});

describe("several conditions", () => {
  const groups = [0, 1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 2];
  it("say whether any differ, then which pairs, corrected by Holm", () => {
    const curves = rowsOf(waves(15, (k) => (k % 3 === 2 ? 6 : 0)));
    const result: CurveConditions = given(curveConditions([curves], { groups }, draw));
    expect(result).toMatchObject({ n: [5, 5, 5], arrangements: "drawn", countArrangements: 10_000, method: "max-f" });
    expect(result.p).toBeLessThan(0.01);
    expect(result.pairs.map(({ a, b }) => [a, b])).toEqual([
      [0, 1],
      [0, 2],
      [1, 2],
    ]);
    const [same, first, second] = result.pairs;
    expect(same?.adjustedP).toBeGreaterThan(0.05);
    expect(first?.adjustedP).toBeLessThan(0.05);
    expect(second?.comparison.curves[0]?.stretches.length).toBeGreaterThan(0);
    for (const pair of result.pairs) expect(pair.adjustedP).toBeGreaterThanOrEqual(pair.comparison.p);
  });
  it("of two are the square of the pooled t", () => {
    const curves = rowsOf(waves(11, (k) => (k < 5 ? 0 : 1)));
    const result = given(curveConditions([curves], labels(5, 6), draw));
    const pair = given(curveDifference([curves], labels(5, 6), { ...draw, statistic: "pooled" }));
    closeAll(result.f[0] ?? [], pair.curves[0]?.t.map((t) => t * t) ?? [], 1e-10);
    expect(result.countArrangements).toBe(462);
    expect(result.p).toBeCloseTo(pair.p, 12);
    expect(Math.sqrt(result.threshold)).toBeCloseTo(pair.threshold, 9);
  });
  it("keep to the blocks of the plan, and to the noise floor", () => {
    const blocks = groups.map((_, k) => Math.floor(k / 3));
    const curves = rowsOf(waves(15, (k) => (k % 3 === 2 ? 6 : 0)));
    const result = given(curveConditions([curves], { groups, blocks }, draw));
    expect(result.countArrangements).toBe(6 ** 5);
    expect(result.pairs[0]?.comparison.countArrangements).toBe(2 ** 5);
    const floored = given(curveConditions([{ ...curves, sigma: Array(40).fill(50) }], { groups }, draw));
    expect(floored.p).toBeGreaterThan(0.0001);
    expect(Math.max(...(floored.f[0] ?? []))).toBeLessThan(1);
  });
  it("are withheld where one has too few", () => {
    const few = rowsOf(waves(11, () => 0));
    expect(curveConditions([few], labels(3, 8), draw)).toMatchObject({ kind: "withheld", n: [3, 8], needed: 4 });
    expect(curveConditions([few], { groups: Array(11).fill(0) }, draw)).toMatchObject({ kind: "withheld" });
  });
});

describe("the effect size curve", () => {
  it("is Hedges' g at each point, and not drawn where the difference is below twice the noise", () => {
    const rows = waves(12, (k) => (k < 6 ? 0 : 2));
    const g = effectSizeCurve(rowsOf(rows), labels(6, 6).groups);
    const column = rows.map((row) => row[30]!);
    const wanted = hedgesG(column.slice(0, 6), column.slice(6));
    expect(wanted.kind === "effect-size" && wanted.value).toBeCloseTo(g[30] ?? 99, 11);
    const noisy = effectSizeCurve({ ...rowsOf(rows), sigma: Array(40).fill(0.7) }, labels(6, 6).groups);
    expect(noisy[5]).toBeNaN();
    expect(Math.abs(noisy[30] ?? 99)).toBeLessThanOrEqual(Math.abs(g[30] ?? 0));
  });
});

describe("registration in time", () => {
  const rateHz = 500;
  /** A curve whose event lies at `eventMs` on its own clock. */
  const shot = (eventMs: number, lengthMs = 2000) => ({
    values: Float64Array.from({ length: (lengthMs * rateHz) / 1000 }, (_, i) =>
      Math.exp(-(((i * 1000) / rateHz - eventMs) ** 2) / 2e4),
    ),
    firstMs: 0,
    rateHz,
  });
  it("by impact lays the instants on each other: 501 points, -700 to +300 ms", () => {
    const times = [1003.3, 1111.1, 961.7];
    const registration = registeredByImpact(times);
    expect(registration.grid).toEqual({ firstMs: -700, stepMs: 2, countPoints: 501 });
    const curves = registeredCurves(
      times.map((time) => shot(time)),
      registration,
      resampledCubic,
    );
    for (const i of [0, 1, 2]) {
      const curve = curves.subarray(i * 501, (i + 1) * 501);
      expect(curve[350]).toBeCloseTo(1, 6);
      expect(curve[400]).toBeCloseTo(Math.exp(-0.5), 5);
    }
  });
  it("leaves NaN where a shot does not cover the window", () => {
    const curves = registeredCurves([shot(500)], registeredByImpact([500]), resampledCubic);
    expect(curves[0]).toBeNaN();
    expect(curves[100]).toBeCloseTo(Math.exp(-(500 ** 2) / 2e4), 6);
  });
  it("by events reads each stretch in proportion; targets are the means over all shots", () => {
    const events = [
      [0, 300, 700, Number.NaN],
      [100, 500, 800, 900],
    ];
    const registration = registeredByEvents(events, [1, 2], 5);
    expect(registration).toMatchObject({
      events: [0, 1, 2],
      targetsMs: [50, 400, 750],
      grid: { firstMs: 50, stepMs: 175, countPoints: 5 },
    });
    closeAll(registration?.readAtMs ?? [], [0, 150, 300, 500, 700, 100, 300, 500, 650, 800], 1e-12);
  });
  it("is refused without the events it needs, and where events are out of order", () => {
    expect(registeredByEvents([[0, Number.NaN, 700]], [1, 2])).toBeUndefined();
    expect(registeredByEvents([[0, 800, 700]], [1, 2])).toBeUndefined();
    expect(registeredByEvents([[Number.NaN, 800]], [])).toBeUndefined();
    expect(() => registeredCurves([], registeredByImpact([1]), resampledCubic)).toThrow(RangeError);
  });
});

/** Check values beside the repository, absent in many checkouts. */
const beside = join(import.meta.dirname, "../../../../../shared/data/checks/statistics");
describe.skipIf(!existsSync(beside))("against the check values beside the repository", () => {
  const read = (file: string) => JSON.parse(readFileSync(join(beside, file), "utf8")).cases;
  const byId = (id: string) => read("curves.json").find((one: { id: string }) => one.id === id);

  it("meets the clusters of curves.json", () => {
    for (const id of ["two-sample-5+5-welch", "two-sample-5+5-pooled", "two-sample-4+6-welch", "paired-7"]) {
      const { input, expected } = byId(id);
      const isPaired = input.differences !== undefined;
      const result = given(
        isPaired
          ? pairedCurveClusters([rowsOf(input.differences)], draw)
          : curveClusters([rowsOf(input.curves)], labels(input.nA, input.curves.length - input.nA), {
              ...draw,
              statistic: input.statistic,
            }),
      );
      closeAll([result.formingT], [expected.clusterFormingT], 3e-9);
      expect(result.clusters).toHaveLength(expected.clusters.length);
      result.clusters.forEach((cluster, at) => {
        const wanted = expected.clusters[at];
        expect([cluster.firstPoint, cluster.lastPoint]).toEqual([wanted.from, wanted.to]);
        // Their differences are a minus b.
        expect(cluster.side).toBe(wanted.sign < 0 ? "above" : "below");
        closeAll([cluster.mass, cluster.p], [wanted.mass, wanted.pMass], 1e-9);
      });
    }
  });
  it("meets the clusters of spec/curves.json, with and without a floor", () => {
    const cases = read("spec/curves.json").filter((one: { kind: string }) => one.kind.startsWith("two conditions"));
    expect(cases).toHaveLength(2);
    for (const one of cases) {
      const curve = {
        ...rowsOf([...one.a, ...one.b]),
        sigma: Array(one.t.length).fill(one.floorSigma),
        grid: { firstMs: 0, stepMs: one.stepMs },
      };
      const result = given(curveClusters([curve], labels(one.a.length, one.b.length), draw));
      closeAll([result.formingT], [one.clusterU0], 3e-9);
      expect(result.clusters.map(({ firstPoint, lastPoint }) => [firstPoint, lastPoint])).toEqual(
        one.clusters.map(({ first, last }: { first: number; last: number }) => [first, last]),
      );
      result.clusters.forEach(({ mass, p }, at) => {
        closeAll([mass, p], [one.clusters[at].mass, one.clusters[at].p], 1e-9);
      });
    }
  });
  it("meets three-conditions-3+3+3", () => {
    const { input, expected } = byId("three-conditions-3+3+3");
    const ask = { ...draw, leastCurves: 3 };
    const result = given(curveConditions([rowsOf(input.curves)], { groups: input.groups }, ask));
    expect(result.countArrangements).toBe(expected.labellings);
    closeAll(result.f[0] ?? [], expected.f, 1e-9);
    closeAll([result.threshold, result.p], [expected.threshold, expected.p], 1e-9);
    closeAll(result.adjustedP[0] ?? [], expected.pPointAdjusted, 1e-9);
  });
  it("meets resample-impact and register-piecewise, and the piecewise case of spec/curves.json", () => {
    const impact = byId("resample-impact");
    const gridMs: number[] = impact.input.gridS.map((time: number) => 1000 * time);
    const grid = { firstMs: gridMs[0] ?? 0, stepMs: 20, countPoints: gridMs.length };
    const curve = { values: Float64Array.from(impact.input.samples), firstMs: 0, rateHz: impact.input.rateHz };
    const registered = registeredByImpact([1000 * impact.input.impactS], grid);
    closeAll(registeredCurves([curve], registered, resampledCubic), impact.expected.y, 1e-10);

    const { input, expected } = byId("register-piecewise");
    // Two shots whose means are the common instants: the one asked for, and its mirror about them.
    const own: number[] = input.ownS.map((time: number) => 1000 * time);
    const mirror = own.map((time, k) => 2000 * input.commonS[k] - time);
    const piecewise = registeredByEvents([own, mirror], [1, 2], input.gridS.length);
    closeAll(
      piecewise?.readAtMs.subarray(0, input.gridS.length).map((time) => time / 1000) ?? [],
      expected.ownTimeS,
      1e-10,
    );
    const both = registeredCurves([curve, curve], piecewise ?? registered, resampledCubic);
    closeAll(both.subarray(0, input.gridS.length), expected.y, 1e-9);

    const one = read("spec/curves.json").find((some: { kind: string }) => some.kind.startsWith("piecewise"));
    const turned = one.shot.map((time: number, k: number) => 2 * one.target[k] - time);
    const read10 = registeredByEvents([one.shot, turned], [0, 2], 19);
    one.at.forEach((at: number, k: number) => {
      expect(read10?.readAtMs[at / 10]).toBeCloseTo(one.readAt[k], 9);
    });
  });
});
