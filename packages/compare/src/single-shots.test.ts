import { random } from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import type { ComparedShot, ShotSeries } from "./compared-shot.ts";
import { shotsOf } from "./hand-made-shots.ts";
import { shotAgainstShot, shotAgainstUsual } from "./single-shots.ts";
import { usualOf } from "./usual.ts";

const M = "lead.share.at.impact";
const PUSH = "both.target.peak turf";
const CURVE = "both.target turf";
const values = [70, 72, 74, 71, 73, 72, 70, 74];
const group = (of: readonly number[] = values, facts = {}) => ({
  name: "low",
  shots: shotsOf("low", { [M]: of }, facts),
});
const one = (value: number, facts = {}): ComparedShot => shotsOf("one", { [M]: [value] }, facts)[0] as ComparedShot;
const asked = { measures: [M], axes: "turf" } as const;

/** A curve that is level at `height`, with a bump of `bump` at impact. */
function withCurve(shot: ComparedShot, height: number, bump = 0, share?: number): ComparedShot {
  const values = Float64Array.from({ length: 601 }, (_, i) => height + bump * Math.exp(-0.5 * ((i - 400) / 10) ** 2));
  const series: ShotSeries = {
    values,
    ...(share === undefined ? {} : { slopeShare: new Float64Array(601).fill(share) }),
    ...{ sigma: 0.1, sigmaOfLie: 0, sigmaOfSetUp: 0, firstMs: -800, rateHz: 500 },
  };
  return { ...shot, curves: new Map([[CURVE, series]]) };
}

describe("the usual band", () => {
  test("is where the next shot of the condition falls; mishits are counted and left out", () => {
    const usual = usualOf(
      { name: "low", shots: [...group().shots, ...shotsOf("mis", { [M]: [10] }, { labels: ["mishit"] })] },
      asked,
    );
    const [row] = usual.measures;
    // Mean 72, sd √(18/7) by hand; t_7 = 2.3646 (table), √(1 + 1/8).
    expect(row?.band).toMatchObject({ kind: "band", value: 72, n: [8] });
    if (row?.band.kind !== "band") throw new RangeError("withheld");
    expect(row.band.high).toBeCloseTo(72 + 2.3646 * Math.sqrt(18 / 7) * Math.sqrt(9 / 8), 3);
    expect(usual.leftOut).toEqual({ mishit: 1, "set-aside": 0, invalid: 0 });
    expect(usual.countSessions).toBe(1);
  });

  test("below five shots there is none, and the single values and curves are given", () => {
    const shots = group(values.slice(0, 4)).shots.map((shot, k) => withCurve(shot, k));
    const usual = usualOf({ name: "low", shots }, { ...asked, curves: [CURVE] });
    expect(usual.measures[0]?.band).toMatchObject({ kind: "withheld", reason: "too-few", needed: 5 });
    expect(usual.measures[0]?.values).toEqual([70, 72, 74, 71]);
    expect(usual.curves[0]).toMatchObject({ status: "too-few", n: 4, low: [] });
    expect(usual.curves[0]?.singles).toHaveLength(4);
  });

  test("nothing at all is an empty usual, not a failure", () => {
    const usual = usualOf({ name: "low", shots: [] }, { ...asked, curves: [CURVE] });
    expect(usual).toMatchObject({ shotIds: [], curves: [], countSessions: 0 });
    expect(usual.measures[0]).toMatchObject({ values: [], slopeShare: 0 });
  });
});

