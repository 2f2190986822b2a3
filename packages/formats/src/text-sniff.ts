import type { Where } from "@underfoot/domain";
import { decimalGuess, isCommaAmbiguous } from "./text-decimal.ts";
import {
  type DelimiterGuess,
  delimiterGuess,
  isBlankLine,
  isMissingLike,
  isNumberLike,
  LOOKED_AT_FIELDS,
} from "./text-delimiter.ts";
import { decodedText, type TextEncoding, type TextSource, textSource } from "./text-encoding.ts";
import { textFaults } from "./text-faults.ts";
import { type Delimiter, fieldTexts } from "./text-fields.ts";
import type { Guess } from "./text-guess.ts";
import { dataStart, type Header, headerAbove, type NoteOffers, noteOffers } from "./text-header.ts";
import { firstLines, type Line, type LineEnd, lineAfter, lineCount, lineEndAt, lineEndKind } from "./text-lines.ts";
import { type NumberStyle, numberFromText } from "./text-number.ts";
import { columnPace, medianStep, SECONDS, type TimeUnit, timePace } from "./text-time.ts";
import { unitInName } from "./text-units.ts";

const HEAD_LINES = 2000;
const SAMPLE_ROWS = 200;
const MOST_COLUMNS = 4096;
/** Control characters beyond this share of the first bytes mean that this is no text. */
const CONTROL_SHARE = 0.01;
const LOOKED_AT_BYTES = 65_536;

/** What a column mapping says of the text itself; whatever it leaves out is sniffed. */
export interface TextLayout {
  readonly encoding?: TextEncoding;
  readonly delimiter?: Delimiter;
  readonly decimal?: "." | ",";
  readonly thousands?: "" | "." | ",";
  /** Lines from 1. */
  readonly headerRow?: number;
  readonly dataRow?: number;
  readonly missing?: readonly string[];
}

export interface TextColumn {
  /** As written, a repeated one with (2) behind it; `Column 3` where there is none. */
  readonly name: string;
  /** As written; empty where there is none. */
  readonly unit: string;
  /** `word` where most fields are no numbers. */
  readonly kind: "number" | "word" | "counter" | "time";
  /** The most decimal places among the first rows. */
  readonly decimals: number;
  /** The first numbers, at most 200, NaN where missing: to show and to propose from. */
  readonly first: Float64Array<ArrayBuffer>;
}

export interface TextTime {
  readonly column: string;
  readonly unit: TimeUnit;
  /** From the first rows; the whole column decides when it is read. */
  readonly rateHz: number;
}

/** All that can be known of a text before its mapping; every guess with a confidence, and changeable by a mapping's `text`. */
export interface TextSniff {
  readonly encoding: Guess<TextEncoding>;
  readonly lineEnd: LineEnd;
  readonly lineCount: number;
  readonly delimiter: Guess<Delimiter>;
  readonly style: Guess<NumberStyle>;
  /** Lines from 1. */
  readonly headerRow?: Guess<number>;
  readonly unitRow?: number;
  readonly dataRow: Guess<number>;
  readonly columns: readonly TextColumn[];
  readonly time?: Guess<TextTime>;
  /** A column named as time whose unit cannot be told. */
  readonly timeWithoutUnit?: string;
  readonly offers: NoteOffers;
  /** Texts that stand for a missing number. */
  readonly missing: Guess<readonly string[]>;
  /** A number that repeats and looks like a mark for missing, as -9999: to be asked. */
  readonly missingMark?: string;
}

/** A sniff with what is needed to read on. */
export interface SniffedText {
  readonly sniff: TextSniff;
  readonly source: TextSource;
  /** Byte position of the first row of numbers in `source.bytes`. */
  readonly dataFrom: number;
}

const DEFAULT_MISSING: Guess<readonly string[]> = {
  value: ["", "NA", "NaN", "-"],
  confidence: 0.9,
  reason: "the usual marks",
};

/**
 * Finds out how a text is written: encoding, delimiter, decimal mark, header, time, rate, missing values (docs/formats/text.md).
 * Looks at the first 2000 lines and at some spread over the rest; copies nothing but UTF-16.
 *
 * @throws UnderfootError empty, not-text, no-data-rows, ambiguous-comma, too-many-columns
 */
export function textSniff(bytes: Uint8Array, layout: TextLayout = {}, where: Where = {}): TextSniff {
  return sniffedText(bytes, layout, where).sniff;
}

