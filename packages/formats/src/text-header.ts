import { isBlankLine, isMissingLike, isNumberLike, LOOKED_AT_FIELDS } from "./text-delimiter.ts";
import { decodedText, type TextSource } from "./text-encoding.ts";
import { type Delimiter, fieldCount, fieldTexts } from "./text-fields.ts";
import type { Guess } from "./text-guess.ts";
import type { Line } from "./text-lines.ts";
import { textUnit, unitInName } from "./text-units.ts";

const WINDOW_LINES = 50;
const FITTING_SHARE = 0.95;
const NUMBER_SHARE = 0.8;
/** A quoted name may run over this many lines. */
const NAME_LINES = 5;

/** Positions among the lines, from 0. */
export interface Header {
  readonly data: Guess<number>;
  readonly names?: Guess<number>;
  readonly units?: number;
  /** As written, one for each field; empty where there is none. */
  readonly nameTexts: readonly string[];
  readonly unitTexts: readonly string[];
  /** The lines that are neither names, units nor data. */
  readonly notes: readonly number[];
}

/**
 * Where the numbers begin: the first line of numbers from which 95 % of the next 50 lines have the right count of fields and
 * 80 % of these are numbers. A ragged line shortly after the true beginning does not move it: that line is found when reading.
 *
 * @returns undefined where there is no such line
 */
export function dataStart(
  source: TextSource,
  lines: readonly Line[],
  delimiter: Delimiter,
  fields: number,
): Guess<number> | undefined {
  const isRight = lines.map((line) => isCount(fieldCount(source.bytes, line, delimiter), fields));
  const shares = lines.map((line, k) => (isRight[k] === true ? numberShare(source, line, delimiter, fields) : 0));
  const isRow = shares.map((share) => share >= NUMBER_SHARE);
  let widest = -1;
  for (let i = 0; i < lines.length; i++) {
    if (isRow[i] !== true) continue;
    const end = Math.min(i + WINDOW_LINES, lines.length);
    const rows = isRow.slice(i, end).filter(Boolean).length;
    if (rows >= FITTING_SHARE * (end - i)) {
      return { value: firstOfBlock(isRow, i), confidence: 0.95, reason: "the lines from here on are numbers" };
    }
    if (widest < 0 && rows > (end - i) / 2) widest = i;
  }
  return widest < 0 ? undefined : { value: widest, confidence: 0.6, reason: "most lines from here on are numbers" };
}

/** Goes back from `start` to the earliest row such that more than half of the lines between are rows. */
function firstOfBlock(isRow: readonly boolean[], start: number): number {
  let first = start;
  let rows = 0;
  for (let i = start - 1; i >= Math.max(0, start - WINDOW_LINES); i--) {
    if (isRow[i] !== true) continue;
    rows++;
    if (rows > (start - i) / 2) first = i;
  }
  return first;
}

const isCount = (count: number, fields: number): boolean => count === fields || count === fields + 1;

/** Share of numbers and missing values; 0 where there is no number at all. */
function numberShare(source: TextSource, line: Line, delimiter: Delimiter, fields: number): number {
  const texts = fieldTexts(source, line, delimiter, Math.min(fields, LOOKED_AT_FIELDS));
  const numbers = texts.filter(isNumberLike).length;
  return numbers === 0 ? 0 : (numbers + texts.filter(isMissingLike).length) / texts.length;
}

/** The names, the units and the notes above the first row of numbers. */
export function headerAbove(
  source: TextSource,
  lines: readonly Line[],
  {
    delimiter,
    fields,
    data,
    askedNames,
  }: {
    readonly delimiter: Delimiter;
    readonly fields: number;
    readonly data: Guess<number>;
    /** A column mapping's word on which line has the names. */
    readonly askedNames?: number;
  },
): Header {
  const above = logicalLines(source, lines.slice(0, data.value));
  const textsOf = ({ line }: { readonly line: Line }) => headerTexts(source, line, delimiter, fields);
  const fitting = above.flatMap((one) => {
    const texts = isBlankLine(source, one.line) ? undefined : textsOf(one);
    return texts === undefined ? [] : [{ at: one.at, texts }];
  });
  const last = fitting.at(-1);
  const isUnits = last !== undefined && isUnitLine(last.texts);
  const found = fitting.at(isUnits ? -2 : -1);
  const chosen = askedNames === undefined ? found : fitting.find(({ at }) => at === askedNames);
  const taken = new Set([chosen?.at, isUnits ? last.at : undefined]);
  return {
    data,
    ...(chosen === undefined
      ? {}
      : {
          names: { value: chosen.at, confidence: 0.9, reason: "the last line above the numbers with as many fields" },
        }),
    ...(isUnits ? { units: last.at } : {}),
    nameTexts: chosen?.texts ?? [],
    unitTexts: isUnits ? last.texts : [],
    notes: above.filter(({ at, line }) => !taken.has(at) && !isBlankLine(source, line)).map(({ at }) => at),
  };
}

