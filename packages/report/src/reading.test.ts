import type { Measure } from "@underfoot/mechanics";
import { describe, expect, test } from "vitest";
import { handMadeShot } from "./hand-made-shot.ts";
import { PRONOUNS, type Pronoun } from "./pronoun.ts";
import { readingFromShot, rulerReading } from "./reading.ts";
import type { Sentence } from "./sentence.ts";
import { sentenceInputText } from "./sentence-input-text.ts";
import { SENTENCE_RULES } from "./sentence-rules.ts";

type Options = Parameters<typeof handMadeShot>[0];
const she = { pronoun: "she" } as const;
const readingOf = (options: Options = {}, measures: readonly Measure[] = []) =>
  readingFromShot(handMadeShot(options), measures, she);
const rulerOf = (options: Options, timeS: number): string[] =>
  rulerReading(handMadeShot(options), timeS, she).map((sentence) => sentence.text);
const by = (sentences: readonly Sentence[], rule: string): string | undefined =>
  sentences.find((sentence) => sentence.rule === rule)?.text;
const measure = (id: string, value: number, sigma: number, over: Partial<Measure> = {}): Measure => ({
  id,
  value,
  unit: "ms",
  sigma,
  sigmaShared: 0,
  axes: undefined,
  isValid: true,
  ...over,
});

describe("headline", () => {
  test("peak order and motion through impact", () => {
    const { headline } = readingOf();
    expect(headline.text).toBe("Target first, toes second, up last, and still moving to the target through impact.");
    expect(headline.rule).toBe("headline");
    expect(headline.inputs.at(-1)).toMatchObject({ name: "speed to target at impact", unit: "m/s", sigma: 0.008 });
  });

  test.each([
    [10, 40, "Target first, then toes and up together"],
    [80, 10, "Target and toes together, up last"],
    [80, 40, "Target, toes and up together"],
  ])("gaps known to %s and %s ms: %s", (first, second, words) => {
    const measures = [measure("both.peakGap.targetToAhead", 100, first), measure("both.peakGap.aheadToUp", 50, second)];
    expect(readingOf({}, measures).headline.text).toContain(`${words}, and still moving`);
  });

  test("without a top only the motion is told, without both why there is nothing to tell", () => {
    expect(readingOf({ without: ["top"] }).headline.text).toBe("Still moving to the target through impact.");
    expect(readingOf({ without: ["top", "impact"] }).headline.text).toBe(
      "Peak order and motion through impact cannot be said: top and impact not found.",
    );
    expect(readingOf({ gapS: [3.4, 3.6] }).headline.text).toContain("cannot be said: the recording has a gap");
  });

  test("an impact known only to 60 ms: the motion is told where it holds over that uncertainty", () => {
    const shot = handMadeShot({ sources: { impact: "estimated" } });
    const events = shot.events.map((event) => (event.event === "impact" ? { ...event, sigmaMs: 60 } : event));
    expect(readingFromShot({ ...shot, events }, [], she).headline.text).toContain("through impact");
    const early = events.map((event) => (event.event === "impact" ? { ...event, timeS: 3.3 } : event));
    expect(readingFromShot({ ...shot, events: early }, [], she).headline.text).not.toContain("impact");
  });

  test("a body at rest is about still at impact", () => {
    const shot = handMadeShot();
    const still = new Float64Array(shot.sampleCount);
    const quiet = { ...shot, turf: { ...shot.turf, speedTargetMPerS: still } };
    expect(readingFromShot(quiet, [], she).headline.text).toContain("about still along the target line at impact");
  });
});

describe("travel", () => {
  test("nearer, and more after it", () => {
    const measures = [
      measure("both.travelTarget.at.impact", 28, 3, { unit: "mm", axes: "turf" }),
      measure("both.travelTarget.at.finish", 76, 5, { unit: "mm", axes: "turf" }),
    ];
    expect(by(readingOf({}, measures).sentences, "travel")).toBe(
      "She is 2.8 cm nearer the target at impact than at address, and moves 4.8 cm more after it.",
    );
  });

  test("within two sigmas nobody is nearer or farther", () => {
    expect(by(readingOf().sentences, "travel")).toBe(
      "At impact she is about where she stood at address (−1.0 cm ±0.8 along the target line), and moves 4.9 cm to the target after it.",
    );
  });

  test("farther, nothing after it, and about where impact is only estimated", () => {
    const measures = [measure("both.travelTarget.at.impact", -40, 3, { unit: "mm", axes: "turf" })];
    expect(by(readingOf({ sources: { impact: "estimated" } }, measures).sentences, "travel")).toBe(
      "She is about 4.0 cm farther from the target at impact than at address.",
    );
  });

  test("withheld measures are not replaced by the curve", () => {
    const invalid = measure("both.travelTarget.at.impact", NaN, NaN, { unit: "mm", axes: "turf", isValid: false });
    expect(by(readingOf({}, [invalid]).sentences, "travel")).toBeUndefined();
  });
});

