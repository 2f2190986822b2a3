import type { ComparedMeasure, Comparison, Lozenge } from "@underfoot/compare";
import { PRONOUNS, type Pronoun, type PronounForms } from "../pronoun.ts";
import type { Sentence } from "../sentence.ts";
import { unitText } from "../unit-text.ts";
import { curveReading } from "./curve-reading.ts";
import { estimateText, resolutionOf } from "./estimate-text.ts";
import { freedOf, type MeasureFacts, shareText, sigmaOf } from "./measure-facts.ts";
import { HINT_RULES } from "./rules-of-hints.ts";
import { MEASURE_RULES } from "./rules-of-measures.ts";
import { DIFFERENT_RULES, NOTICE_RULES } from "./rules-of-sides.ts";
import { CHANCE_RULES, correctionsOf, HEADLINE_RULES, LOOKS_RULE } from "./rules-of-the-whole.ts";
import { neededSentence, sentenceOf, sentencesOf } from "./worded-rule.ts";

export interface ComparisonReadingOptions {
  readonly pronoun?: Pronoun;
}

/** One measure of a comparison in words. */
export interface MeasureReading {
  /** "both.target.peak turf" */
  readonly column: string;
  readonly measure: string;
  readonly title: string;
  /** Means of the sides, each to the digits of its own interval: "83 %". */
  readonly a: string;
  readonly b: string;
  /** Less the slope's share, B minus A: "−8 points". Empty where there is none. */
  readonly difference: string;
  /** "−12 to −4 points" */
  readonly interval: string;
  /** "+68 N"; empty where gravity has no share in the difference. */
  readonly slopeShare: string;
  readonly verdict: string;
  readonly lozenge: Lozenge;
  readonly sentence: Sentence;
  /** What is said beside it: a hint, the mishits, drift. */
  readonly hints: readonly Sentence[];
}

/** A comparison in words. */
export interface ComparisonReading {
  /** What differs between the sides besides what was asked; read before the headline. */
  readonly different: readonly Sentence[];
  /** What survives the correction for looks, and nothing beyond it. */
  readonly headline: Sentence;
  /** The sentences of the measures that leave the scatter, by themselves or after the correction, the largest first. */
  readonly lines: readonly Sentence[];
  /** How much was looked at and what chance alone gives. */
  readonly looks: readonly Sentence[];
  readonly notices: readonly Sentence[];
  readonly rows: readonly MeasureReading[];
  /** Of the whole curves; empty where none was asked for. */
  readonly curves: readonly Sentence[];
}

/** Words of a mark, as its legend has them. */
export function lozengeText(lozenge: Lozenge, countMeasures: number): string {
  const looks = countMeasures === 1 ? "1 look" : `${countMeasures} looks`;
  const words: Readonly<Record<Lozenge, string>> = {
    beyond: "beyond scatter",
    "beyond-alone": `beyond, but not after ${looks}`,
    within: "within scatter",
    "too-few": "too few to tell",
    none: "no verdict",
  };
  return words[lozenge];
}

function sideText(row: ComparedMeasure, side: "a" | "b"): string {
  const { mean, low, high, sigmaShared } = row[side];
  return unitText(mean, row.unit, resolutionOf({ low, high }, sigmaShared)).text;
}

function rowReading(row: ComparedMeasure, comparison: Comparison, player: PronounForms): MeasureReading {
  const facts: MeasureFacts = { row, comparison, player };
  const freed = freedOf(facts);
  const text = freed && estimateText(freed, row.unit, sigmaOf(row));
  return {
    column: row.column,
    measure: row.measure,
    title: row.title,
    a: sideText(row, "a"),
    b: sideText(row, "b"),
    difference: text?.signed ?? "",
    interval: text?.range ?? "",
    slopeShare: row.slopeShare === 0 ? "" : shareText(facts),
    verdict: lozengeText(row.lozenge, comparison.looks.countMeasures),
    lozenge: row.lozenge,
    sentence: neededSentence(MEASURE_RULES, facts),
    hints: sentencesOf(HINT_RULES, facts),
  };
}

const SAID_AS_LINES: readonly Lozenge[] = ["beyond", "beyond-alone"];
/** Said where gravity explains what is seen. */
const SLOPE_ONLY = "slope-only";

/** Condition against condition in words: by rules only, each sentence with its rule and inputs. */
export function comparisonReading(
  comparison: Comparison,
  { pronoun = "player" }: ComparisonReadingOptions = {},
): ComparisonReading {
  const player = PRONOUNS[pronoun];
  const rows = comparison.measures.map((row) => rowReading(row, comparison, player));
  const size = new Map(comparison.measures.map(({ column, steps }) => [column, Math.abs(steps)]));
  const rank = (lozenge: Lozenge): number => (lozenge === "beyond" ? 0 : lozenge === "beyond-alone" ? 1 : 2);
  const lines = rows
    .filter(({ lozenge, sentence }) => SAID_AS_LINES.includes(lozenge) || sentence.rule === SLOPE_ONLY)
    .toSorted(
      (one, other) =>
        rank(one.lozenge) - rank(other.lozenge) || (size.get(other.column) ?? 0) - (size.get(one.column) ?? 0),
    )
    .map(({ sentence }) => sentence);
  const countCurves = comparison.curves?.curves.length ?? 0;
  const said = (rules: typeof NOTICE_RULES): readonly Sentence[] =>
    comparison.notices.flatMap((notice) => sentencesOf(rules, { notice, comparison, player }));
  return {
    different: said(DIFFERENT_RULES),
    headline: neededSentence(HEADLINE_RULES, { comparison, player }),
    lines,
    looks: [
      sentenceOf(LOOKS_RULE, { looks: comparison.looks, corrected: correctionsOf(comparison.measures), countCurves }),
      ...sentencesOf(CHANCE_RULES, { comparison }),
    ],
    notices: said(NOTICE_RULES),
    rows,
    curves: comparison.curves === undefined ? [] : curveReading(comparison.curves, comparison),
  };
}
