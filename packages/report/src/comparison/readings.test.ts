import {
  boardOf,
  type ComparedShot,
  comparison,
  outcomeOf,
  shotAgainstShot,
  shotAgainstUsual,
  studyOf,
  usualOf,
} from "@underfoot/compare";
import { random } from "@underfoot/domain";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { boardReading } from "./board-reading.ts";
import { comparisonReading } from "./comparison-reading.ts";
import { handMadeShots } from "./hand-made-comparison.ts";
import { outcomeReading } from "./outcome-reading.ts";
import { SHOT_USUAL_RULES } from "./rules-of-single-shots.ts";
import { bandReading, pairReading, usualReading } from "./single-shot-readings.ts";
import { studyReading } from "./study-reading.ts";
import { sentenceOf } from "./worded-rule.ts";

const LEAD = "lead.share.at.impact";
const PUSH = "both.target.peak turf";
const she = { pronoun: "she" } as const;
const drawn = { seed: 1, streams: random } as const;
const WHOLE = /^[A-Z0-9+−].*\.$/;
const NOT_WORDS = /NaN|undefined|Infinity|[{}]|significan|\balways\b|\bnever\b/;
const SIX = [70, 72, 71, 73, 70, 72];

describe("one shot against the usual", () => {
  const shots = handMadeShots({ name: "low", values: { [LEAD]: [...SIX, 90], [PUSH]: [...SIX, 71] } });
  const group = { name: "low", shots };
  const last = shots[6] as ComparedShot;

  test("how many are outside, and how many chance gives; the one that is outside, by how much", () => {
    const { headline, lines, rows } = usualReading(
      shotAgainstUsual(last, group, { measures: [LEAD, PUSH], axes: "turf" }),
    );
    expect(headline.text).toBe("1 of 2 measures outside the usual band; about 0.1 would be by chance.");
    // Mean 71.33, sd 1.21, t of 5 degrees 2.571 (NIST handbook, table 1.3.6.7.2): 71.33 ± 3.36, so 90 lies 15.3 above.
    expect(lines.map(({ text }) => text)).toEqual([
      "90 % lead foot load share at impact: 15 points above the usual band. About 1 shot in 20 falls outside by chance.",
    ]);
    expect(rows[1]?.sentence.text).toBe("71 N peak target force: usual for this player (68 to 75 N).");
  });

  test("an excess that rounds to nothing is at the edge, on either side and beside a slope's share", () => {
    const { measures } = shotAgainstUsual(last, group, { measures: [LEAD], axes: "turf" });
    const [row] = measures;
    if (row?.band.kind !== "unusual") throw new RangeError("90 % is outside the band");
    const textOf = (excess: number, more: object = {}): string => {
      const found = { ...row, ...more, band: { ...row.band, excess } };
      return sentenceOf(SHOT_USUAL_RULES[1] as (typeof SHOT_USUAL_RULES)[1], { row: found, countShots: 6 }).text;
    };
    expect(textOf(0.04)).toBe(
      "90 % lead foot load share at impact: at the edge of the usual band (68 to 75 %). About 1 shot in 20 falls outside by chance.",
    );
    expect(textOf(0.04, { slopeShare: 12 })).toContain("the rest lies at the edge of the usual band (68 to 75 %).");
    expect(textOf(3)).toContain("3 points above the usual band.");
  });

  test("the band itself, and how rough it is from six shots", () => {
    const usual = usualOf({ name: "low", shots: shots.slice(0, 6) }, { measures: [LEAD], axes: "turf" });
    expect(bandReading(usual).rows[0]?.sentences.map(({ text }) => text)).toEqual([
      "Usual: 71 %, most shots between 68 and 75 % (6 shots).",
      "With 6 shots the scatter itself is uncertain: between 0.8 points and 3.0 points.",
    ]);
    const few = usualOf({ name: "low", shots: shots.slice(0, 1) }, { measures: [LEAD], axes: "turf" });
    expect(bandReading(few).rows[0]?.sentences.map(({ text }) => text)).toEqual([
      "1 shot so far; the usual band needs 5.",
    ]);
  });
});

