import type { Column, Finding, UnderfootError, Where } from "@underfoot/domain";
import { decodedText, type TextSource } from "./text-encoding.ts";
import { textFaults, textFindingTable } from "./text-faults.ts";
import { type Delimiter, fieldBounds } from "./text-fields.ts";
import { type Line, lineAfter, lineCount, lineEndAt } from "./text-lines.ts";
import { type NumberStyle, numberFromBytes, numberFromText } from "./text-number.ts";

/** Rows too short for their fields that may become gaps, beside this share of all rows. */
const SHORT_ROWS = 16;
const SHORT_SHARE = 0.1;

/** What to do with a row that does not fit, once the user has chosen; by default it is an error. */
export type BadRows = "refuse" | "cut" | "gap";

export interface TableLayout {
  readonly delimiter: Delimiter;
  readonly fields: number;
  readonly style: NumberStyle;
  readonly missing: readonly string[];
  /** Where the rows begin: byte position, and line from 1. */
  readonly dataFrom: number;
  readonly dataRow: number;
  /** The columns to read: position among the fields, and name for sentences. */
  readonly wanted: readonly { readonly at: number; readonly name: string }[];
  readonly badRows: BadRows;
  readonly where: Where;
}

export interface TextTable {
  /** One for each wanted column; `rowCount` samples, NaN where missing. */
  readonly columns: readonly Column[];
  readonly rowCount: number;
  readonly findings: readonly Finding[];
}

/**
 * The numbers of the wanted columns. Memory: 8 bytes a number, allocated once; never more rows than there are bytes for.
 *
 * @throws UnderfootError ragged-rows, not-a-number (with line, column, text), no-data-rows; with badRows `cut` or `gap` the
 *         recording ends there, or a row of NaN (a field that is no number: one NaN) takes its place, and a finding says so
 */
export function textTable(source: TextSource, layout: TableLayout): TextTable {
  const { bytes } = source;
  const { dataFrom, fields, wanted, where, dataRow } = layout;
  const body = { ...source, bytes: bytes.subarray(0, endOfRows(bytes, dataFrom)) };
  const room = roomFor(body.bytes, dataFrom, fields);
  if (room < 1) throw textFaults.noDataRows(dataRow, where);
  const columns = wanted.map((): Column => new Float64Array(room));
  const reader = rowReader(body, layout, columns);
  let rows = 0;
  let cut: Finding | undefined;
  let last: UnderfootError | undefined;
  for (let from = dataFrom; from < body.bytes.length; ) {
    // Only where many rows were too short is there no room left.
    if (rows >= room && last !== undefined) throw last;
    const end = lineEndAt(body.bytes, from);
    const fault = reader.read({ from, end }, rows, dataRow + rows);
    if (fault !== undefined && layout.badRows === "refuse") throw fault;
    if (fault !== undefined && layout.badRows === "cut") {
      cut = textFindingTable.cut(fault.code, fault.message, rows, fault.where);
      break;
    }
    last = fault ?? last;
    rows++;
    from = lineAfter(body.bytes, end);
  }
  if (rows === 0) throw textFaults.noDataRows(dataRow, where);
  const missing = reader.missingCount();
  const gaps = reader.gapLines();
  const findings = [
    ...(cut === undefined ? [] : [cut]),
    ...(gaps.count > 0 ? [textFindingTable.rowsLeftOut(gaps.count, gaps.first, where)] : []),
    ...(missing > 0 ? [textFindingTable.missingCount(missing, rows * wanted.length, where)] : []),
  ];
  return { columns: columns.map((column) => column.subarray(0, rows)), rowCount: rows, findings };
}

/**
 * For how many rows there is memory: the lines long enough to be one (k fields take k - 1 bytes at least), and some that are
 * too short and may become gaps. A file whose first lines are wide and all others short takes no more than that.
 */
function roomFor(bytes: Uint8Array, from: number, fields: number): number {
  const rows = lineCount(bytes, from, fields - 1);
  return rows + Math.min(lineCount(bytes, from) - rows, SHORT_ROWS + Math.floor(rows * SHORT_SHARE));
}

