import { type Finding, UnderfootError, type Where } from "@underfoot/domain";

const fileOf = (where: Where): string => where.file ?? "The file";
const shown = (text: string): string => JSON.stringify(text.length > 30 ? `${text.slice(0, 27)}...` : text);
const listed = (names: readonly string[]): string =>
  names.length === 0
    ? "none"
    : `${names
        .slice(0, 8)
        .map((name) => shown(name))
        .join(", ")}${names.length > 8 ? ` and ${names.length - 8} more` : ""}`;

/** Every fault of delimited text. */
export const textFaults = {
  notText: (why: string, where: Where): UnderfootError =>
    new UnderfootError({
      code: "not-text",
      sentence: `${fileOf(where)} is not text: ${why}.`,
      remedy: "Export the recording as C3D, or as delimited text with one row for each sample.",
      where,
    }),
  empty: (where: Where): UnderfootError =>
    new UnderfootError({
      code: "empty",
      sentence: `${fileOf(where)} is empty.`,
      remedy: "Export or copy the recording again.",
      where,
    }),
  noDataRows: (lines: number, where: Where): UnderfootError =>
    new UnderfootError({
      code: "no-data-rows",
      sentence: `${fileOf(where)} has ${lines === 1 ? "1 line" : `${lines} lines`} but no table of numbers.`,
      remedy:
        "Check that it is the recording itself; where it is, say in a column mapping on which line the numbers begin.",
      where,
    }),
  ambiguousComma: (text: string, where: Where): UnderfootError =>
    new UnderfootError({
      code: "ambiguous-comma",
      sentence: `${fileOf(where)} has commas that may part columns or stand for the decimal point, as in ${shown(text)}.`,
      remedy: "Say in a column mapping which it is, or export again with a semicolon or a tab between the columns.",
      where,
    }),
  raggedRow: (fields: number, expected: number, where: Where): UnderfootError =>
    new UnderfootError({
      code: "ragged-rows",
      sentence: `Line ${where.line} of ${where.file ?? "the file"} has ${fields} fields; the rows before it have ${expected}.`,
      remedy: "Mend the line; or choose to cut the recording there, or to leave a gap.",
      where,
    }),
  notANumber: (text: string, where: Where): UnderfootError =>
    new UnderfootError({
      code: "not-a-number",
      sentence: `Line ${where.line} of ${where.file ?? "the file"} has ${shown(text)} in column ${shown(where.column ?? "")}, which is not a number.`,
      remedy: "Mend it; or name it as a missing value in the column mapping, cut the recording there, or leave a gap.",
      where,
    }),
  irregularTime: (kind: string, rows: readonly number[], count: number, where: Where): UnderfootError =>
    new UnderfootError({
      code: "irregular-time",
      sentence: `The time column ${shown(where.column ?? "")} of ${where.file ?? "the file"} does not rise evenly: ${kind} at ${
        count === 1 ? "line" : "lines"
      } ${rows.join(", ")}${count > rows.length ? ` and ${count - rows.length} more` : ""}.`,
      remedy:
        "Export again at a constant rate; or cut the recording there; or give the rate in a column mapping if the times are wrong.",
      where,
    }),
  noRate: (why: string, where: Where): UnderfootError =>
    new UnderfootError({
      code: "no-rate",
      sentence: `${fileOf(where)} does not say how many samples a second it has: ${why}.`,
      remedy: "Give the rate in Hz in a column mapping.",
      where,
    }),
  tooFewColumns: (columns: readonly string[], where: Where): UnderfootError =>
    new UnderfootError({
      code: "too-few-columns",
      sentence: `${fileOf(where)} has no column of measured numbers; its columns are ${listed(columns)}.`,
      remedy: "Export it again with the forces.",
      where,
    }),
  tooManyColumns: (columns: number, most: number, where: Where): UnderfootError =>
    new UnderfootError({
      code: "too-many-columns",
      sentence: `${fileOf(where)} has ${columns} fields in a row; at most ${most} are read.`,
      remedy: "Check the mark between the columns, or export fewer channels.",
      where,
    }),
} as const;

/** Every finding and every guess of delimited text. */
export const textFindingTable = {
  noMapping: (where: Where): Finding => ({
    code: "no-mapping",
    severity: "caution",
    sentence: "Nothing says which columns are which force of which plate, so no force is computed.",
    remedy: "Map the columns once; the mapping is kept and used for every file with the same columns.",
    where,
  }),
  textColumns: (names: readonly string[], where: Where): Finding => ({
    code: "text-columns",
    severity: "note",
    sentence: `Columns without numbers were left out: ${listed(names)}.`,
    remedy: "Nothing to do; they stay in the file.",
    where,
  }),
  missingCount: (count: number, cells: number, where: Where): Finding => ({
    code: "missing-values",
    severity: "note",
    sentence: `${count} of ${cells} numbers are missing.`,
    remedy: "Gaps are kept as gaps; measures whose window touches a long one are not given.",
    where,
  }),
  rowsLeftOut: (count: number, first: number, where: Where): Finding => ({
    code: "gap-rows",
    severity: "caution",
    sentence: `${count === 1 ? "1 row does" : `${count} rows do`} not fit the table and became a gap, the first on line ${first}.`,
    remedy: "Check the export; measures near the gap are not given.",
    where: { ...where, line: first },
  }),
  cut: (code: string, why: string, rows: number, where: Where): Finding => ({
    code: "cut",
    severity: "caution",
    sentence: `The recording was cut after ${rows} rows, as you chose (${code}): ${why}`,
    remedy: "Mend the file to have the rest.",
    where,
  }),
  countDisagrees: (said: number, found: number, where: Where): Finding => ({
    code: "row-count",
    severity: "caution",
    sentence: `The notes announce ${said} samples; the file has ${found}.`,
    remedy: "Check that the file is whole.",
    where,
  }),
  rateDisagrees: (said: number, found: number, where: Where): Finding => ({
    code: "rate-disagrees",
    severity: "caution",
    sentence: `The notes say ${said} Hz, the time column ${Number(found.toPrecision(6))} Hz; the time column is taken.`,
    remedy: "Find out which one is right; where it is the notes, give the rate in a column mapping.",
    where,
  }),
  extraColumns: (names: readonly string[], where: Where): Finding => ({
    code: "mapping-extra",
    severity: "note",
    sentence: `The file has columns that the mapping does not know: ${listed(names)}.`,
    remedy: "Check that the mapping is the right one for this file.",
    where,
  }),
  guess: (code: string, what: string, reason: string, where: Where): Finding => ({
    code,
    severity: "caution",
    sentence: `${what}: ${reason}.`,
    remedy: "Confirm it, or change it in a column mapping.",
    where,
  }),
} as const;