describe("a shot against its usual", () => {
  test("is never one of its own band: judged by the other shots", () => {
    const outlier = group([...values, 90]);
    const last = outlier.shots.at(-1) as ComparedShot;
    const found = shotAgainstUsual(last, outlier, asked);
    expect(found.usual.shotIds).not.toContain(last.shotId);
    expect(found.measures[0]?.band).toMatchObject({ kind: "unusual", mean: 72, n: [8] });
    expect(found.overall).toEqual({
      countOutside: 1,
      countMeasures: 1,
      expected: 0.050000000000000044,
      isUnusualAsAWhole: true,
    });
    expect(found.measures[0]?.steps).toBeGreaterThan(1);
  });

  test("on another lie the slope's share is taken off first", () => {
    const flat = { name: "flat", shots: shotsOf("low", { [PUSH]: values }) };
    const up = shotsOf("one", { [PUSH]: [122] }, { pitchDeg: 4, slopeShare: 50 })[0] as ComparedShot;
    const found = shotAgainstUsual(up, flat, { measures: [PUSH], axes: "turf" });
    expect(found).toMatchObject({
      isBetweenLies: true,
      measures: [{ value: 122, slopeShare: 50, band: { kind: "usual" } }],
    });
  });

  test("where its curve leaves the band, in ms", () => {
    const stream = random(4, "single");
    const shots = group().shots.map((shot) => withCurve(shot, stream.normal()));
    const found = shotAgainstUsual(withCurve(one(72), 0, 400), { name: "low", shots }, { ...asked, curves: [CURVE] });
    const [curve] = found.curves;
    expect(curve?.values).toHaveLength(501);
    expect(curve?.stretches).toHaveLength(1);
    expect(curve?.stretches[0]).toMatchObject({ side: "above", atMs: 0 });
    expect(curve?.stretches[0]?.fromMs).toBeLessThan(0);
    const within = shotAgainstUsual(withCurve(one(72), 0), { name: "low", shots }, { ...asked, curves: [CURVE] });
    expect(within.curves[0]?.stretches).toEqual([]);
  });
});

describe("shot against shot", () => {
  test("has no verdict and no p, whatever lies between them", () => {
    const found = shotAgainstShot(one(20), { ...one(90), shotId: "other" }, { ...asked, groups: [group()] });
    expect(found.verdict).toBe("none");
    expect(Object.keys(found.measures[0] ?? {})).not.toContain("p");
    expect(JSON.stringify(found)).not.toContain("beyond");
    // t_7 s √2 with s = √(18/7).
    expect(found.measures[0]).toMatchObject({ difference: 70, verdict: "none", sigmaMeasurement: Math.SQRT2 });
    expect(found.measures[0]?.mdcSingle).toBeCloseTo(2.3646 * Math.sqrt(18 / 7) * Math.SQRT2, 3);
  });

  test("without a band only the error of measurement is given", () => {
    const found = shotAgainstShot(one(20), { ...one(90), shotId: "other" }, { ...asked, groups: [group([1, 2, 3])] });
    expect(found.measures[0]?.mdcSingle).toBeUndefined();
    expect(found.measures[0]?.steps).toBeNaN();
  });

  test("two conditions: the scatter of both", () => {
    const wide = group(values.map((value) => 3 * value));
    const found = shotAgainstShot(one(70), { ...one(71), shotId: "other" }, { ...asked, groups: [group(), wide] });
    expect(found.n).toEqual([8, 8]);
    expect(found.measures[0]?.mdcSingle).toBeGreaterThan(2.1 * Math.sqrt((18 / 7) * 10));
  });

  test("curves of both, their difference and the slope's share of it", () => {
    const up = { ...withCurve(one(71, { pitchDeg: 4 }), 60, 0, 50), shotId: "other" };
    const found = shotAgainstShot(withCurve(one(70), 5, 0, 0), up, { ...asked, curves: [CURVE] });
    expect(found.curves[0]?.difference[250]).toBeCloseTo(55, 9);
    expect(found.curves[0]?.slopeShare[250]).toBeCloseTo(50, 9);
    expect(found.grid).toEqual({ kind: "impact", firstMs: -700, stepMs: 2 });
  });

  test("the same shot twice is refused", () => {
    expect(() => shotAgainstShot(one(1), one(1), asked)).toThrow("One shot is in both sides");
  });
});