export function sniffedText(bytes: Uint8Array, layout: TextLayout, where: Where): SniffedText {
  if (bytes.length === 0) throw textFaults.empty(where);
  const source = textSource(bytes, layout.encoding);
  refuseBinary(source.bytes, where);
  const lines = firstLines(source.bytes, HEAD_LINES);
  const count = lineCount(source.bytes);
  if (lines.every((line) => isBlankLine(source, line))) throw textFaults.noDataRows(count, where);
  const guess = delimiterGuess(source, lines, layout.delimiter);
  if (guess.fields > MOST_COLUMNS) throw textFaults.tooManyColumns(guess.fields, MOST_COLUMNS, where);
  const { header, fields } = headerOf(source, lines, guess, layout, where);
  const dataLines = lines.slice(header.data.value);
  const rows = rowTexts(source, dataLines.slice(0, sampledRows(fields)), guess.delimiter.value, fields);
  const style = styleOf(source, rows, guess.delimiter.value, layout);
  const nameCount = header.nameTexts.filter((name) => name !== "").length;
  if (layout.delimiter === undefined && layout.decimal === undefined && style.value.thousands === "") {
    const unquoted = dataLines
      .slice(0, SAMPLE_ROWS)
      .every((line) => !decodedText(source, line.from, line.end).includes('"'));
    if (unquoted && isCommaAmbiguous(rows, guess.delimiter.value, nameCount)) {
      throw textFaults.ambiguousComma(shownLine(source, dataLines[0]), where);
    }
  }
  const missing: Guess<readonly string[]> =
    layout.missing === undefined
      ? DEFAULT_MISSING
      : { value: layout.missing, confidence: 1, reason: "said in the column mapping" };
  const columns = columnsOf(header, rows, fields, style.value, missing.value);
  const timed = withTime(columns);
  const mark = layout.missing === undefined ? missingMark(rows, style.value) : undefined;
  const sniff: TextSniff = {
    encoding: source.encoding,
    lineEnd: lineEndKind(source.bytes, lines),
    lineCount: count,
    delimiter: guess.delimiter,
    style,
    ...(header.names === undefined ? {} : { headerRow: { ...header.names, value: header.names.value + 1 } }),
    ...(header.units === undefined ? {} : { unitRow: header.units + 1 }),
    dataRow: { ...header.data, value: header.data.value + 1 },
    ...timed,
    offers: noteOffers(source, lines, header.notes),
    missing,
    ...(mark === undefined ? {} : { missingMark: mark }),
  };
  return { sniff, source, dataFrom: dataLines[0]?.from ?? 0 };
}

/** Fewer of wide rows: the texts looked at stay few. */
const sampledRows = (fields: number): number => Math.min(SAMPLE_ROWS, Math.max(20, Math.floor(20_000 / fields)));

function refuseBinary(bytes: Uint8Array, where: Where): void {
  const nul = bytes.indexOf(0);
  if (nul >= 0) throw textFaults.notText(`byte ${nul + 1} is NUL`, where);
  const looked = bytes.subarray(0, LOOKED_AT_BYTES);
  let controls = 0;
  for (const byte of looked) if (byte < 0x20 && (byte < 0x09 || byte > 0x0d) && byte !== 0x1a) controls++;
  if (controls > CONTROL_SHARE * looked.length)
    throw textFaults.notText(`${controls} of its first bytes are control characters`, where);
}

function shownLine(source: TextSource, line: Line | undefined): string {
  return line === undefined ? "" : decodedText(source, line.from, Math.min(line.end, line.from + 40));
}

/** The header, and the number of columns: a delimiter behind every row makes no column of its own. */
function headerOf(
  source: TextSource,
  lines: readonly Line[],
  { delimiter: { value: delimiter }, fields }: DelimiterGuess,
  layout: TextLayout,
  where: Where,
): { header: Header; fields: number } {
  const asked = (row: number | undefined) => (row === undefined || row > lines.length ? undefined : row - 1);
  const dataAt = asked(layout.dataRow);
  const data: Guess<number> | undefined =
    dataAt === undefined
      ? dataStart(source, lines, delimiter, fields)
      : { value: dataAt, confidence: 1, reason: "said in the column mapping" };
  if (data === undefined) throw textFaults.noDataRows(lines.length, where);
  const namesAt = asked(layout.headerRow);
  const header = (count: number) =>
    headerAbove(source, lines, {
      delimiter,
      fields: count,
      data,
      ...(namesAt === undefined ? {} : { askedNames: namesAt }),
    });
  const rows = lines
    .slice(data.value, data.value + SAMPLE_ROWS)
    .map((line) => fieldTexts(source, line, delimiter, fields));
  const isTrailing = fields > 1 && delimiter !== " " && rows.every((row) => row.length < fields || row.at(-1) === "");
  if (!isTrailing) return { header: header(fields), fields };
  const whole = header(fields);
  return (whole.nameTexts.at(-1) ?? "") === ""
    ? { header: header(fields - 1), fields: fields - 1 }
    : { header: whole, fields };
}

function rowTexts(source: TextSource, lines: readonly Line[], delimiter: Delimiter, fields: number): string[][] {
  return lines.filter((line) => !isBlankLine(source, line)).map((line) => fieldTexts(source, line, delimiter, fields));
}

