import type { PlayerAxes } from "@underfoot/domain";
import type { Measure, Shot } from "@underfoot/mechanics";
import type { PronounForms } from "./pronoun.ts";
import type { TimeZero } from "./shot-time.ts";

/** A number that a sentence was made from. */
export interface SentenceInput {
  readonly name: string;
  /** NaN where it is not known. */
  readonly value: number;
  readonly unit: string;
  /** One sigma, same unit; NaN where it is not known. */
  readonly sigma: number;
  /** Limits of its interval, where it has one. */
  readonly low?: number;
  readonly high?: number;
}

/** A sentence with the rule that made it, so that pointing at it can show both rule and inputs. */
export interface Sentence {
  readonly rule: string;
  /** The rule's condition in words. */
  readonly condition: string;
  readonly text: string;
  readonly inputs: readonly SentenceInput[];
}

/** What rules may look at. */
export interface SentenceFacts {
  readonly shot: Shot;
  readonly measures: readonly Measure[];
  readonly axes: PlayerAxes;
  readonly player: PronounForms;
  readonly zero: TimeZero;
  /** Time of the ruler, s from the first sample; undefined for sentences on the whole shot. */
  readonly rulerS: number | undefined;
}

/** Where a sentence stands. */
export type SentencePlace = "headline" | "reading" | "ruler" | "missing" | "caution";

/** One rule: its name, when it speaks, and what it says. Several sentences where it speaks of several things. */
export interface SentenceRule {
  readonly id: string;
  readonly place: SentencePlace;
  /** When the sentence may be said, in words. */
  readonly condition: string;
  readonly made: (facts: SentenceFacts) => readonly Pick<Sentence, "text" | "inputs">[];
}

/** Nothing to say. */
export const SILENT: readonly Pick<Sentence, "text" | "inputs">[] = [];

export function input(name: string, value: number, unit: string, sigma: number = Number.NaN): SentenceInput {
  return { name, value, unit, sigma };
}