describe("two single shots", () => {
  const low = { name: "low", shots: handMadeShots({ name: "low", values: { [LEAD]: SIX } }) };
  const [one, other] = [low.shots[0] as ComparedShot, low.shots[3] as ComparedShot];

  test("cannot show a difference, whatever they differ by", () => {
    const pair = shotAgainstShot(one, other, { measures: [LEAD], axes: "turf", groups: [low] });
    const { headline, rows } = pairReading(pair, { ...she, condition: "low runner" });
    // 2.571 × 1.21 × √2 = 4.40.
    expect(headline.text).toBe(
      "Two shots cannot show a difference. Hers vary by 4 points in lead foot load share at impact.",
    );
    expect(rows[0]?.sentence.text).toBe(
      "3 points apart, within what two low runner shots usually differ by (4 points); one shot each.",
    );
  });

  test("property: no verdict, and on two lies never without the slope's share", () => {
    fc.assert(
      fc.property(fc.integer({ min: -40, max: 40 }), fc.constantFrom(0, 5), (apart, pitchDeg) => {
        const share = pitchDeg === 0 ? {} : { slopeShare: 60 };
        const [far] = handMadeShots({ name: "high", values: { [PUSH]: [71 + apart] }, pitchDeg, ...share });
        const near = handMadeShots({ name: "low", values: { [PUSH]: SIX } });
        const pair = shotAgainstShot(near[0] as ComparedShot, far as ComparedShot, {
          ...{ measures: [PUSH], axes: "turf" },
          groups: [{ name: "low", shots: near }],
        });
        const { text, rule } = pairReading(pair).rows[0]?.sentence ?? { text: "", rule: "" };
        expect(rule).toMatch(/^pair-/);
        expect(text).toMatch(WHOLE);
        expect(text).not.toMatch(/scatter|beyond|NaN/);
        if (pitchDeg !== 0) expect(text).toContain("the slope alone gives +60 N");
      }),
      { numRuns: 30, endOnFailure: true },
    );
  });
});

describe("the board", () => {
  const shots = [
    ...handMadeShots({ name: "low", values: { [PUSH]: SIX } }).map((shot) => ({ ...shot, lieName: "flat" })),
    ...handMadeShots(
      { name: "low", values: { [PUSH]: SIX.map((value) => value + 80) }, pitchDeg: 5, slopeShare: 60 },
      1,
    ).map((shot) => ({ ...shot, lieName: "upslope", shotId: `up-${shot.shotId}` })),
    ...handMadeShots({ name: "high", values: { [PUSH]: SIX.slice(0, 3) } }).map((shot) => ({
      ...shot,
      lieName: "flat",
    })),
  ];
  const { headline, cells, looks } = boardReading(boardOf({ shots, measure: PUSH, axes: "turf", ...drawn }), she);

  test("says on which lie a shot differs beyond scatter and the slope's share", () => {
    expect(headline.text).toBe(
      "1 of 1 difference from the flat in peak target force is beyond her scatter: low on upslope (+20 N beside the slope’s share of +60 N).",
    );
    expect(looks[0]?.text).toContain("levels corrected by Holm’s rule.");
  });

  test("each cell has a sentence: against the flat, where the next shot falls, or why there is none", () => {
    const of = (intent: string, lie: string) => cells.find((cell) => cell.intent === intent && cell.lie === lie);
    expect(of("low", "upslope")?.sentence.text).toMatch(
      /^Low on upslope: 80 N more peak target force than low on flat; the slope alone gives \+60 N; she adds \+20 N/,
    );
    expect(of("low", "flat")?.sentence.rule).toBe("band");
    expect(of("high", "flat")?.sentence.text).toBe("High on flat: 3 shots, too few to tell. Words need 5.");
    expect(of("high", "upslope")?.sentence.text).toBe("High on upslope: not hit yet.");
  });
});

describe("results within one player", () => {
  const values = Array.from({ length: 12 }, (_, k) => 60 + k);
  const shots = handMadeShots({ name: "low", values: { [LEAD]: values } });
  const withCarry = (sign: number) => shots.map((shot, k) => ({ ...shot, result: { carryM: 20 + sign * k } }));
  const readingOf = (of: readonly ComparedShot[]) =>
    outcomeReading(outcomeOf({ group: { name: "low", shots: of }, measures: [LEAD], outcome: "carry", ...drawn }));

  test("what went with what, and that it is no cause", () => {
    expect(readingOf(withCarry(1)).rows[0]?.sentence.text).toMatch(
      /^In these 12 shots, more lead foot load share at impact went with longer carry \(rank correlation .*\)\. That does not show that one causes the other\.$/,
    );
    expect(readingOf(withCarry(-1)).rows[0]?.sentence.text).toContain(
      "less lead foot load share at impact went with longer",
    );
  });

  test("below ten shots no word on a link", () => {
    const { headline, rows } = readingOf(withCarry(1).slice(0, 9));
    expect(headline.text).toBe("Too few shots for words: 9 shots with a known result, and words need 10.");
    expect(rows[0]?.sentence.rule).toBe("assoc-few");
  });
});

