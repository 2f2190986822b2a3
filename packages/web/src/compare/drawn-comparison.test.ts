import { type ComparedShot, comparison, shotAgainstShot, shotAgainstUsual } from "@underfoot/compare";
import { random } from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import { comparisonWords } from "./comparison-words.ts";
import { drawnComparison } from "./drawn-comparison.ts";
import { measureMark } from "./measures/measure-marks.ts";

const LEAD = "lead.share.at.impact";
const CURVE = "lead.share";
const RATE_HZ = 1000;

/** Invented shots: a share that stays at its value from 1200 ms before impact to 800 ms after it. */
const shotsOf = (intent: string, shares: readonly number[]): readonly ComparedShot[] =>
  shares.map((share, k) => ({
    shotId: `${intent}-${k}`,
    label: "kept",
    sessionId: "s",
    day: "2026-03-17",
    ordinal: 2 * k + (intent === "low" ? 1 : 2),
    intent,
    pitchDeg: 0,
    rollDeg: 0,
    impactSource: "signal",
    eventsMs: { start: -1100, top: -340, delivery: -80 - k, impact: 0, finish: 400 },
    measures: new Map([[LEAD, { value: share, sigma: 0.5, sigmaShared: 0 }]]),
    curves: new Map([
      [
        CURVE,
        {
          values: new Float64Array(2001).fill(share),
          ...{ sigma: 0.5, sigmaOfLie: 0, sigmaOfSetUp: 0, firstMs: -1200, rateHz: RATE_HZ },
        },
      ],
    ]),
  }));

const LOW = [70, 72, 71, 73, 70, 72] as const;
const HIGH = [78, 80, 79, 81, 80, 79] as const;
const groups = { a: { name: "low", shots: shotsOf("low", LOW) }, b: { name: "high", shots: shotsOf("high", HIGH) } };
const asked = { measures: [LEAD], curves: [CURVE], axes: "turf" } as const;

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
const squares = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + (value - mean(values)) ** 2, 0);

describe("what is drawn of a comparison", () => {
  const compared = comparison({ ...groups, ...asked, seed: 1, streams: random });
  const drawn = drawnComparison(compared);

  test("the mark stands where the difference leaves scatter as the table of Student's t has it", () => {
    // t of 0.975 with 10 degrees of freedom: 2.228 (NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.2).
    const step = 2.228 * Math.sqrt(((squares(LOW) + squares(HIGH)) / 10) * (1 / 6 + 1 / 6));
    const [row] = drawn.rows;
    if (row === undefined) throw new RangeError("one measure was asked for");
    expect(measureMark(row).at).toBeCloseTo((mean(HIGH) - mean(LOW)) / step, 2);
    expect(measureMark(row)).toMatchObject({ mark: "beyond", slope: 0, hasBlock: true });
  });

  test("both means, their difference and the allowed band, on the grid about impact", () => {
    const [curve] = drawn.curves;
    expect(drawn.grid).toMatchObject({ firstMs: -700, stepMs: 2, countPoints: 501 });
    expect(curve?.meanA[350]).toBeCloseTo(mean(LOW), 9);
    expect(curve?.difference[350]).toBeCloseTo(mean(HIGH) - mean(LOW), 9);
    expect(curve?.stretches).toHaveLength(1);
    expect(curve?.allowedHigh[350]).toBeLessThan(mean(HIGH) - mean(LOW));
  });

  test("event lines at the means of all shots; those outside the window have none; only impact is one instant", () => {
    expect(drawn.events.map(({ event, ms, isEstimated }) => [event, ms, isEstimated])).toEqual([
      ["top", -340, true],
      ["delivery", -82.5, true],
      ["impact", 0, false],
    ]);
  });

  test("words come with every row, values in one unit", () => {
    const words = comparisonWords(compared, "she", "");
    expect(words.rows.get(LEAD)).toMatchObject({
      values: expect.stringMatching(/^\d+(\.\d)? to \d+(\.\d)? %$/),
      slope: "",
    });
    expect(words.rows.get(LEAD)?.difference).toMatch(/^\+8(\.\d)? points$/);
    expect(words.headline.text).toContain("beyond her scatter");
  });
});

test("a shot with its usual is drawn as B minus the mean of the others, in their band", () => {
  const [shot, ...others] = groups.a.shots;
  if (shot === undefined) throw new RangeError("shots were made");
  const drawn = drawnComparison(shotAgainstUsual(shot, { name: "low", shots: others.concat(shot) }, asked));
  const [curve] = drawn.curves;
  expect(curve?.meanA[100]).toBeCloseTo(mean(LOW.slice(1)), 9);
  expect(curve?.difference[100]).toBeCloseTo(70 - mean(LOW.slice(1)), 9);
  expect(curve?.allowedHigh[100]).toBeGreaterThan(0);
  expect(curve?.allowedHigh[100]).toBeCloseTo(-(curve?.allowedLow[100] ?? 0), 9);
});

test("two shots have a difference and neither band nor stretch", () => {
  const [a, b] = groups.a.shots;
  if (a === undefined || b === undefined) throw new RangeError("shots were made");
  const pair = shotAgainstShot(a, b, { ...asked, groups: [groups.a] });
  const [curve] = drawnComparison(pair).curves;
  expect(curve).toMatchObject({ allowedLow: [], allowedHigh: [], stretches: [] });
  expect(curve?.difference[0]).toBeCloseTo(2, 9);
  const words = comparisonWords(pair, "she", "low");
  expect(words.headline.text).toContain("Two shots cannot show a difference");
  expect(words.rows.get(LEAD)?.verdict).toBe("");
});
