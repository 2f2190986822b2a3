import fc from "fast-check";
import { expect, test } from "vitest";
import { type HandMade, handMadeShot } from "./hand-made-shot.ts";
import { motionWords } from "./motion-words.ts";
import { type Reading, readingFromShot, rulerReading } from "./reading.ts";
import { SENTENCE_RULES } from "./sentence-rules.ts";
import { sheetModel } from "./sheet-model.ts";

/** Praise, blame, advice, and words that statistics and look forbid, whatever the numbers. */
const FORBIDDEN =
  /significant|proves|always|\bnever\b|no difference|the same as|unchanged|improv|better|worse|optimal|ideal|\bnorm\b|\bgood\b|\bbad\b|poor|excellent|great|nice|wrong|mistake|should|weight transfer|moves back|body back/i;

const shots = fc.record({
  pitchDeg: fc.constantFrom(-6, -0.3, 0, 0.3, 5),
  rollDeg: fc.constantFrom(-4, 0, 0.2, 6),
  braking: fc.double({ min: 0, max: 5, noNaN: true }),
  handed: fc.constantFrom("left" as const, "right" as const),
  isLieKnown: fc.boolean(),
  isTraced: fc.boolean(),
  closing: fc.constantFrom("open" as const, "closed" as const),
  without: fc.subarray(["start", "top", "delivery", "impact", "finish"] as const),
});
const timeS = fc.double({ min: 0, max: 5, noNaN: true });
const axesOf = fc.constantFrom("turf" as const, "level" as const);

function textsOf(reading: Reading): string[] {
  return [reading.headline, ...reading.sentences, ...reading.missing, ...reading.cautions].map(({ text }) => text);
}

const cheap = { numRuns: 25 } as const;

test("going back is said only where the speed is left of zero beyond its uncertainty", () => {
  fc.assert(
    fc.property(shots, timeS, axesOf, (options: HandMade, atS, axes) => {
      const shot = handMadeShot(options);
      const wordsAt = motionWords(shot, axes);
      const i = Math.round(atS * shot.rateHz);
      const { speedMPerS, speedSigmaMPerS } = wordsAt(i);
      const isBack = speedMPerS < -2 * speedSigmaMPerS;
      const ruler = rulerReading(shot, atS, { axes }).map(({ text }) => text.replaceAll("not going back", ""));
      expect(ruler.some((text) => text.includes("going back"))).toBe(isBack);
      const isEverBack = Array.from({ length: shot.sampleCount }, (_, k) => k).some((k) => {
        const words = wordsAt(k);
        return words.speedMPerS < -2 * words.speedSigmaMPerS;
      });
      const reading = textsOf(readingFromShot(shot, [], { axes })).map((text) => text.replaceAll("not going back", ""));
      if (reading.some((text) => text.includes("going back"))) expect(isEverBack).toBe(true);
    }),
    cheap,
  );
});

test("on a flat lie, on level axes and where no lie is known nobody speaks of a slope's share", () => {
  fc.assert(
    fc.property(shots, timeS, axesOf, (options: HandMade, atS, axes) => {
      const { pitchDeg = 5, isLieKnown = true } = options;
      const mayBeNamed = axes === "turf" && isLieKnown && Math.abs(pitchDeg) > 0.4;
      const shot = handMadeShot(options);
      const { headline, sentences } = readingFromShot(shot, [], { axes });
      const texts = [headline, ...sentences, ...rulerReading(shot, atS, { axes })].map(({ text }) => text);
      if (!mayBeNamed) for (const text of texts) expect(text).not.toMatch(/slope|hers|the player’s\./);
    }),
    cheap,
  );
});

test("no praise, no blame, no verdict, and a real minus sign, in sentences, notes and captions", () => {
  fc.assert(
    fc.property(shots, timeS, axesOf, (options: HandMade, atS, axes) => {
      const shot = handMadeShot(options);
      const model = sheetModel(shot, [], { axes });
      const texts = [
        ...textsOf(readingFromShot(shot, [], { axes, pronoun: "she" })),
        ...rulerReading(shot, atS, { axes }).map(({ text }) => text),
        model.caption,
        ...model.fall.notes,
        ...model.columns.flatMap(({ notes }) => notes.map(({ text }) => text)),
      ];
      for (const text of texts) {
        expect(text).not.toMatch(FORBIDDEN);
        expect(text).not.toMatch(/NaN|undefined|Infinity|(^|\s)-\d/);
      }
    }),
    cheap,
  );
});

test("every sentence carries the rule that made it", () => {
  const ids = new Set(SENTENCE_RULES.map(({ id }) => id));
  fc.assert(
    fc.property(shots, (options: HandMade) => {
      const { headline, sentences, missing, cautions } = readingFromShot(handMadeShot(options), []);
      for (const sentence of [headline, ...sentences, ...missing, ...cautions]) {
        expect(ids.has(sentence.rule)).toBe(true);
        expect(sentence.text).toMatch(/^[A-Z].*\.$/);
      }
    }),
    cheap,
  );
});
