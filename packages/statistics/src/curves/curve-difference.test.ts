import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import type { Withheld } from "../estimate.ts";
import type { Values } from "../samples.ts";
import {
  type CurveComparison,
  curveDifference,
  type JudgedCurve,
  largestTOfRows,
  pairedCurveDifference,
} from "./curve-difference.ts";
import { labelRows, rowsOfOrders } from "./label-rows.ts";
import { permutationSample, permutationThreshold } from "./permutation-sample.ts";
import type { ComparedCurve } from "./pointwise-t.ts";

const draw = { seed: 1, streams: random, label: "max-t/force/A/B" };
const labels = (nA: number, nB: number) => ({ groups: [...Array(nA).fill(0), ...Array(nB).fill(1)] });
const rowsOf = (rows: readonly (readonly number[])[]): ComparedCurve => ({
  values: rows.flat(),
  countPoints: rows[0]?.length ?? 0,
});
function given(result: CurveComparison | Withheld): CurveComparison {
  if (result.kind === "withheld") throw new Error(`withheld: ${result.reason}`);
  return result;
}
function only(result: CurveComparison | Withheld): JudgedCurve {
  const [curve] = given(result).curves;
  if (curve === undefined) throw new Error("no curve");
  return curve;
}
const closeAll = (got: Values, wanted: Values, tolerance: number): void => {
  expect(got.length).toBe(wanted.length);
  for (let q = 0; q < wanted.length; q++)
    expect(Math.abs(got[q]! - wanted[q]!), `point ${q}: ${got[q]}, wanted ${wanted[q]}`).toBeLessThanOrEqual(
      tolerance * Math.max(Math.abs(wanted[q]!), 1e-3),
    );
};
/** Invented smooth curves: drawn weights on slow cosines. */
function smooth(countCurves: number, seed: number, countPoints = 61): number[][] {
  const stream = random(seed, "smooth");
  return Array.from({ length: countCurves }, () => {
    const weights = Array.from({ length: 6 }, () => stream.normal());
    return Array.from({ length: countPoints }, (_, q) =>
      weights.reduce((sum, w, k) => sum + w * Math.cos((Math.PI * k * q) / (countPoints - 1) + k), 0),
    );
  });
}

