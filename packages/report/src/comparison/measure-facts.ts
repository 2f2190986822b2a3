import type { ComparedMeasure, DesignKind, Judgement, Notice, RowSide } from "@underfoot/compare";
import type { PlayerAxes } from "@underfoot/domain";
import type { Difference, Looks } from "@underfoot/statistics";
import type { PronounForms } from "../pronoun.ts";
import type { SentenceInput } from "../sentence.ts";
import { differenceText } from "../unit-text.ts";
import {
  countInput,
  differenceInput,
  estimateText,
  pInput,
  pText,
  resolutionOf,
  shotCounts,
  signedText,
} from "./estimate-text.ts";
import { type Direction, directionOf, titleInside } from "./measure-words.ts";

/** A judged measure as far as its rules look at it: a row of a comparison, or a cell of the board against the flat. */
export type JudgedRow = Pick<
  ComparedMeasure,
  | Exclude<keyof Judgement, "smallestP" | "seed">
  | "title"
  | "measure"
  | "unit"
  | "raw"
  | "slopeShare"
  | "sigmaShared"
  | "q"
  | "detectable"
  | "equivalence"
  | "visitDifference"
  | "withMishits"
  | "mishitsDecide"
> & { readonly a: JudgedSide; readonly b: JudgedSide };

type JudgedSide = Pick<RowSide, "n" | "mean" | "sigmaShared" | "drift">;

/** What was compared, as far as the rules of a measure look at it. */
interface JudgedSides {
  readonly a: { readonly name: string };
  readonly b: { readonly name: string };
  readonly axes: PlayerAxes | undefined;
  readonly design: { readonly kind: DesignKind | undefined; readonly isBetweenLies: boolean };
  readonly looks: Looks;
  readonly notices: readonly Notice[];
}

/** What the rules of one measure may look at. */
export interface MeasureFacts {
  readonly row: JudgedRow;
  readonly comparison: JudgedSides;
  readonly player: PronounForms;
}

/** Least shots a side for any word about a difference. */
export const LEAST_FOR_WORDS = 5;

/** Of what so many were looked at; a slot of the templates. */
export const LOOKED = "measure|measures|difference|differences";

/** The difference less the slope's share, where it has an interval. */
export function freedOf({ row }: MeasureFacts): Difference | undefined {
  return row.freed.kind === "withheld" ? undefined : row.freed;
}

/** Enough shots on both sides for words. */
export function hasWords(facts: MeasureFacts): boolean {
  const freed = freedOf(facts);
  return freed !== undefined && Math.min(...freed.n) >= LEAST_FOR_WORDS;
}

/** Between lies, with a share of gravity's in the measure: no difference may then be said without it. */
export function hasShare({ row, comparison }: MeasureFacts): boolean {
  return comparison.design.isBetweenLies && row.slopeShare !== 0;
}

/** What all shots of a side share is the least that the measure's own sigma can be: no digit is finer. */
export function sigmaOf({ a, b, sigmaShared }: JudgedRow): number {
  return Math.max(0, ...[a.sigmaShared, b.sigmaShared, sigmaShared].filter(Number.isFinite));
}

/** The slope's share to the digits of the difference: "+68 N". */
export function shareText({ row }: Pick<MeasureFacts, "row">): string {
  const resolution = row.freed.kind === "withheld" ? 0 : resolutionOf(row.freed, sigmaOf(row));
  return signedText(row.slopeShare, row.unit, resolution);
}

/** Kept shots with a value, "9" and "8". */
export function countsOf({ row }: MeasureFacts): { readonly nA: string; readonly nB: string } {
  const freed = row.freed.kind === "withheld" ? [row.a.n, row.b.n] : row.freed.n;
  const [nA = 0, nB = nA] = freed;
  return { nA: String(nA), nB: String(nB) };
}

export function directionIn(facts: MeasureFacts, difference: number): Direction {
  const { row } = facts;
  return directionOf(row, difference, row.a.mean < 0 || row.b.mean < 0);
}

/** Said in the interval's brackets between lies where gravity has no part of the number. */
function slopeNote(facts: MeasureFacts): string {
  const { comparison } = facts;
  if (!comparison.design.isBetweenLies) return "";
  if (comparison.notices.some(({ code }) => code === "lie-unknown")) return "slope share not known; ";
  return comparison.axes === "level" ? "level axes, no slope share; " : "no slope share in it; ";
}

/** " 9 shots could have shown 5 points."; nothing where the scatter is not known. */
export function couldText({ row }: MeasureFacts): string {
  if (!(row.detectable > 0) || row.freed.kind === "withheld") return "";
  const [nA = 0, nB = nA] = row.freed.n;
  return ` ${shotCounts(nA, nB)} could have shown ${differenceText(row.detectable, row.unit, row.detectable).text}.`;
}

/** How many verdicts one had to choose from: measures of one comparison, or differences where there are several. */
function lookedAt({ countMeasures, countPairs }: Looks): { readonly M: string; readonly [LOOKED]: string } {
  const M = String(countMeasures * countPairs);
  const noun = countPairs === 1 ? "measure" : "difference";
  return { M, [LOOKED]: M === "1" ? noun : `${noun}s` };
}

/** Slots of a difference with its interval, counts and p, as every sentence about a measure names them. */
export function differenceSlots(facts: MeasureFacts, difference: Difference): Readonly<Record<string, string>> {
  const { row, comparison } = facts;
  const { size, along } = estimateText(difference, row.unit, sigmaOf(row));
  return {
    A: comparison.a.name,
    B: comparison.b.name,
    d: size,
    interval: along,
    measure: titleInside(row.title),
    slopeNote: slopeNote(facts),
    ...countsOf(facts),
    p: pText(row.adjustedP, { isExact: row.pMethod === "exact", countArrangements: row.countArrangements }),
    ...lookedAt(comparison.looks),
  };
}

/** The numbers behind a sentence about a measure. */
export function differenceInputs({ row, comparison }: MeasureFacts, difference: Difference): readonly SentenceInput[] {
  const [nA = 0, nB = nA] = difference.n;
  const isShared = comparison.design.isBetweenLies && row.slopeShare !== 0;
  return [
    differenceInput(`${row.title}, difference`, difference, row.unit),
    ...(isShared && row.raw.kind !== "withheld" ? [differenceInput("with the slope's share", row.raw, row.unit)] : []),
    countInput(`shots of ${comparison.a.name}`, nA),
    countInput(`shots of ${comparison.b.name}`, nB),
    pInput("p of this measure alone", row.p),
    pInput("p after allowing for looks", row.adjustedP),
    countInput("looked at", comparison.looks.countMeasures * comparison.looks.countPairs),
  ];
}
