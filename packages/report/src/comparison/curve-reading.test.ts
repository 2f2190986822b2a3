import { type ComparedShot, comparison, type ShotSeries } from "@underfoot/compare";
import { random } from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import { comparisonReading } from "./comparison-reading.ts";
import { handMadeShots } from "./hand-made-comparison.ts";

const PUSH = "both.target turf";
const LEAD = "lead.share.at.impact";

/** A push of 100 N with each shot's own offset, and a bump around `atMs`; a share of the slope's where the lie is tilted. */
function series(k: number, o: { readonly bumpN: number; readonly shareN: number }): ShotSeries {
  const count = 1201;
  const values = Float64Array.from({ length: count }, (_, i) => {
    const timeMs = -700 + i;
    const bump = Math.abs(timeMs + 90) < 60 ? (1 + Math.cos((Math.PI * (timeMs + 90)) / 60)) / 2 : 0;
    return 100 + Math.sin(k * 2.4) + o.bumpN * bump + o.shareN;
  });
  const slopeShare = o.shareN === 0 ? {} : { slopeShare: new Float64Array(count).fill(o.shareN) };
  return { values, ...slopeShare, sigma: 0.5, sigmaOfLie: 0, sigmaOfSetUp: 0, firstMs: -700, rateHz: 1000 };
}

function side(name: string, o: { bumpN: number; shareN: number; count?: number }): readonly ComparedShot[] {
  const { count = 7, shareN } = o;
  const level = Array.from({ length: count }, (_, k) => 70 + (k % 3));
  return handMadeShots(
    { name, values: { [LEAD]: level }, pitchDeg: shareN === 0 ? 0 : 5 },
    name === "high" ? 1 : 0,
  ).map((shot, k) => ({ ...shot, curves: new Map([[PUSH, series(k + (name === "high" ? 0.4 : 0), o)]]) }));
}

const readingOf = (a: readonly ComparedShot[], b: readonly ComparedShot[]) =>
  comparisonReading(
    comparison({
      ...{ a: { name: "low", shots: a }, b: { name: "high", shots: b } },
      ...{ measures: [LEAD], curves: [PUSH], axes: "turf", seed: 1, streams: random },
    }),
    { pronoun: "she" },
  );

describe("whole curves in words", () => {
  test("a stretch that leaves scatter: from when to when, by up to how much, and when", () => {
    const { curves, headline, looks } = readingOf(
      side("low", { bumpN: 0, shareN: 0 }),
      side("high", { bumpN: 40, shareN: 0 }),
    );
    expect(curves[0]?.text).toMatch(
      /^From −1\d\d to −\d\d ms push to target is higher in high, by up to 40 N at −90 ms \(3\d to 4\d N\)\.$/,
    );
    expect(headline.text).toBe("No single measure is beyond her scatter; over time push to target is.");
    expect(looks[0]?.text).toMatch(/^1 measure and 1 curve, 1 comparison, looked at once;/);
  });

  test("between lies the slope's share is named, and what is left is judged", () => {
    const up = readingOf(side("low", { bumpN: 0, shareN: 0 }), side("high", { bumpN: 40, shareN: 60 }));
    expect(up.curves[0]?.text).toContain("than the slope’s share of +60 N gives, by up to 40 N at −90 ms");
    const only = readingOf(side("low", { bumpN: 0, shareN: 0 }), side("high", { bumpN: 0, shareN: 60 }));
    expect(only.curves.map(({ text }) => text)).toEqual([
      "At no instant do the curves differ beyond scatter and the slope’s share.",
    ]);
  });

  test("four curves a side are too few for a word", () => {
    const few = readingOf(
      side("low", { bumpN: 0, shareN: 0, count: 4 }),
      side("high", { bumpN: 90, shareN: 0, count: 4 }),
    );
    expect(few.curves.map(({ text }) => text)).toEqual(["Curves of 4 shots: too few to tell. Words need 5 of each."]);
  });
});