describe("curves of two conditions", () => {
  const a = smooth(6, 1);
  const bump = (q: number): number => 9 * Math.exp(-(((q - 30) / 6) ** 2));
  const b = smooth(6, 2).map((row) => row.map((value, q) => value + bump(q)));
  const grid = { firstMs: -60, stepMs: 2 };
  const compared = { ...rowsOf([...a, ...b]), grid };

  it("names the stretch where they differ, with its size, interval and instant", () => {
    const result = given(curveDifference([compared], labels(6, 6), draw));
    expect(result).toMatchObject({ n: [6, 6], countArrangements: 924, arrangements: "exact", findings: [] });
    expect(result.smallestP).toBeCloseTo(2 / 924, 12);
    const [curve] = result.curves;
    expect(curve?.stretches).toHaveLength(1);
    const [stretch] = curve?.stretches ?? [];
    expect(stretch?.side).toBe("above");
    expect(stretch?.fromMs).toBeLessThan(0);
    expect(stretch?.toMs).toBeGreaterThan(0);
    expect(stretch?.low).toBeGreaterThan(0);
    expect(stretch?.p).toBe(result.p);
    expect(Math.abs(stretch?.atMs ?? 99)).toBeLessThan(8);
  });
  it("takes off what explains nothing, and asks a difference to exceed what all shots share", () => {
    const explained = Array.from({ length: 61 }, (_, q) => bump(q));
    const freed = curveDifference([{ ...compared, nullDifference: explained }], labels(6, 6), draw);
    expect(only(freed).stretches).toEqual([]);
    expect(only(freed).difference[30]).toBeGreaterThan(5);
    const same = b.map((row) => row.map((value, q) => value - bump(q)));
    const plain = given(curveDifference([rowsOf([...a, ...same])], labels(6, 6), draw));
    expect(given(freed).p).toBeCloseTo(plain.p, 12);
    expect(given(freed).threshold).toBeCloseTo(plain.threshold, 9);
    const shared = curveDifference([{ ...compared, leastExcess: Array(61).fill(100) }], labels(6, 6), draw);
    expect(only(shared).stretches).toEqual([]);
    const narrow = only(curveDifference([{ ...compared, leastExcess: Array(61).fill(7) }], labels(6, 6), draw));
    const wide = only(curveDifference([compared], labels(6, 6), draw));
    expect(narrow.stretches[0]?.fromMs).toBeGreaterThanOrEqual(wide.stretches[0]?.fromMs ?? 99);
    for (let q = narrow.stretches[0]?.firstPoint ?? 0; q <= (narrow.stretches[0]?.lastPoint ?? -1); q++)
      expect(narrow.difference[q]).toBeGreaterThan(7);
  });
  it("keeps quiet stretches quiet by the noise floor", () => {
    // A tenth of a newton between feet that do not move: a large t without the floor, none with it.
    const quiet = [...Array(12).keys()].map((k) => [(k < 6 ? 0 : 0.1) + 0.001 * Math.sin(7 * k), Math.sin(k)]);
    expect(only(curveDifference([rowsOf(quiet)], labels(6, 6), draw)).stretches).toHaveLength(1);
    const floored = { ...rowsOf(quiet), sigma: [1, 1] };
    expect(only(curveDifference([floored], labels(6, 6), draw)).stretches).toEqual([]);
  });
  it("lets a point count only if every shot has it, and says what is left", () => {
    const holed = { ...compared, values: Float64Array.from(compared.values) };
    for (let q = 0; q < 10; q++) holed.values[3 * 61 + q] = Number.NaN;
    const curve = only(curveDifference([holed], labels(6, 6), draw));
    expect(curve).toMatchObject({ firstPoint: 10, lastPoint: 60 });
    expect(curve.adjustedP[5]).toBeNaN();
    expect(curve.stretches).toHaveLength(1);
  });
  it("allows for several curves as one family: the threshold only rises, no p falls, the interval only widens", () => {
    const other = rowsOf(smooth(12, 9));
    const alone = given(curveDifference([compared], labels(6, 6), draw));
    const family = given(curveDifference([compared, other], labels(6, 6), draw));
    expect(family.threshold).toBeGreaterThanOrEqual(alone.threshold);
    expect(family.factor).toBeGreaterThan(alone.factor);
    for (let q = 0; q < 61; q++)
      expect(family.curves[0]?.adjustedP[q]).toBeGreaterThanOrEqual(alone.curves[0]?.adjustedP[q] ?? 9);
  });
  it("is withheld below four curves, gives no words below five, cannot reach the level in too small blocks", () => {
    const few = rowsOf(smooth(7, 3));
    expect(curveDifference([few], labels(3, 4), draw)).toMatchObject({ kind: "withheld", needed: 4, n: [3, 4] });
    expect(given(curveDifference([rowsOf(smooth(8, 3))], labels(4, 4), draw)).findings).toEqual(["too-few-for-words"]);
    const blocked = { groups: [0, 1, 1, 0, 0, 1, 1, 0, 0, 1], blocks: [0, 0, 1, 1, 2, 2, 3, 3, 4, 4] };
    const result = given(curveDifference([rowsOf(smooth(10, 3))], blocked, draw));
    expect(result).toMatchObject({ countArrangements: 32, smallestP: 0.0625, findings: ["unreachable"] });
    expect(() => curveDifference([few], labels(6, 6), draw)).toThrow(RangeError);
  });
  it("finds unequal scatter", () => {
    const wild = smooth(6, 4).map((row) => row.map((value) => 3 * value));
    expect(only(curveDifference([rowsOf([...a, ...wild])], labels(6, 6), draw)).findings).toEqual(["unequal-scatter"]);
    expect(only(curveDifference([compared], labels(6, 6), draw)).findings).toEqual([]);
  });
  it("has labellings without scatter tie: conditions that do not overlap reach the smallest p", () => {
    const flat = [...Array(10).keys()].map((k) => [k < 5 ? 1.1 : 2.3, 0.7, Math.sin(k)]);
    const result = given(curveDifference([rowsOf(flat)], labels(5, 5), draw));
    expect(result.p).toBeCloseTo(2 / 252, 12);
    expect(result.curves[0]?.t[1]).toBe(0);
  });
  it("draws where labellings are too many, the observed one first, the same for the same seed", () => {
    const many = rowsOf(smooth(22, 5));
    const result = given(curveDifference([many], labels(11, 11), draw));
    expect(result).toMatchObject({ arrangements: "drawn", countArrangements: 10_000, seed: 1 });
    expect(result.p).toBeGreaterThanOrEqual(1 / 10_000);
    expect(curveDifference([many], labels(11, 11), draw)).toEqual(result);
    const other = given(curveDifference([many], labels(11, 11), { ...draw, seed: 2 }));
    expect(Math.abs(other.threshold / result.threshold - 1)).toBeLessThan(0.05);
  });
});

