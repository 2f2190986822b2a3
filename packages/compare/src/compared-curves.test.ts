import { random } from "@underfoot/domain";
import { expect, test } from "vitest";
import type { ComparedShot, ShotSeries } from "./compared-shot.ts";
import { type ComparisonOptions, comparison } from "./comparison.ts";
import { shotsOf } from "./hand-made-shots.ts";

const PUSH = "both.target turf";
const MEASURE = "both.target.peak turf";
const RATE_HZ = 500;
const COUNT = 601;

/** Smooth noise of sd 1: white noise under a Gaussian of 25 samples. */
function smooth(draw: () => number): Float64Array<ArrayBuffer> {
  const width = 25;
  const white = Float64Array.from({ length: COUNT + 6 * width }, draw);
  const kernel = Float64Array.from({ length: 6 * width }, (_, k) => Math.exp(-0.5 * ((k - 3 * width) / width) ** 2));
  const scale = Math.sqrt(kernel.reduce((sum, one) => sum + one * one, 0));
  return Float64Array.from({ length: COUNT }, (_, i) =>
    kernel.reduce((sum, one, k) => sum + (one * (white[i + k] ?? 0)) / scale, 0),
  );
}

/** Invented shots with a curve from -800 to +400 ms; `bump` N is added about -200 ms, `share` N is the slope's everywhere. */
function curved(name: string, count: number, o: { seed: number; bump?: number; share?: number }): ComparedShot[] {
  const stream = random(o.seed, name);
  const { bump = 0, share = 0 } = o;
  const shots = shotsOf(
    name,
    { [MEASURE]: Array.from({ length: count }, () => 0) },
    share === 0 ? {} : { pitchDeg: 4, slopeShare: share },
  );
  return shots.map((shot) => {
    const noise = smooth(() => stream.normal());
    const values = noise.map((one, i) => {
      const ms = -800 + (1000 * i) / RATE_HZ;
      return 10 * one + share + bump * Math.exp(-0.5 * ((ms + 200) / 60) ** 2);
    });
    const series: ShotSeries = {
      values,
      ...(share === 0 ? {} : { slopeShare: new Float64Array(COUNT).fill(share) }),
      ...{ sigma: 0.5, sigmaOfLie: 1, sigmaOfSetUp: 1, firstMs: -800, rateHz: RATE_HZ },
    };
    return { ...shot, curves: new Map([[PUSH, series]]) };
  });
}

const asked = (a: readonly ComparedShot[], b: readonly ComparedShot[], more: Partial<ComparisonOptions> = {}) =>
  comparison({
    a: { name: "a", shots: a },
    b: { name: "b", shots: b },
    ...{ measures: [MEASURE], curves: [PUSH], axes: "turf", seed: 7, streams: random },
    ...more,
  }).curves;

test("a bump is found where it is, and both the labels and the interval say so", () => {
  const found = asked(curved("even", 8, { seed: 1 }), curved("b", 8, { seed: 2, bump: 60 }));
  expect(found).toMatchObject({ status: "judged", n: [8, 8], arrangements: "exact", countArrangements: 12870 });
  const [row] = found?.curves ?? [];
  expect(row?.stretches).toHaveLength(1);
  const [stretch] = row?.stretches ?? [];
  expect(stretch?.side).toBe("above");
  expect(stretch?.fromMs).toBeGreaterThan(-380);
  expect(stretch?.toMs).toBeLessThan(-20);
  expect(stretch?.atMs).toBeGreaterThan(-240);
  expect(stretch?.low).toBeGreaterThan(0);
  const at = ((stretch?.atMs ?? 0) + 700) / 2;
  expect(row?.difference[at]).toBeCloseTo(stretch?.difference ?? 0, 9);
  expect(row?.difference[at]).toBeGreaterThan(row?.allowedHigh[at] ?? Number.NaN);
});

test("what the slope alone predicts lies in the middle of the allowed band and is no finding", () => {
  const found = asked(curved("even", 8, { seed: 3 }), curved("b", 8, { seed: 4, share: 55 }));
  const [row] = found?.curves ?? [];
  expect(row?.slopeShare[250]).toBeCloseTo(55, 9);
  expect((row?.allowedLow[250] ?? 0) + (row?.allowedHigh[250] ?? 0)).toBeCloseTo(110, 6);
  expect(row?.stretches).toEqual([]);
  // The same curves as if nobody had said the lie: then it is one.
  const blind = curved("b", 8, { seed: 4, share: 55 }).map((shot) => ({ ...shot, pitchDeg: 0 }));
  expect(asked(curved("even", 8, { seed: 3 }), blind)?.curves[0]?.stretches.length).toBeGreaterThan(0);
});

test("fewer than five on a side: single curves and no stretch", () => {
  const found = asked(curved("even", 4, { seed: 5 }), curved("b", 8, { seed: 6, bump: 90 }));
  expect(found?.status).toBe("too-few");
  expect(found?.curves[0]?.singles?.a).toHaveLength(4);
  expect(found?.curves[0]?.stretches).toEqual([]);
});

test("between lies an estimated impact withholds the verdict on whole curves", () => {
  const b = curved("b", 8, { seed: 8, share: 55, bump: 90 }).map(
    (shot): ComparedShot => ({ ...shot, impactSource: "estimated" }),
  );
  const found = asked(curved("even", 8, { seed: 7 }), b);
  expect(found).toMatchObject({ status: "withheld", reason: "impact-estimated" });
  expect(found?.curves[0]?.stretches).toEqual([]);
});

test("registered by events the grid runs from the first to the last, at the mean instants of both sides", () => {
  const timed = (shots: ComparedShot[], topMs: number): ComparedShot[] =>
    shots.map((shot) => ({ ...shot, eventsMs: { top: topMs, impact: 0, finish: 300 } }));
  const a = timed(curved("even", 6, { seed: 9 }), -300);
  const b = timed(curved("b", 6, { seed: 10 }), -400);
  const found = asked(a, b, { registration: "events", withClusters: true });
  expect(found?.registration).toMatchObject({ kind: "events", firstMs: -350, events: ["top", "impact", "finish"] });
  expect(found?.registration.targetsMs).toEqual([-350, 0, 300]);
  expect(found?.curves[0]?.clusters).toBeDefined();
  const without = timed(curved("b", 6, { seed: 10 }), Number.NaN);
  expect(asked(a, without, { registration: "events" })).toMatchObject({
    status: "withheld",
    reason: "no-common-events",
  });
});

test("between lies a difference must also exceed twice the error that each side's shots share", () => {
  const [a, b] = [curved("even", 8, { seed: 11 }), curved("b", 8, { seed: 12, share: 55, bump: 60 })];
  const sharing = (shots: readonly ComparedShot[], sigmaOfLie: number): ComparedShot[] =>
    shots.map((shot) => ({
      ...shot,
      curves: new Map([...(shot.curves ?? [])].map(([column, series]) => [column, { ...series, sigmaOfLie }])),
    }));
  const small = asked(sharing(a, 1), sharing(b, 1))?.curves[0];
  const large = asked(sharing(a, 40), sharing(b, 40))?.curves[0];
  expect(small?.stretches.length).toBeGreaterThan(0);
  expect(large?.stretches).toEqual([]);
  expect(large?.allowedHigh[250]).toBeCloseTo(55 + 2 * 40 * Math.SQRT2, 9);
});
