import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { studentQuantile } from "../distributions/student-t.ts";
import type { Streams } from "../random.ts";
import { type CurveBand, curveBand, stretchesOutside } from "./curve-band.ts";
import { curveScatter, roughness, tFieldFactor } from "./t-field.ts";

/** A small generator for tests (mulberry32, public domain), with the interface that the room asks for. */
const streams: Streams = (seed) => {
  let state = seed >>> 0;
  const unit = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return { below: (m) => Math.floor(unit() * m), shuffle: (items) => items, sign: () => (unit() < 0.5 ? -1 : 1) };
};
/** Sums of three slow sines with drawn weights: smooth curves of 61 points. */
function drawn(countCurves: number, seed: number): Float64Array {
  const random = streams(seed, "");
  const normal = () => Array.from({ length: 12 }, () => random.below(1e9) / 1e9).reduce((a, b) => a + b, -6);
  const values: number[] = [];
  for (let i = 0; i < countCurves; i++) {
    const weights = Array.from({ length: 7 }, normal);
    for (let q = 0; q < 61; q++)
      values.push(weights.reduce((sum, w, k) => sum + w * Math.cos((Math.PI * k * q) / 60 + k), 0));
  }
  return Float64Array.from(values);
}
const given = (result: ReturnType<typeof curveBand>): CurveBand => {
  expect(result.kind).toBe("curve-band");
  return result as CurveBand;
};

describe("the band of whole curves", () => {
  it("is the pointwise band where curves are constant: no roughness, no penalty", () => {
    const values = [1, 2, 4, 7, 3].flatMap((level) => [level, level, level]);
    const band = given(curveBand({ values, countPoints: 3 }));
    expect(band.roughness).toBe(0);
    expect(band.factor).toBeCloseTo(studentQuantile(0.975, 4), 10);
    expect(band.pointwiseFactor).toBe(studentQuantile(0.975, 4));
  });
  it("keeps about 95 of 100 new curves inside over the whole window (240 seeded data sets of 8 curves)", () => {
    let inside = 0;
    for (let run = 0; run < 240; run++) {
      const values = drawn(9, 1000 + run);
      const band = given(curveBand({ values: values.subarray(61), countPoints: 61 }));
      if (stretchesOutside(values.subarray(0, 61), band).length === 0) inside++;
    }
    expect(inside / 240).toBeGreaterThan(0.915);
    expect(inside / 240).toBeLessThan(0.985);
  });
  it("takes the measurement's uncertainty where the scatter is smaller, and says where", () => {
    const values = [1, 2, 3, 4, 5].flatMap((level) => [level, 7, level]);
    const band = given(curveBand({ values, countPoints: 3 }, { sigma: [0.1, 0.1, 0.1] }));
    expect([...band.isFloored]).toEqual([0, 1, 0]);
    expect(band.high[1]).toBeGreaterThan(7);
  });
  it("leaves out a point that one curve lacks", () => {
    const values = [1, 2, 3, 4, 5].flatMap((level) => [level, level === 3 ? Number.NaN : level, level]);
    const band = given(curveBand({ values, countPoints: 3 }));
    expect(band.low[1]).toBeNaN();
    expect(band.low[0]).toBeLessThan(band.mean[0] ?? 0);
    expect(stretchesOutside([99, 99, 99], band).map((one) => one.firstPoint)).toEqual([0, 2]);
  });
  it("is withheld below five curves, the bootstrap below twelve", () => {
    expect(curveBand({ values: drawn(4, 1), countPoints: 61 })).toMatchObject({ kind: "withheld", n: [4], needed: 5 });
    expect(curveBand({ values: drawn(11, 1), countPoints: 61 }, { bootstrap: { seed: 1, streams } })).toMatchObject({
      kind: "withheld",
      needed: 12,
    });
    expect(() => curveBand({ values: [1, 2, 3], countPoints: 2 })).toThrow(RangeError);
  });
  it("by bootstrap repeats from its seed and is near the t field's", () => {
    const curves = { values: drawn(20, 5), countPoints: 61 };
    const ask = { bootstrap: { seed: 3, streams, countResamples: 200 } };
    const band = given(curveBand(curves, ask));
    expect(given(curveBand(curves, ask)).factor).toBe(band.factor);
    expect(band).toMatchObject({ method: "bootstrap-curves", seed: 3, countArrangements: 200 });
    expect(band.factor / given(curveBand(curves)).factor).toBeGreaterThan(0.6);
    expect(band.factor / given(curveBand(curves)).factor).toBeLessThan(1.4);
  });
  it("names the stretches outside, their side, largest excess and place", () => {
    const low = Float64Array.of(0, 0, 0, 0, 0, 0);
    const high = Float64Array.of(1, 1, 1, 1, 1, 1);
    expect(stretchesOutside([2, 3, -1, 0.5, 0.5, 4], { low, high })).toEqual([
      { firstPoint: 0, lastPoint: 1, side: "above", excess: 2, atPoint: 1 },
      { firstPoint: 2, lastPoint: 2, side: "below", excess: 1, atPoint: 2 },
      { firstPoint: 5, lastPoint: 5, side: "above", excess: 3, atPoint: 5 },
    ]);
  });
  it("refuses a field without degrees of freedom", () =>
    expect(() => tFieldFactor({ roughness: 3, nu: 1 })).toThrow(RangeError));
});

const beside = join(import.meta.dirname, "../../../../../shared/data/checks/statistics");
describe.skipIf(!existsSync(beside))("against the check values beside the repository", () => {
  const read = (file: string) => JSON.parse(readFileSync(join(beside, file), "utf8")).cases;
  const curvesOf = (rows: number[][]) => ({ values: rows.flat(), countPoints: rows[0]?.length ?? 0 });

  it("meets the factors and the band of curves.json to 1e-9", () => {
    const cases = read("curves.json");
    const rows = cases.find((one: { id: string }) => one.id === "ec-factors").expected.rows;
    expect(rows.length).toBe(24);
    for (const row of rows)
      expect(Math.abs(tFieldFactor({ roughness: row.L, nu: row.df }) / row.factor - 1)).toBeLessThan(1e-9);
    const { input, expected } = cases.find((one: { id: string }) => one.id === "band-8");
    const band = given(curveBand(curvesOf(input.curves)));
    expect(Math.abs(band.roughness / expected.roughness - 1)).toBeLessThan(1e-9);
    expect(Math.abs(band.factor / expected.factor - 1)).toBeLessThan(1e-9);
    for (const side of ["low", "high"] as const) {
      expect(band[side].length).toBe(expected[side].length);
      for (const [q, wanted] of expected[side].entries())
        expect(Math.abs((band[side][q] ?? 0) / wanted - 1)).toBeLessThan(1e-9);
    }
    expect(Math.abs(band.pointwiseFactor / expected.pointwiseFactor - 1)).toBeLessThan(3e-9);
    const outside = stretchesOutside(input.new, band);
    expect(outside.length === 0).toBe(expected.newOutside.length === 0);
  });
  it("meets roughness and factor of spec/curves.json to 1e-9", () => {
    const bands = read("spec/curves.json").filter((one: { kind: string }) => one.kind.startsWith("band of single"));
    expect(bands.length).toBeGreaterThan(1);
    for (const one of bands) {
      const scatter = curveScatter(curvesOf(one.x));
      expect(Math.abs(roughness(scatter) / one.roughness - 1)).toBeLessThan(1e-9);
      const c = tFieldFactor({ roughness: roughness(scatter), nu: one.x.length - 1 });
      expect(Math.abs(c / one.c - 1)).toBeLessThan(1e-9);
    }
  });
});
