import { isNumberLike } from "./text-delimiter.ts";
import type { Delimiter } from "./text-fields.ts";
import type { Guess } from "./text-guess.ts";
import type { NumberStyle } from "./text-number.ts";

const EXPONENT = /[eE][+-]?\d+$/;
const GROUPED_ONCE = /^[+-]?\d{1,3}[.,]\d{3}$/;

const countOf = (text: string, mark: string): number => text.split(mark).length - 1;

/** Decimal mark and thousands mark of the numbers among these fields. */
export function decimalGuess(fields: readonly string[]): Guess<NumberStyle> {
  const numbers = fields.filter(isNumberLike).map((text) => text.replace(EXPONENT, ""));
  const commas = numbers.filter((text) => text.includes(","));
  const dots = numbers.filter((text) => text.includes("."));
  const both = commas.filter((text) => text.includes("."));
  const guess = (decimal: "." | ",", thousands: "" | "." | ",", confidence: number, reason: string) => ({
    value: { decimal, thousands },
    confidence,
    reason,
  });
  const [example] = both;
  if (example !== undefined) {
    const isCommaLast = example.lastIndexOf(",") > example.lastIndexOf(".");
    return guess(isCommaLast ? "," : ".", isCommaLast ? "." : ",", 0.95, `numbers are written as in ${example}`);
  }
  const manyCommas = commas.find((text) => countOf(text, ",") > 1);
  if (manyCommas !== undefined) return guess(".", ",", 0.9, `${manyCommas} has several commas`);
  const manyDots = dots.find((text) => countOf(text, ".") > 1);
  if (manyDots !== undefined) return guess(",", ".", 0.9, `${manyDots} has several points`);
  if (commas.length === 0) return guess(".", "", 0.99, dots.length > 0 ? "numbers have points only" : "all are whole");
  const isGrouped = commas.every((text) => GROUPED_ONCE.test(text));
  if (dots.length > 0) {
    return isGrouped
      ? guess(".", ",", 0.8, `some numbers have a point, some a comma before three digits, as ${commas[0]}`)
      : guess(".", "", 0.5, "some numbers have a point and some a comma");
  }
  return guess(
    ",",
    "",
    isGrouped ? 0.5 : 0.95,
    isGrouped
      ? `every comma has three digits behind it, as ${commas[0]}: it may part thousands`
      : "numbers have commas only",
  );
}

/**
 * Whether commas may be both: rows of whole numbers parted by commas, an even number of them, every second one without sign,
 * and no header with as many names.
 */
export function isCommaAmbiguous(
  rows: readonly (readonly string[])[],
  delimiter: Delimiter,
  nameCount: number,
): boolean {
  const fields = rows[0]?.length ?? 0;
  if (delimiter !== "," || fields % 2 !== 0 || nameCount === fields || rows.length === 0) return false;
  return rows.every(
    (row) => row.length === fields && row.every((text, k) => (k % 2 === 0 ? /^[+-]?\d+$/ : /^\d+$/).test(text)),
  );
}