/** Lines, those joined whose quotes stay open at the line end. */
function logicalLines(source: TextSource, lines: readonly Line[]): { at: number; line: Line }[] {
  const out: { at: number; line: Line }[] = [];
  for (let i = 0; i < lines.length; i++) {
    const first = lines[i]!;
    const joined = Array.from({ length: Math.min(NAME_LINES, lines.length - i) }, (_, k) => ({
      from: first.from,
      end: lines[i + k]!.end,
    }));
    const whole = joined.findIndex((line) => hasClosedQuotes(source, line));
    out.push({ at: i, line: joined[Math.max(0, whole)] ?? first });
    i += Math.max(0, whole);
  }
  return out;
}

function hasClosedQuotes({ bytes }: TextSource, { from, end }: Line): boolean {
  let isClosed = true;
  for (let i = from; i < end; i++) if (bytes[i] === 0x22) isClosed = !isClosed;
  return isClosed;
}

/** A header line's fields where they are as many as the data's; a trailing mark, a leading # and units behind blanks allowed. */
function headerTexts(source: TextSource, line: Line, delimiter: Delimiter, fields: number): string[] | undefined {
  const texts = fieldTexts(source, line, delimiter, fields + LOOKED_AT_FIELDS);
  if (texts.length === fields + 1 && texts.at(-1) === "") return texts.slice(0, fields);
  if (delimiter === " " && texts.length !== fields)
    return blankHeader(decodedText(source, line.from, line.end), fields);
  return texts.length === fields ? texts : undefined;
}

/** "Time (s)  Fx (N)" and "# t Fx": names with single blanks, brackets or a comment mark in a table parted by blanks. */
function blankHeader(text: string, fields: number): string[] | undefined {
  const plain = text.trim();
  const wide = plain.split(/\s{2,}|\t/);
  const bracketed = plain.replace(/\s+(?=[[(])/g, "\u0000").split(/\s+/);
  const candidates = [wide, bracketed.map((name) => name.replaceAll("\u0000", " "))];
  const uncommented = candidates.map(([first, ...others]) => (first === "#" || first === "%" ? others : []));
  return [...candidates, ...uncommented].find((names) => names.length === fields);
}

const OTHER_UNITS = new Set([
  "-",
  "1",
  "%",
  "#",
  "deg",
  "°",
  "Hz",
  "°C",
  "C",
  "BW",
  "N/kg",
  "m/s",
  "m/s²",
  "m/s2",
  "bit",
  "counts",
]);

function isUnitLine(texts: readonly string[]): boolean {
  const words = texts.filter((text) => text !== "").map((text) => (/^[[(]/.test(text) ? unitInName(text) : text));
  const known = words.filter((word) => textUnit(word) !== undefined).length;
  return known > 0 && words.every((word) => textUnit(word) !== undefined || OTHER_UNITS.has(word));
}

/** What the notes above a table offer: rates in Hz and a count of samples, with their line from 1. */
export interface NoteOffers {
  readonly ratesHz: readonly { readonly rateHz: number; readonly line: number; readonly note: string }[];
  readonly count?: { readonly samples: number; readonly line: number };
}

const NOTE = /^\s*["#%]*\s*([^:=\t;,|]{1,60}?)\s*"?\s*[:=\t;,|]+\s*"?\s*([+-]?\d[\d.,]*(?:[eE][+-]?\d+)?)\s*(k?hz)?\b/i;

/** `key: value` and `key = value` (or parted by the table's own mark). Other notes may name people and are not kept. */
export function noteOffers(source: TextSource, lines: readonly Line[], notes: readonly number[]): NoteOffers {
  const ratesHz: { rateHz: number; line: number; note: string }[] = [];
  let count: NoteOffers["count"];
  for (const at of notes) {
    const line = lines[at];
    if (line === undefined) continue;
    const [, key = "", value = "", unit = ""] =
      NOTE.exec(decodedText(source, line.from, Math.min(line.end, line.from + 300))) ?? [];
    const number = Number(
      /,\d{3}(?!\d)/.test(value) && value.includes(".") ? value.replaceAll(",", "") : value.replace(",", "."),
    );
    if (!(number > 0)) continue;
    if (unit !== "" || /rate|freq|hz/i.test(key)) {
      const isKilo = /^khz$/i.test(unit) || /\bkhz\b/i.test(key);
      ratesHz.push({ rateHz: isKilo ? number * 1000 : number, line: at + 1, note: key });
    } else if (/sample|row|count|point/i.test(key) && Number.isInteger(number)) {
      count ??= { samples: number, line: at + 1 };
    }
  }
  return count === undefined ? { ratesHz } : { ratesHz, count };
}
