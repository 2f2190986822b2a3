import type { PlayerAxes } from "@underfoot/domain";
import type { Measure, Shot } from "@underfoot/mechanics";
import { PRONOUNS, type Pronoun } from "./pronoun.ts";
import type { Sentence, SentenceFacts, SentencePlace } from "./sentence.ts";
import { SENTENCE_RULES } from "./sentence-rules.ts";
import { timeZero } from "./shot-time.ts";

/** One shot in words. */
export interface Reading {
  /** Peak order and motion through impact, or why they cannot be said. */
  readonly headline: Sentence;
  readonly sentences: readonly Sentence[];
  /** What is missing, why, and what to do. */
  readonly missing: readonly Sentence[];
  readonly cautions: readonly Sentence[];
}

export interface ReadingOptions {
  readonly pronoun?: Pronoun;
  readonly axes?: PlayerAxes;
}

/** The sentences of one shot, each with its rule and inputs. Axes default to turf, the pronoun to "the player". */
export function readingFromShot(shot: Shot, measures: readonly Measure[], options: ReadingOptions = {}): Reading {
  const facts = sentenceFacts(shot, measures, options, undefined);
  const [headline] = said(facts, "headline");
  if (headline === undefined) throw new RangeError("the headline's rule must always speak");
  return {
    headline,
    sentences: said(facts, "reading"),
    missing: said(facts, "missing"),
    cautions: said(facts, "caution"),
  };
}

/**
 * What the ground does to the player at one instant: push, the slope's share and the player's, and the motion.
 * @param timeS  seconds from the first sample
 */
export function rulerReading(shot: Shot, timeS: number, options: ReadingOptions = {}): readonly Sentence[] {
  return said(sentenceFacts(shot, [], options, timeS), "ruler");
}

function sentenceFacts(
  shot: Shot,
  measures: readonly Measure[],
  { pronoun = "player", axes = "turf" }: ReadingOptions,
  rulerS: number | undefined,
): SentenceFacts {
  return { shot, measures, axes, player: PRONOUNS[pronoun], zero: timeZero(shot), rulerS };
}

function said(facts: SentenceFacts, place: SentencePlace): readonly Sentence[] {
  return SENTENCE_RULES.filter((rule) => rule.place === place).flatMap(({ id, condition, made }) =>
    made(facts).map(({ text, inputs }) => ({ rule: id, condition, text, inputs })),
  );
}