/** Decimal and thousands marks from the first rows and from some spread over the file: peaks come late. */
function styleOf(source: TextSource, rows: string[][], delimiter: Delimiter, layout: TextLayout): Guess<NumberStyle> {
  const { bytes } = source;
  const spread = Array.from({ length: SAMPLE_ROWS }, (_, k) => {
    const from = lineAfter(bytes, lineEndAt(bytes, Math.floor((k * bytes.length) / SAMPLE_ROWS)));
    return { from, end: lineEndAt(bytes, from) };
  }).filter(({ from }) => from < bytes.length);
  const texts = [...rows, ...rowTexts(source, spread, delimiter, LOOKED_AT_FIELDS)].flatMap((row) =>
    row.slice(0, LOOKED_AT_FIELDS),
  );
  const guess = decimalGuess(texts);
  if (layout.decimal === undefined && layout.thousands === undefined) return guess;
  const decimal = layout.decimal ?? guess.value.decimal;
  const guessed = guess.value.thousands === decimal ? "" : guess.value.thousands;
  const thousands = layout.thousands ?? guessed;
  return { value: { decimal, thousands }, confidence: 1, reason: "said in the column mapping" };
}

function columnsOf(
  header: Header,
  rows: readonly (readonly string[])[],
  fields: number,
  style: NumberStyle,
  missing: readonly string[],
): TextColumn[] {
  const seen = new Map<string, number>();
  return Array.from({ length: fields }, (_, k) => {
    const written = (header.nameTexts[k] ?? "").replace(/\s+/g, " ").trim() || `Column ${k + 1}`;
    const times = (seen.get(written) ?? 0) + 1;
    seen.set(written, times);
    const texts = rows.map((row) => row[k] ?? "");
    const first = Float64Array.from(texts, (text) => numberFromText(text, style));
    const isWord = (text: string, i: number) =>
      Number.isNaN(first[i]) && !isMissingLike(text) && !missing.includes(text);
    const words = texts.filter(isWord).length;
    const numbers = first.reduce((count, value) => count + (Number.isNaN(value) ? 0 : 1), 0);
    const places = (text: string) => /[.,](\d+)(?:[eE]|$)/.exec(text)?.[1]?.length ?? 0;
    const unit = header.unitTexts[k] ?? "";
    return {
      name: times > 1 ? `${written} (${times})` : written,
      unit: unitInName(unit) || unit || unitInName(written),
      kind: words > numbers ? "word" : "number",
      decimals: texts.reduce((most, text) => Math.max(most, /[eE]/.test(text) ? 17 : places(text)), 0),
      first,
    } satisfies TextColumn;
  });
}

/** Marks the time column and counters among the columns. */
function withTime(columns: readonly TextColumn[]): Pick<TextSniff, "columns" | "time" | "timeWithoutUnit"> {
  const paces = columns.map((column, k) =>
    column.kind === "number" ? columnPace({ ...column, values: column.first }, k === 0) : ({ kind: "none" } as const),
  );
  const times = paces.flatMap((pace, k) => (pace.kind === "time" ? [{ pace, column: columns[k]!, k }] : []));
  const best = times.reduce<(typeof times)[number] | undefined>(
    (one, other) => (one === undefined || other.pace.confidence > one.pace.confidence ? other : one),
    undefined,
  );
  const unitless = columns.find((_, k) => paces[k]?.kind === "time-without-unit");
  const marked = columns.map((column, k): TextColumn => {
    if (k === best?.k) return { ...column, kind: "time" };
    return paces[k]?.kind === "counter" ? { ...column, kind: "counter" } : column;
  });
  if (best === undefined) {
    return { columns: marked, ...(unitless === undefined ? {} : { timeWithoutUnit: unitless.name }) };
  }
  const { unit, confidence, reason } = best.pace;
  const pace = timePace(best.column.first, unit.value, best.column.decimals);
  const rateHz = pace.kind === "even" ? pace.rateHz : 1 / (medianStep(best.column.first) * SECONDS[unit.value]);
  return {
    columns: marked,
    time: {
      value: { column: best.column.name, unit: unit.value, rateHz },
      confidence: Math.min(confidence, unit.confidence),
      reason: `${reason}; ${unit.reason}`,
    },
  };
}

/** A whole number of nines, at least three, three times or more among the first rows, where nothing else is as large. */
function missingMark(rows: readonly (readonly string[])[], style: NumberStyle): string | undefined {
  const seen = new Map<string, number>();
  let most = 0;
  for (const text of rows.flat()) {
    if (/^-?9{3,}(?:[.,]0+)?$/.test(text)) seen.set(text, (seen.get(text) ?? 0) + 1);
    else if (isNumberLike(text)) most = Math.max(most, Math.abs(numberFromText(text, style)) || 0);
  }
  for (const [text, times] of seen) if (times >= 3 && Math.abs(numberFromText(text, style)) > 2 * most) return text;
  return undefined;
}