describe("the kernels against the plain definition", () => {
  /** Largest |t| from means and sums of squares, two passes, no tables. */
  function plainLargest(rows: readonly (readonly number[])[], isA: (k: number) => boolean, pooled: boolean): number {
    const count = rows[0]?.length ?? 0;
    let largest = 0;
    for (let q = 0; q < count; q++) {
      const split = [true, false].map((wanted) => {
        const column = rows.filter((_, k) => isA(k) === wanted).map((row) => row[q]!);
        const centre = column.reduce((sum, x) => sum + x, 0) / column.length;
        const squares = column.reduce((sum, x) => sum + (x - centre) ** 2, 0);
        return { n: column.length, centre, squares };
      });
      const [a, b] = split as [(typeof split)[0], (typeof split)[0]];
      const pool = ((a.squares + b.squares) / (a.n + b.n - 2)) * (1 / a.n + 1 / b.n);
      const welch = a.squares / (a.n * (a.n - 1)) + b.squares / (b.n * (b.n - 1));
      largest = Math.max(largest, Math.abs(a.centre - b.centre) / Math.sqrt(pooled ? pool : welch));
    }
    return largest;
  }
  it.each([
    [4, 4, "welch"],
    [3, 6, "welch"],
    [3, 6, "pooled"],
    [13, 12, "welch"],
    [20, 10, "welch"],
    [14, 14, "pooled"],
    [30, 24, "pooled"],
  ] as const)("%i + %i, %s: largest |t| of each labelling", (nA, nB, statistic) => {
    const rows = smooth(nA + nB, 7, 45);
    const drawn = labelRows(labels(nA, nB), { ...draw, countDrawn: 40, mostExact: 1 });
    const got = largestTOfRows([rowsOf(rows)], drawn, { nA, statistic });
    for (let row = 0; row < drawn.countRows; row++) {
      const isA = (k: number): boolean => ((drawn.bytes[row * drawn.bytesPerRow + (k >> 3)]! >> (k & 7)) & 1) === 1;
      expect(got[row]! / plainLargest(rows, isA, statistic === "pooled")).toBeCloseTo(1, 11);
    }
  });
  it("reads labellings from given orders", () => {
    const rows = rowsOfOrders([0, 1, 2, 3, 3, 2, 1, 0], 4, 2);
    expect(rows).toMatchObject({ countRows: 2, countShots: 4 });
    expect([rows.bytes[0], rows.bytes[rows.bytesPerRow]]).toEqual([0b0011, 0b1100]);
    expect(() => rowsOfOrders([0, 1, 2], 4, 2)).toThrow(RangeError);
  });
});

describe("curves of pairs", () => {
  it("flips signs, all of them up to 16 pairs", () => {
    const differences = smooth(6, 11).map((row) => row.map((value) => value + 8));
    const result = given(pairedCurveDifference([rowsOf(differences)], draw));
    expect(result).toMatchObject({ countArrangements: 64, method: "max-t-of-pairs", n: [6], smallestP: 1 / 32 });
    expect(result.curves[0]?.stretches.length).toBeGreaterThan(0);
    expect(given(pairedCurveDifference([rowsOf(smooth(17, 1))], draw))).toMatchObject({
      arrangements: "drawn",
      countArrangements: 10_000,
    });
    expect(pairedCurveDifference([rowsOf(smooth(3, 1))], draw)).toMatchObject({ kind: "withheld", needed: 4 });
  });
});

describe("the threshold of a permutation sample", () => {
  it("is the (⌊αB⌋ + 1)-th largest, or interpolated where asked", () => {
    const sample = permutationSample(Float64Array.from({ length: 100 }, (_, k) => k + 1));
    expect(permutationThreshold(sample, 0.05)).toBe(95);
    expect(permutationThreshold(sample, 1 - 0.95)).toBe(95);
    expect(permutationThreshold(sample, 0.05, "type-7")).toBeCloseTo(95.05, 12);
  });
});