/** The end of the last line that is not blank: line ends, blanks and an end-of-file mark behind it are no rows. */
function endOfRows(bytes: Uint8Array, from: number): number {
  let end = bytes.length;
  while (
    end > from &&
    (bytes[end - 1]! === 0x20 || bytes[end - 1]! === 0x0a || bytes[end - 1]! === 0x0d || bytes[end - 1]! === 0x1a)
  )
    end--;
  return end;
}

interface RowReader {
  /** Writes one row; a fault where it does not fit: the row then holds NaN where it could not be read. */
  read(line: Line, row: number, lineNumber: number): UnderfootError | undefined;
  missingCount(): number;
  gapLines(): { readonly count: number; readonly first: number };
}

function rowReader(source: TextSource, layout: TableLayout, columns: readonly Column[]): RowReader {
  const { bytes } = source;
  const { delimiter, fields, style, wanted, where } = layout;
  const bounds = new Int32Array(2 * (fields + 1));
  const isMissing = missingTest(layout);
  let missing = 0;
  let gaps = 0;
  let firstGap = 0;
  const isFitting = (count: number): boolean =>
    count === fields || (count === fields + 1 && bounds[2 * fields] === bounds[2 * fields + 1]);
  const gap = (lineNumber: number): void => {
    gaps++;
    if (gaps === 1) firstGap = lineNumber;
  };
  const ragged = (count: number, row: number, lineNumber: number): UnderfootError => {
    for (const column of columns) column[row] = Number.NaN;
    gap(lineNumber);
    const isBlank = count <= 1 && bounds[0] === bounds[1];
    return textFaults.raggedRow(isBlank ? 0 : count, fields, { ...where, line: lineNumber });
  };
  /** What is no number: a missing value, or a fault. */
  const isBad = (value: number, begin: number, end: number): boolean => {
    if (Number.isNaN(value) && begin !== end && !isMissing.text(begin, end, source)) return true;
    missing++;
    return false;
  };
  const notANumber = (k: number, lineNumber: number): UnderfootError => {
    gap(lineNumber);
    const { at, name } = wanted[k]!;
    const text = decodedText(source, bounds[2 * at]!, Math.min(bounds[2 * at + 1]!, bounds[2 * at]! + 60));
    return textFaults.notANumber(text, { ...where, line: lineNumber, column: name });
  };
  return {
    read(line, row, lineNumber) {
      const count = fieldBounds(bytes, line, delimiter, bounds);
      if (!isFitting(count)) return ragged(count, row, lineNumber);
      let bad = -1;
      for (let k = 0; k < wanted.length; k++) {
        const begin = bounds[2 * wanted[k]!.at]!;
        const end = bounds[2 * wanted[k]!.at + 1]!;
        const value = numberFromBytes(bytes, begin, end, style);
        const isNumber = !Number.isNaN(value) && !isMissing.number(value);
        columns[k]![row] = isNumber ? value : Number.NaN;
        if (!isNumber && isBad(value, begin, end) && bad < 0) bad = k;
      }
      return bad < 0 ? undefined : notANumber(bad, lineNumber);
    },
    missingCount: () => missing,
    gapLines: () => ({ count: gaps, first: firstGap }),
  };
}

/** Whether a number or a text stands for a missing value. Letters match in either case. */
function missingTest({ missing, style }: TableLayout) {
  const texts = new Set(missing.map((text) => text.toLowerCase()));
  const numbers = missing.map((text) => numberFromText(text, style)).filter((value) => !Number.isNaN(value));
  const longest = Math.max(0, ...missing.map((text) => text.length));
  return {
    number: (value: number): boolean => numbers.length > 0 && numbers.includes(value),
    text: (begin: number, end: number, source: TextSource): boolean =>
      end - begin <= 4 * longest && texts.has(decodedText(source, begin, end).toLowerCase()),
  };
}
