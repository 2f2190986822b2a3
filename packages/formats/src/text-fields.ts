import { decodedText, type TextSource } from "./text-encoding.ts";
import type { Line } from "./text-lines.ts";

/** Between the fields of a line; a blank stands for runs of blanks and tabs, empty for one column. */
export type Delimiter = "\t" | ";" | "," | "|" | " " | "";

export const DELIMITERS = ["\t", ";", ",", "|", " "] as const;

const TAB = 0x09;
const BLANK = 0x20;
const QUOTE = 0x22;

/**
 * Finds the fields of one line.
 *
 * @param bounds  receives the begin and end of each field, blanks around it and quotes left out, as far as there is room
 * @returns       the number of fields, also of those that found no room
 * @see RFC 4180: a field that begins with a quote ends with the next single quote; "" inside stands for one quote.
 *      A quote that is never closed on its line is an ordinary character.
 */
export function fieldBounds(bytes: Uint8Array, { from, end }: Line, delimiter: Delimiter, bounds: Int32Array): number {
  const isRun = delimiter === " ";
  const mark = delimiter === "" ? -1 : delimiter.charCodeAt(0);
  let count = 0;
  let at = from;
  for (;;) {
    at = afterBlanks(bytes, at, end, mark);
    if (isRun && at >= end) return count;
    const quote = at < end && bytes[at] === QUOTE ? closingQuote(bytes, at + 1, end) : -1;
    const begin = quote < 0 ? at : at + 1;
    at = nextMark(bytes, quote < 0 ? at : quote + 1, end, mark);
    if (2 * count + 1 < bounds.length) {
      bounds[2 * count] = begin;
      bounds[2 * count + 1] = quote < 0 ? trimmedEnd(bytes, begin, at) : quote;
    }
    count++;
    if (at >= end) return count;
    at++;
  }
}

function afterBlanks(bytes: Uint8Array, from: number, end: number, mark: number): number {
  let at = from;
  while (at < end && (bytes[at] === BLANK || (bytes[at] === TAB && mark !== TAB))) at++;
  return at;
}

function nextMark(bytes: Uint8Array, from: number, end: number, mark: number): number {
  let at = from;
  if (mark === BLANK) while (at < end && bytes[at] !== BLANK && bytes[at] !== TAB) at++;
  else while (at < end && bytes[at] !== mark) at++;
  return at;
}

function trimmedEnd(bytes: Uint8Array, begin: number, end: number): number {
  let stop = end;
  while (stop > begin && (bytes[stop - 1] === BLANK || bytes[stop - 1] === TAB)) stop--;
  return stop;
}

function closingQuote(bytes: Uint8Array, from: number, end: number): number {
  for (let i = from; i < end; i++) {
    if (bytes[i] !== QUOTE) continue;
    if (i + 1 >= end || bytes[i + 1] !== QUOTE) return i;
    i++;
  }
  return -1;
}

/** The fields of one line as texts, at most `most`. */
export function fieldTexts(source: TextSource, line: Line, delimiter: Delimiter, most: number): string[] {
  const bounds = new Int32Array(2 * most);
  const count = Math.min(most, fieldBounds(source.bytes, line, delimiter, bounds));
  return Array.from({ length: count }, (_, k) => {
    const begin = bounds[2 * k] ?? 0;
    const text = decodedText(source, begin, bounds[2 * k + 1] ?? 0);
    return source.bytes[begin - 1] === QUOTE ? text.replaceAll('""', '"') : text;
  });
}

const NO_ROOM = new Int32Array(0);

export function fieldCount(bytes: Uint8Array, line: Line, delimiter: Delimiter): number {
  return fieldBounds(bytes, line, delimiter, NO_ROOM);
}