describe("a falling push", () => {
  test("below the slope's share is slowing, not going back", () => {
    const { sentences } = readingOf();
    expect(by(sentences, "slowing")).toBe(
      "From +26 to +374 ms the push is below the slope’s share: slowing, not going back.",
    );
    expect(by(sentences, "going-back")).toBeUndefined();
  });

  test("on the flat and on level axes the slope is not mentioned", () => {
    const flat = by(readingOf({ pitchDeg: 0 }).sentences, "slowing");
    expect(flat).toBe("From +26 to +374 ms the push takes speed off: slowing, not going back.");
    const level = readingFromShot(handMadeShot(), [], { pronoun: "she", axes: "level" });
    expect(by(level.sentences, "slowing")).toMatch(/the push takes speed off: slowing, not going back\.$/);
  });

  test("going back is told from the speed", () => {
    expect(by(readingOf({ braking: 3 }).sentences, "going-back")).toBe(
      "From +204 to +498 ms she is going back, at up to 0.196 m/s.",
    );
  });

  test("times from an estimated impact say about", () => {
    expect(by(readingOf({ sources: { impact: "estimated" } }).sentences, "slowing")).toMatch(/^From about \+26/);
  });
});

describe("at the ruler", () => {
  test("push, the slope's share and hers add up", () => {
    expect(rulerOf({}, 3.25)).toEqual([
      "At the ruler, 250 ms before impact, the ground pushes her 155 N to the target. The slope’s share is 70 N; 85 N is hers.",
      "She is about still along the target line.",
    ]);
  });

  test("where they point apart each says where to", () => {
    expect(rulerOf({}, 2.7)[0]).toContain(
      "The slope’s share is 70 N to the target; 30 N away from the target is hers.",
    );
    expect(rulerOf({ pitchDeg: -5 }, 3.25)[0]).toBe(
      "At the ruler, 250 ms before impact, the ground pushes her 16 N to the target. The slope’s share is 70 N away from the target; 86 N to the target is hers.",
    );
  });

  test("moving and slowing is not going back", () => {
    expect(rulerOf({}, 3.6)[1]).toBe("She is moving to the target at 0.160 m/s: slowing, not going back.");
    expect(rulerOf({}, 3.4)[1]).toBe("She is moving to the target at 0.149 m/s and gaining.");
    expect(rulerOf({ braking: 3 }, 3.9)[1]).toBe("She is going back at 0.196 m/s.");
  });

  test("events and the zero are named", () => {
    expect(rulerOf({}, 3.42)[0]).toMatch(/^At the ruler, at delivery, 80 ms before impact,/);
    expect(rulerOf({}, 3.5)[0]).toMatch(/^At the ruler, at impact,/);
    expect(rulerOf({ sources: { impact: "estimated" } }, 3.6)[0]).toMatch(/^At the ruler, about 100 ms after impact,/);
    expect(rulerOf({ sources: { impact: "estimated" } }, 3.5)[0]).toMatch(/^At the ruler, about impact,/);
    expect(rulerOf({ without: ["impact"] }, 1.25)[0]).toMatch(/^At the ruler, 1.25 s into the recording,/);
  });

  test("a push within its uncertainty has no direction", () => {
    expect(rulerOf({ pitchDeg: 0 }, 1)[0]).toContain("hardly pushes her along the target line: 0 N ±3.");
  });

  test("in a gap it says so and what to do", () => {
    expect(rulerOf({ gapS: [3.3, 3.32] }, 3.31)).toEqual([
      "At the ruler, 190 ms before impact, there is no data: the recording has a gap here. Move the ruler beside it.",
    ]);
  });
});

describe("feet", () => {
  const share = { unit: "%" };
  test("load share and pressure in the lead foot", () => {
    const measures = [
      measure("lead.share.at.delivery", 83, 0.9, share),
      measure("lead.share.at.address", 60.2, 0.4, share),
      measure("lead.heelToe.at.delivery", 44, 2, share),
      measure("lead.innerOuter.at.delivery", 52, 3, share),
    ];
    const { sentences } = readingOf({}, measures);
    expect(by(sentences, "load-share")).toBe(
      "At delivery 83.0 % of the load is on her lead foot; at address it was 60.2 %.",
    );
    expect(by(sentences, "lead-pressure")).toBe(
      "At delivery the pressure under her lead foot is 44 % of the way from heel to toe and 52 % from the inner to the outer edge.",
    );
  });

  test("an estimated delivery says about", () => {
    const measures = [
      measure("lead.share.at.delivery", 83, 9, share),
      measure("lead.heelToe.at.delivery", 44, 2, share),
    ];
    const { sentences } = readingOf({ sources: { delivery: "estimated" } }, measures);
    expect(by(sentences, "load-share")).toBe("At delivery, about −80 ms, 83 % of the load is on her lead foot.");
    expect(by(sentences, "lead-pressure")).toMatch(/^At delivery, about −80 ms, the pressure .* from heel to toe\.$/);
  });
});