/** Check values beside the repository, absent in many checkouts. */
const beside = join(import.meta.dirname, "../../../../../shared/data/checks/statistics");
describe.skipIf(!existsSync(beside))("against the check values beside the repository", () => {
  const read = (file: string) => JSON.parse(readFileSync(join(beside, file), "utf8")).cases;
  const byId = (id: string) => read("curves.json").find((one: { id: string }) => one.id === id);

  it.each([["two-sample-5+5-welch"], ["two-sample-5+5-pooled"], ["two-sample-4+6-welch"]])("meets %s", (id) => {
    const { input, expected } = byId(id);
    const labelled = labels(input.nA, input.curves.length - input.nA);
    const result = given(curveDifference([rowsOf(input.curves)], labelled, { ...draw, statistic: input.statistic }));
    expect(result.countArrangements).toBe(expected.labellings);
    const curve = only(result);
    // Their t is a minus b.
    closeAll(
      curve.t.map((t) => -t),
      expected.t,
      1e-9,
    );
    closeAll([result.threshold, result.p], [expected.threshold, expected.p], 1e-9);
    closeAll(curve.adjustedP, expected.pPointAdjusted, 1e-9);
    expect([...curve.adjustedP.keys()].filter((q) => curve.adjustedP[q]! <= 0.05)).toEqual(expected.beyond);
  });
  it("meets paired-7", () => {
    const { input, expected } = byId("paired-7");
    const result = given(pairedCurveDifference([rowsOf(input.differences)], draw));
    expect(result.countArrangements).toBe(expected.labellings);
    closeAll(only(result).t, expected.t, 1e-9);
    closeAll([result.threshold, result.p], [expected.threshold, expected.p], 1e-9);
    closeAll(only(result).adjustedP, expected.pPointAdjusted, 1e-9);
  });
  it("meets two-sample-5+5-seeded by the same drawn labellings", () => {
    const { input, expected } = byId("two-sample-5+5-seeded");
    const { curves } = byId(input.case).input;
    const seeded = { ...draw, label: input.label, countDrawn: input.labellings, mostExact: 1 };
    const result = given(curveDifference([rowsOf(curves)], labels(5, 5), seeded));
    closeAll([result.threshold, result.p], [expected.threshold, expected.p], 1e-9);
    const rows = labelRows(labels(5, 5), seeded);
    closeAll(largestTOfRows([rowsOf(curves)], rows, { nA: 5 }).slice(0, 5), expected.maxFirstFive, 1e-9);
  });
  it("meets difference-band-4+4", () => {
    const { input, expected } = byId("difference-band-4+4");
    const result = given(curveDifference([rowsOf(input.curves)], labels(4, 4), draw));
    const curve = only(result);
    closeAll([curve.roughness, curve.nu, result.factor], [expected.roughness, expected.df, expected.factor], 1e-9);
    for (const name of ["difference", "low", "high"] as const) closeAll(curve[name], expected[name], 1e-9);
  });
  it("meets spec/curves.json: labellings, sign flips, bands of differences", () => {
    let met = 0;
    for (const one of read("spec/curves.json")) {
      const both = [...(one.a ?? []), ...(one.b ?? [])];
      const groups = labels(one.a?.length ?? 0, one.b?.length ?? 0);
      if (one.kind.startsWith("two conditions")) {
        const sigma = Array(both[0].length).fill(one.floorSigma);
        const result = given(curveDifference([{ ...rowsOf(both), sigma }], groups, draw));
        expect(result.countArrangements).toBe(one.arrangements);
        closeAll(only(result).t, one.t, 1e-9);
        closeAll(only(result).adjustedP, one.adjusted, 1e-9);
        closeAll([result.threshold], [one.threshold], 1e-9);
        const rows = labelRows(groups, draw);
        const maxima = largestTOfRows([{ ...rowsOf(both), sigma }], rows, { nA: one.a.length });
        closeAll([maxima.reduce((sum, t) => sum + t, 0)], [one.maxima_sum], 1e-9);
      } else if (one.kind.startsWith("paired")) {
        const result = given(pairedCurveDifference([rowsOf(one.differences)], draw));
        expect(result.countArrangements).toBe(one.arrangements);
        closeAll(only(result).t, one.t, 1e-9);
        closeAll([result.threshold], [one.threshold], 1e-9);
        closeAll(only(result).adjustedP, one.adjusted, 1e-9);
      } else if (one.kind.startsWith("band of the difference")) {
        const result = given(curveDifference([rowsOf(both)], groups, draw));
        const curve = only(result);
        closeAll([curve.roughness, curve.nu, result.factor], [one.roughness, one.meanNu, one.c], 1e-9);
        closeAll(curve.low, one.low, 1e-9);
        closeAll(curve.high, one.high, 1e-9);
      } else continue;
      met++;
    }
    expect(met).toBe(5);
  });
});
