import type { TextSource } from "./text-encoding.ts";
import { DELIMITERS, type Delimiter, fieldCount, fieldTexts } from "./text-fields.ts";
import type { Guess } from "./text-guess.ts";
import type { Line } from "./text-lines.ts";

const FIRST_LINE = 20;
const LAST_LINE = 500;
/** Lines and fields whose texts are looked at; enough to tell numbers from words. */
const LOOKED_AT_LINES = 60;
export const LOOKED_AT_FIELDS = 200;

const NUMBER_LIKE = /^[+-]?(?:\d[\d.,]*|[.,]\d+)(?:[eE][+-]?\d+)?$/;
const MISSING_LIKE = /^(?:|-|n\/?a|nan)$/i;

export const isNumberLike = (text: string): boolean => NUMBER_LIKE.test(text) && !text.endsWith(",");
export const isMissingLike = (text: string): boolean => MISSING_LIKE.test(text);

const SPOKEN: Readonly<Record<Delimiter, string>> = {
  "\t": "a tab",
  ";": "a semicolon",
  ",": "a comma",
  "|": "a vertical bar",
  " ": "blanks",
  "": "nothing: one column",
};
export const delimiterWords = (delimiter: Delimiter): string => SPOKEN[delimiter];

export const isBlankLine = ({ bytes }: TextSource, { from, end }: Line): boolean => {
  for (let i = from; i < end; i++) if (bytes[i] !== 0x20 && bytes[i] !== 0x09) return false;
  return true;
};

export interface DelimiterGuess {
  readonly delimiter: Guess<Delimiter>;
  /** Fields on most lines, a last empty one counted. */
  readonly fields: number;
}

/**
 * The mark that parts most of lines 20..500 into the same number of fields (> 1) and leaves numbers between; of equals the
 * first of tab ; , | blanks. Short files: their second half.
 */
export function delimiterGuess(source: TextSource, lines: readonly Line[], asked?: Delimiter): DelimiterGuess {
  const sample = (
    lines.length > 2 * FIRST_LINE ? lines.slice(FIRST_LINE, LAST_LINE) : lines.slice(Math.floor(lines.length / 2))
  ).filter((line) => !isBlankLine(source, line));
  if (asked !== undefined) {
    const { fields } = fieldsWith(source, sample, asked);
    return { delimiter: { value: asked, confidence: 1, reason: "said in the column mapping" }, fields };
  }
  let best = { delimiter: "" as Delimiter, fields: 1, share: 1, score: 0 };
  for (const delimiter of DELIMITERS) {
    const { fields, share } = fieldsWith(source, sample, delimiter);
    if (fields < 2 || share <= 0.5) continue;
    const score = share * numberShare(source, sample, delimiter, fields);
    if (score > best.score + 1e-9) best = { delimiter, fields, share, score };
  }
  const { delimiter, fields, share, score } = best;
  const reason =
    delimiter === ""
      ? "no mark parts most lines into the same number of fields"
      : `${SPOKEN[delimiter]} parts ${Math.round(share * 100)} % of the lines into ${fields} fields`;
  return { delimiter: { value: delimiter, confidence: delimiter === "" ? 0.8 : score, reason }, fields };
}

function fieldsWith(
  source: TextSource,
  lines: readonly Line[],
  delimiter: Delimiter,
): { fields: number; share: number } {
  const seen = new Map<number, number>();
  for (const line of lines) {
    const count = fieldCount(source.bytes, line, delimiter);
    seen.set(count, (seen.get(count) ?? 0) + 1);
  }
  let fields = 1;
  for (const [count, times] of seen) if (times > (seen.get(fields) ?? 0)) fields = count;
  return { fields, share: (seen.get(fields) ?? 0) / Math.max(1, lines.length) };
}

function numberShare(source: TextSource, lines: readonly Line[], delimiter: Delimiter, fields: number): number {
  let all = 0;
  let fit = 0;
  for (const line of lines.slice(0, LOOKED_AT_LINES)) {
    const texts = fieldTexts(source, line, delimiter, Math.min(fields, LOOKED_AT_FIELDS));
    all += texts.length;
    fit += texts.filter((text) => isNumberLike(text) || isMissingLike(text)).length;
  }
  return fit / Math.max(1, all);
}