describe("what is missing", () => {
  test("each says why and what to do", () => {
    const { missing } = readingOf({ isTraced: false, without: ["top"], isLieKnown: false, closing: "open" });
    expect(missing.map((sentence) => sentence.rule)).toEqual([
      "feet-not-traced",
      "event-missing",
      "lie-missing",
      "open-motion",
    ]);
    expect(missing.map((sentence) => sentence.text)).toEqual([
      "Neither foot is traced, so heel to toe pressure is not given. Trace both feet on their plates.",
      "The top was not found, so the order of the peaks, downswing time and everything at the top are not given. Mark it at the ruler.",
      "Nobody gave the lie, so flat is assumed and what a slope does would be read as hers. Enter both angles of the inclinometer.",
      "No second quiet stance was found, so speed and travel are less certain (±0.008 m/s at impact). Ask for a second of stillness after the finish.",
    ]);
  });

  test("findings of the computation are told once, and notes are left to the list of findings", () => {
    const shot = handMadeShot({ without: ["top"] });
    const finding = (code: string, severity: "note" | "caution") =>
      ({ code, severity, sentence: `${code}.`, remedy: "Do this." }) as const;
    const findings = [
      finding("top-not-found", "note"),
      finding("zero-drift", "caution"),
      finding("gaps-bridged", "note"),
    ];
    const { missing } = readingFromShot({ ...shot, findings }, [], she);
    expect(missing.map((sentence) => sentence.text)).toEqual(["top-not-found. Do this.", "zero-drift. Do this."]);
  });

  test("one traced foot, one plate", () => {
    const shot = handMadeShot();
    const one = { ...shot, soles: { lead: undefined, trail: shot.soles.trail } };
    expect(by(readingFromShot(one, [], she).missing, "feet-not-traced")).toMatch(/^The lead foot is not traced/);
    const { missing } = readingOf({ isOnePlate: true });
    expect(by(missing, "one-plate")).toMatch(/^No plate carries one foot alone/);
  });

  test("a whole recording lacks nothing", () => {
    expect(readingOf().missing).toEqual([]);
  });
});

describe("cautions", () => {
  test("stand on every tilted lie and not on the flat", () => {
    for (const lie of [{ pitchDeg: 5 }, { pitchDeg: 0, rollDeg: -4 }]) {
      const { cautions } = readingOf(lie);
      expect(by(cautions, "sloped-lie")).toContain("keep within the plates’ rated load, stop at pain");
      expect(by(cautions, "no-diagnosis")).toContain("licensed clinician");
    }
    expect(readingOf({ pitchDeg: 0 }).cautions).toEqual([]);
  });

  test("required friction from the caution of the settings on (common practice, no source)", () => {
    const friction = (value: number) =>
      readingOf({ pitchDeg: 0 }, [measure("lead.friction.peak", value, 0.02, { unit: "1" })]).cautions;
    expect(friction(0.49)).toEqual([]);
    expect(by(friction(0.55), "friction")).toContain("a friction of 0.55 ±0.02 (caution from 0.50): check shoes");
    expect(by(friction(0.75), "friction")).toContain("(caution from 0.70): stop, and check shoes");
    expect(by(friction(0.55), "no-diagnosis")).toBeDefined();
  });
});

test.each(Object.keys(PRONOUNS) as Pronoun[])("%s: sentences agree with the pronoun", (pronoun) => {
  const shot = handMadeShot({ braking: 3 });
  const { sentences } = readingFromShot(shot, [], { pronoun });
  const { subject, is } = PRONOUNS[pronoun];
  expect(by(sentences, "going-back")).toContain(`${subject} ${is} going back`);
  expect(rulerReading(shot, 3.25, { pronoun })[0]?.text).toContain(`85 N is ${PRONOUNS[pronoun].own}.`);
});

test("without a pronoun the player is spoken of", () => {
  expect(rulerReading(handMadeShot(), 3.25)[0]?.text).toContain("pushes the player 155 N");
});

test("left-handed and right-handed players are told the same", () => {
  const text = (handed: "left" | "right"): string => JSON.stringify(readingOf({ handed }));
  expect(text("left")).toBe(text("right"));
});

test("every rule has a name of its own and says when it speaks", () => {
  const ids = SENTENCE_RULES.map((rule) => rule.id);
  expect(new Set(ids).size).toBe(ids.length);
  for (const rule of SENTENCE_RULES) expect(rule.condition.length, rule.id).toBeGreaterThan(20);
});

test("inputs are written with unit and uncertainty", () => {
  expect(sentenceInputText({ name: "speed", value: 0.1823, unit: "m/s", sigma: 0.008 })).toBe("speed 0.182 m/s ±0.008");
  expect(sentenceInputText({ name: "lead.friction.peak", value: 0.5, unit: "1", sigma: NaN })).toBe(
    "lead.friction.peak 0.50",
  );
});
