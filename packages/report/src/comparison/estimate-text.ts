import { input, type SentenceInput } from "../sentence.ts";
import { differenceText, unitText } from "../unit-text.ts";

/** A number with the interval that decides its digits. Unit of the measure. */
export interface Ranged {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** An estimate in words. */
export interface EstimateText {
  /** Without sign: "8 points". */
  readonly size: string;
  /** With its sign: "+8 points", "−3 N". */
  readonly signed: string;
  /** Signed limits: "−2 to 5 points". */
  readonly range: string;
  /** Limits counted in the direction of the value, so that "8 points less" goes with "4 to 12 points". */
  readonly along: string;
}

/** What decides the digits: half the interval, or the measure's own sigma where that is larger. */
export function resolutionOf({ low, high }: Pick<Ranged, "low" | "high">, sigma = 0): number {
  const half = Math.abs(high - low) / 2;
  return Math.max(Number.isFinite(half) ? half : 0, Number.isFinite(sigma) ? sigma : 0);
}

/** "4 to 12 points"; a negative limit keeps its minus sign. */
export function rangeText(low: number, high: number, unit: string, resolution: number): string {
  return `${differenceText(low, unit, resolution).number} to ${differenceText(high, unit, resolution).text}`;
}

/** "73 to 80 %": limits of a value, not of a difference. */
export function valueRangeText(low: number, high: number, unit: string, resolution: number): string {
  const [from, to] = [unitText(low, unit, resolution), unitText(high, unit, resolution)];
  return `${from.number} to ${to.text}`;
}

/** "+8 points", "−3 N", "0 N". */
export function signedText(value: number, unit: string, resolution: number): string {
  const { text, number } = differenceText(value, unit, resolution);
  return value > 0 && /[1-9]/.test(number) ? `+${text}` : text;
}

/**
 * A difference in words, rounded to the first digit of half its interval.
 * @param sigma  of the measure: digits finer than this are not written
 */
export function estimateText(estimate: Ranged, unit: string, sigma = 0): EstimateText {
  const { value, low, high } = estimate;
  const resolution = resolutionOf(estimate, sigma);
  return {
    size: differenceText(Math.abs(value), unit, resolution).text,
    signed: signedText(value, unit, resolution),
    range: rangeText(low, high, unit, resolution),
    along: value < 0 ? rangeText(-high, -low, unit, resolution) : rangeText(low, high, unit, resolution),
  };
}

/** "0.004", "below 0.001". A p is at least one labelling of all, so it is not 0. */
function pNumber(p: number): string {
  return p < 0.001 ? "below 0.001" : p.toFixed(3);
}

/** "0.004, exact", "below 0.001, of 10,000"; how it was counted is left out where it was not counted. */
export function pText(p: number, counted?: { readonly isExact: boolean; readonly countArrangements: number }): string {
  if (!Number.isFinite(p)) return "not known";
  if (counted === undefined) return pNumber(p);
  return `${pNumber(p)}, ${counted.isExact ? "exact" : `of ${thousands(counted.countArrangements)}`}`;
}

/** 10000 → "10,000". */
export function thousands(count: number): string {
  return String(count).replaceAll(/\B(?=(\d{3})+$)/g, ",");
}

/** "1 shot", "9 shots". */
export function countText(count: number, one: string, many = `${one}s`): string {
  return `${thousands(count)} ${count === 1 ? one : many}`;
}

/** "9 shots" where both sides have as many, else "9 and 8 shots". */
export function shotCounts(nA: number, nB: number): string {
  return nA === nB ? countText(nA, "shot") : `${nA} and ${countText(nB, "shot")}`;
}

/** "a", "a and b", "a, b and c". */
export function listText(items: readonly string[]): string {
  if (items.length < 2) return items.join("");
  return `${items.slice(0, -1).join(", ")} and ${items.at(-1)}`;
}

/** A difference as input of a sentence: of shares in points. */
export function differenceInput(name: string, { value, low, high }: Ranged, unit: string): SentenceInput {
  return { ...input(name, value, unit === "%" ? "points" : unit), low, high };
}

/** A size without interval, such as what so many shots could have shown: of shares in points. */
export function amountInput(name: string, value: number, unit: string): SentenceInput {
  return input(name, value, unit === "%" ? "points" : unit);
}

/** A count or a p as input of a sentence. */
export function countInput(name: string, count: number): SentenceInput {
  return input(name, count, "count");
}

export function pInput(name: string, p: number): SentenceInput {
  return input(name, p, "p");
}

/** What chance gives, to one decimal: "0.6", "3.0". */
export function expectedText(expected: number): string {
  return unitText(expected, "1", 0.1).text;
}