describe("several players", () => {
  const shotsOf = (count: number, effect: number, offset: number): ComparedShot[] =>
    Array.from({ length: count }, (_, p) => p).flatMap((p) =>
      handMadeShots(
        {
          name: `${effect}`,
          values: { [LEAD]: SIX.map((value, k) => value + p + effect + (effect === 0 ? (k * p) % 2 : p % 3)) },
        },
        offset,
      ).map((shot) => ({ ...shot, player: `P${p}`, sessionId: `s${p}`, shotId: `${p}-${shot.shotId}` })),
    );
  const readingOf = (count: number, effect: number) =>
    studyReading(
      studyOf({
        ...{ a: { name: "low", shots: shotsOf(count, 0, 0) }, b: { name: "high", shots: shotsOf(count, effect, 1) } },
        ...{ measures: [LEAD], axes: "turf", ...drawn },
      }),
    );

  test("seven players: an estimate with its interval, and how many went that way", () => {
    const { headline, rows } = readingOf(7, 9);
    expect(headline.text).toBe("Over 7 players 1 of 1 measure differs between low and high beyond scatter.");
    expect(rows[0]?.sentence.text).toMatch(
      /^Over 7 players: high 9.* points more lead foot load share at impact than low \(.*; p .*\); 7 of 7 in that direction\.$/,
    );
  });

  /** Shots of B stand upslope, where gravity gives 60 N, or where nobody gave the lie. */
  const slopeReading = (o: { effect: number; share?: number; axes?: "turf" | "level"; isKnown?: boolean }) => {
    const { effect, share, axes = "turf", isKnown = true } = o;
    const column = `both.target.peak ${axes}`;
    const of = (name: string, more: number, offset: number, onSlope: boolean): ComparedShot[] =>
      Array.from({ length: 7 }, (_, p) =>
        handMadeShots(
          {
            name,
            values: { [column]: SIX.map((value, k) => value + p + more + (onSlope ? p % 3 : (k * p) % 2)) },
            ...(onSlope ? { pitchDeg: 5, ...(share === undefined ? {} : { slopeShare: share }) } : {}),
          },
          offset,
        ).map(({ pitchDeg, rollDeg, ...shot }) => ({
          ...{ ...shot, player: `P${p}`, sessionId: `s${p}`, shotId: `${name}-${p}-${shot.shotId}` },
          ...(onSlope && !isKnown ? { lieName: "upslope" } : { pitchDeg: pitchDeg ?? 0, rollDeg: rollDeg ?? 0 }),
        })),
      ).flat();
    return studyReading(
      studyOf({
        a: { name: "flat", shots: of("flat", 0, 0, false) },
        b: { name: "upslope", shots: of("up", effect + (share ?? 0), 1, true) },
        ...{ measures: [column], axes, ...drawn },
      }),
    );
  };

  test("between lies the slope's share is a number, and the three add up", () => {
    const [row] = slopeReading({ effect: 20, share: 60 }).rows;
    const text = row?.sentence.text ?? "";
    expect(text).toMatch(
      /^Over 7 players: upslope [\d.]+ N more peak target force than flat; the slope alone gives \+60(\.0)? N; the players add \+20?[\d.]* N \(.* N; p .*\); 7 of 7 add in that direction\.$/,
    );
    const [raw = 0, share = 0, add = 0] = [...text.matchAll(/([\d.]+) N(?= more|; the players| \()/g)].map(([, n]) =>
      Number(n),
    );
    expect(raw).toBeCloseTo(share + add, 10);
    expect(row).toMatchObject({ slopeShare: expect.stringMatching(/^\+60/), raw: expect.stringMatching(/^\+\d/) });
    // The players' own part may go against the slope's.
    expect(slopeReading({ effect: -20, share: 60 }).rows[0]?.sentence.text).toMatch(
      /upslope [34][\d.]* N more .*; the slope alone gives \+60.* N; the players add −\d.* N .*; 7 of 7 add in that direction\.$/,
    );
  });

  test("between lies without a word beyond scatter the share is still named; without a share, why there is none", () => {
    expect(slopeReading({ effect: -0.6, share: 60 }).rows[0]?.sentence.text).toMatch(
      /^Over 7 players, less the slope’s share of \+60.* N, no change beyond scatter in peak target force/,
    );
    const level = slopeReading({ effect: 20, axes: "level" });
    expect(level.rows[0]).toMatchObject({ slopeShare: "", raw: "" });
    expect(level.rows[0]?.sentence.text).toContain("level axes, no slope share; p ");
    expect(slopeReading({ effect: 20 }).rows[0]?.sentence.text).toContain("; no slope share in it; p ");
    const unknown = slopeReading({ effect: 20, isKnown: false });
    expect(unknown.rows[0]?.sentence.text).toContain("; slope share not known; p ");
    expect(unknown.notices.map(({ text }) => text)).toContain(
      "The lie of 42 shots is not known, and with it the slope’s share.",
    );
  });

  test("a fit at the end of the correlation is no word that the players are alike", () => {
    // Invented: who begins higher reacts less, in exact proportion, with scatter of shots alone beside it.
    const of = (isB: boolean) =>
      Array.from({ length: 7 }, (_, p) =>
        handMadeShots(
          {
            name: isB ? "high" : "low",
            values: { [LEAD]: SIX.map((value) => value + 3 * p + (isB ? 12 - 2 * p : 0)) },
          },
          isB ? 1 : 0,
        ).map((shot) => ({ ...shot, player: `P${p}`, sessionId: `s${p}`, shotId: `${p}-${shot.shotId}` })),
      ).flat();
    const study = studyOf({
      ...{ a: { name: "low", shots: of(false) }, b: { name: "high", shots: of(true) } },
      ...{ measures: [LEAD], axes: "turf", ...drawn },
    });
    const [row] = study.measures;
    expect(row?.comparison.kind === "players" && row.comparison.scatter.correlation).toBeCloseTo(-1, 6);
    expect(studyReading(study).rows[0]?.findings.map(({ text }) => text)).toEqual([
      "With so few players, how they differ in level and in how they react to high cannot be told apart (lead foot load share at impact): in the model the one follows the other exactly.",
    ]);
  });

  test("four players: nothing is said of players at large", () => {
    const { headline, rows } = readingOf(4, 9);
    expect(headline.text).toBe(
      "4 players: each player’s own comparison, and no word on players at large. Words need 6.",
    );
    expect(rows[0]?.sentence.rule).toBe("players-few");
  });
});

// Student (1908), "The probable error of a mean", Biometrika 6: hours of sleep gained with two drugs, ten patients; given here in tenths
// of an hour. R's t.test(extra ~ group, data = sleep) prints 95 % -3.3654832 to 0.2054832 for drug 1 less drug 2 (from memory of R's manual).
test("against Student's sleep data as R compares them", () => {
  const [first, second] = [
    [7, -16, -2, -12, -1, 34, 37, 8, 0, 20],
    [19, 8, 11, 1, -1, 44, 55, 16, 46, 34],
  ];
  const a = { name: "first", shots: handMadeShots({ name: "first", values: { [PUSH]: first ?? [] } }) };
  const b = { name: "second", shots: handMadeShots({ name: "second", values: { [PUSH]: second ?? [] } }, 1) };
  const { rows } = comparisonReading(comparison({ a, b, measures: [PUSH], axes: "turf", ...drawn }));
  const [input] = rows[0]?.sentence.inputs ?? [];
  expect(input?.value).toBeCloseTo(15.8, 10);
  expect(input?.low).toBeCloseTo(-2.054832, 5);
  expect(input?.high).toBeCloseTo(33.654832, 5);
  // Half of the interval is 17.9: tens.
  expect(rows[0]?.sentence.text).toMatch(
    /^No change beyond scatter in peak target force \(0 to 30 N; 10 and 10 shots\)\./,
  );
  expect(rows[0]?.sentence.text).not.toMatch(NOT_WORDS);
});
