import { random } from "@underfoot/domain";
import { catalogueEntry } from "@underfoot/mechanics";
import { describe, expect, test } from "vitest";
import { dayNumber } from "./day-number.ts";
import { type PlayerYearOptions, playerYear, type YearShot } from "./player-year.ts";

const entry = catalogueEntry("lead.share.at.impact");
if (entry === undefined) throw new RangeError("no such measure");

/** Seven shots around a mean, the same small scatter every day. */
const SCATTER = [-3, -2, -1, 0, 1, 2, 3] as const;
const dayOfMonth = (k: number): string => `2026-${String(k + 1).padStart(2, "0")}-15`;

function session(k: number, mean: number, part: Partial<YearShot> = {}): readonly YearShot[] {
  return SCATTER.map((off, j) => ({
    shotId: `${k}-${j}`,
    sessionId: `s${k}`,
    day: dayOfMonth(k),
    label: "kept",
    intent: "low",
    lieName: "flat",
    club: "sand wedge",
    value: mean + off,
    sigma: 0.2,
    ...part,
  }));
}

function year(means: readonly number[], part: Partial<PlayerYearOptions> = {}) {
  return playerYear({
    entry: entry as NonNullable<typeof entry>,
    shots: means.flatMap((mean, k) => session(k, mean)),
    sessions: means.map((_, k) => ({ id: `s${k}`, day: dayOfMonth(k), asked: [] })),
    possessive: "her",
    seed: 1,
    streams: (seed, label) => random(seed, label),
    ...part,
  });
}

describe("days", () => {
  test("are counted as the calendar does (checked against the engine's own Date)", () => {
    for (const day of [
      "1970-01-01",
      "2000-02-29",
      "2000-03-01",
      "2026-11-25",
      "2100-02-28",
      "2100-03-01",
      "1899-12-31",
    ])
      expect(dayNumber(day)).toBe(Date.parse(`${day}T00:00:00Z`) / 86_400_000);
    expect(() => dayNumber("yesterday")).toThrow(RangeError);
  });
});

describe("a player's year", () => {
  test("one session says nothing about change", () => {
    expect(year([80]).sentence).toBe("One session. Change needs at least two.");
    expect(year([80]).rows[0]?.sentence.text).toBe("One session. Change needs at least two.");
    expect(year([]).sentence).toContain("No kept shot");
  });

  test("two sessions are two days, no trend", () => {
    expect(year([80, 86]).rows[0]?.sentence.text).toMatch(
      /^6 points between these two days \(.*\); two days are not a trend\.$/,
    );
  });

  test("three and four sessions have points and no word about a trend", () => {
    for (const means of [
      [80, 82, 84],
      [80, 82, 84, 86],
    ])
      expect(year(means).rows[0]?.sentence.text).toContain("A trend needs five.");
  });

  test("a steady rise over six sessions is said with its slope; scatter without a trend is not", () => {
    const [row] = year([70, 72, 75, 76, 79, 82]).rows;
    expect(row?.sentence.text).toMatch(/^Over 6 sessions lead foot load share at impact rose by about 2.* a month/i);
    expect(row?.trend.kind).toBe("trend");
    expect(year([80, 79, 81, 80, 79.5, 80.5]).rows[0]?.sentence.text).toContain("No change beyond her scatter");
  });

  test("a trend within what all shots of a session share is not claimed", () => {
    const shots = [70, 72, 75, 76, 79, 82].flatMap((mean, k) => session(k, mean, { sigma: 6 }));
    expect(year([70, 72, 75, 76, 79, 82], { shots }).rows[0]?.sentence.text).toContain("No change beyond her scatter");
  });

  test("a change of club is marked, and few sessions beside it stand apart", () => {
    const shots = [80, 80, 86, 86, 86].flatMap((mean, k) => session(k, mean, k < 2 ? {} : { club: "lob wedge" }));
    const [row] = year([80, 80, 86, 86, 86], { shots }).rows;
    expect(row?.changes).toEqual([{ day: "2026-03-15", kind: "club", what: "club: lob wedge, before sand wedge" }]);
    expect(row?.sentence.text).toContain("stands apart");
    expect(row?.limits).toBeUndefined();
  });

  test("with eight sessions a step at the change is told from the slope", () => {
    const means = [80, 80.2, 79.9, 80.1, 88, 88.1, 87.9, 88.2];
    const shots = means.flatMap((mean, k) => session(k, mean, k < 4 ? {} : { club: "lob wedge" }));
    expect(year(means, { shots }).rows[0]?.sentence.text).toMatch(/rose by [78][.\d]* points when club changed/);
  });

  test("mishits and shots set aside are counted, not averaged", () => {
    const shots = [
      ...session(0, 80),
      ...session(0, 20, { label: "mishit" }),
      ...session(0, 500, { label: "set-aside" }),
      ...session(0, Number.NaN),
    ];
    const [point] = year([80], { shots }).rows[0]?.points ?? [];
    expect(point).toMatchObject({ countShots: 7, countMishits: 7, countLeftOut: 14, mean: 80 });
  });

  test("fewer than five shots have no band, five to seven a rough one", () => {
    const few = year([80], { shots: session(0, 80).slice(0, 4) }).rows[0]?.points[0];
    expect(few?.band).toBeUndefined();
    expect(year([80]).rows[0]?.points[0]?.band?.isRough).toBe(true);
  });

  test("the smallest change needs four sessions to speak of days", () => {
    expect(year([80, 81]).rows[0]?.reach.text).toContain("needs four sessions");
    expect(year([80, 81, 80, 82]).rows[0]?.reach.text).toContain("From one session of 7 shots to the next");
  });

  test("eight quiet sessions have limits, and a ninth far off is outside", () => {
    const quiet = year([80, 81, 79, 80, 81, 79, 80, 81]).rows[0];
    expect(quiet?.limits?.centre).toBeCloseTo(80.125, 6);
    const loud = year([80, 81, 79, 80, 81, 79, 80, 81, 80, 81, 80, 79, 120]).rows[0];
    expect(loud?.points.at(-1)?.isOutside).toBe(true);
  });

  test("conditions are rows of their own", () => {
    const shots = [...session(0, 80), ...session(1, 80), ...session(0, 60, { lieName: "upslope 5°" })];
    expect(year([80, 80], { shots }).rows.map(({ key }) => key)).toEqual(["low | flat", "low | upslope 5°"]);
  });
});
