import type { Channel, Column, Finding, Recording, Where } from "@underfoot/domain";
import type { ColumnMapping } from "./column-mapping-type.ts";
import { mappedPlates } from "./mapped-plates.ts";
import { mappingFaults } from "./mapping-faults.ts";
import { mappingMatches, usedColumns } from "./mapping-match.ts";
import { delimiterWords } from "./text-delimiter.ts";
import { textFaults, textFindingTable } from "./text-faults.ts";
import { type SniffedText, sniffedText, type TextColumn, type TextSniff } from "./text-sniff.ts";
import { type BadRows, type TextTable, textTable } from "./text-table.ts";
import { type TimeUnit, timePace } from "./text-time.ts";
import { textUnit } from "./text-units.ts";

export interface TextOptions {
  readonly mapping?: ColumnMapping;
  /** What to do with rows that do not fit and times that do not rise evenly; refused by default. */
  readonly badRows?: BadRows;
  readonly where?: Where;
}

/**
 * A recording from delimited text (docs/formats/text.md).
 *
 * Without a mapping: every column of numbers as a channel, as written, and no plates, for nobody has said what they are;
 * the rate from the time column or the notes. With a mapping: the mapped columns, those of plates in SI units along plate
 * axes, and the plates; the mapping's word goes before what was sniffed.
 *
 * Memory: the columns, 8 bytes a number; no copy of the text is made unless it is UTF-16.
 * @throws UnderfootError of `textFaults` and `mappingFaults`
 */
export function recordingFromText(
  bytes: Uint8Array,
  { mapping, badRows = "refuse", where = {} }: TextOptions = {},
): Recording {
  const text = sniffedText(bytes, mapping?.text ?? {}, where);
  const { sniff } = text;
  const findings: Finding[] = mapping === undefined ? [] : matchFindings(mapping, sniff, where);
  const wanted = wantedColumns(sniff, mapping, where);
  const timeColumn = timeOf(sniff, mapping);
  const names = timeColumn === undefined ? wanted : [timeColumn.column, ...wanted];
  const table = textTable(text.source, tableLayout(text, names, badRows, where));
  const pace = paced(table, { sniff, mapping, timeColumn, badRows, where });
  const columns = (timeColumn === undefined ? table.columns : table.columns.slice(1)).map((column) =>
    column.subarray(0, pace.rowCount),
  );
  const channels = wanted.map((name, k) => channelOf(sniff, name, columns[k]!));
  findings.push(...table.findings, ...pace.findings, ...leftOut(sniff, mapping, where));
  const said = sniff.offers.count;
  if (said !== undefined && said.samples !== pace.rowCount)
    findings.push(textFindingTable.countDisagrees(said.samples, pace.rowCount, where));
  const mapped = mapping === undefined ? undefined : mappedPlates(mapping, { channels, columns, where });
  if (mapped === undefined) findings.push(textFindingTable.noMapping(where));
  return {
    format: "text",
    rateHz: pace.rateHz,
    sampleCount: pace.rowCount,
    channels: mapped?.channels ?? channels,
    plates: mapped?.plates ?? [],
    events: [],
    markers: [],
    about: about(sniff, pace.rowCount, mapping),
    findings: [...findings, ...(mapped?.findings ?? [])],
    guesses: [...guesses(sniff, { mapping, pace, where }), ...(mapped?.guesses ?? [])],
  };
}

const isMeasured = ({ kind }: TextColumn): boolean => kind === "number";

/** The columns to read as channels: all of numbers, or those that the mapping names. */
function wantedColumns(sniff: TextSniff, mapping: ColumnMapping | undefined, where: Where): readonly string[] {
  if (mapping === undefined) {
    const names = sniff.columns.filter(isMeasured).map(({ name }) => name);
    if (names.length === 0)
      throw textFaults.tooFewColumns(
        sniff.columns.map(({ name }) => name),
        where,
      );
    return names;
  }
  const time = "column" in mapping.time ? mapping.time.column : undefined;
  return usedColumns(mapping).filter((name) => name !== time);
}

function matchFindings(mapping: ColumnMapping, sniff: TextSniff, where: Where): Finding[] {
  const columns = sniff.columns.map(({ name }) => name);
  const { missing, extra } = mappingMatches(mapping, columns);
  if (missing.length > 0) throw mappingFaults.mismatch(missing, extra, where);
  return extra.length > 0 ? [textFindingTable.extraColumns(extra, where)] : [];
}

interface TimeColumn {
  readonly column: string;
  readonly unit: TimeUnit;
}

function timeOf(sniff: TextSniff, mapping: ColumnMapping | undefined): TimeColumn | undefined {
  if (mapping === undefined) return sniff.time?.value;
  return "column" in mapping.time ? mapping.time : undefined;
}

function tableLayout({ sniff, dataFrom }: SniffedText, names: readonly string[], badRows: BadRows, where: Where) {
  return {
    delimiter: sniff.delimiter.value,
    fields: sniff.columns.length,
    style: sniff.style.value,
    missing: sniff.missing.value,
    dataFrom,
    dataRow: sniff.dataRow.value,
    wanted: names.map((name) => ({ name, at: sniff.columns.findIndex((column) => column.name === name) })),
    badRows,
    where,
  };
}

interface Paced {
  readonly rateHz: number;
  readonly rowCount: number;
  readonly findings: readonly Finding[];
  readonly source: "time" | "notes" | "mapping";
}

interface PaceQuestion {
  readonly sniff: TextSniff;
  readonly mapping: ColumnMapping | undefined;
  readonly timeColumn: TimeColumn | undefined;
  readonly badRows: BadRows;
  readonly where: Where;
}

/** The rate: the mapping's, else the time column's, else the only one that the notes offer. */
function paced(table: TextTable, question: PaceQuestion): Paced {
  const { sniff, mapping, timeColumn, where } = question;
  const { rowCount } = table;
  if (mapping !== undefined && "rateHz" in mapping.time) {
    return { rateHz: mapping.time.rateHz, rowCount, findings: [], source: "mapping" };
  }
  const offered = [...new Set(sniff.offers.ratesHz.map(({ rateHz }) => rateHz))];
  if (timeColumn !== undefined) return pacedByTime(table, timeColumn, offered, question);
  const [only] = offered;
  if (only !== undefined && offered.length === 1) return { rateHz: only, rowCount, findings: [], source: "notes" };
  if (sniff.timeWithoutUnit !== undefined) {
    throw textFaults.noRate(`nothing says in which unit its time column "${sniff.timeWithoutUnit}" is`, where);
  }
  throw textFaults.noRate(
    offered.length > 1
      ? `its notes give several rates, ${offered.join(", ")} Hz`
      : "it has no time column and its notes give no rate",
    where,
  );
}

function pacedByTime(
  table: TextTable,
  { column, unit }: TimeColumn,
  offered: readonly number[],
  question: PaceQuestion,
): Paced {
  const { sniff, badRows, where } = question;
  const values = table.columns[0]!;
  const at = { ...where, column };
  if (values.length < 2) throw textFaults.noRate("it has one row only", where);
  const decimals = sniff.columns.find(({ name }) => name === column)?.decimals ?? 0;
  const pace = timePace(values, unit, decimals);
  const findings: Finding[] = [];
  if (pace.kind === "uneven") {
    const lines = pace.samples.map((sample) => sample + sniff.dataRow.value);
    const fault = textFaults.irregularTime(pace.word, lines, pace.count, at);
    const first = pace.samples[0] ?? 0;
    const head = badRows === "cut" && first >= 2 ? timePace(values.subarray(0, first), unit, decimals) : pace;
    if (head.kind === "uneven") throw fault;
    return {
      rateHz: head.rateHz,
      rowCount: first,
      findings: [textFindingTable.cut(fault.code, fault.message, first, at)],
      source: "time",
    };
  }
  const other = offered.find((rateHz) => Math.abs(rateHz - pace.rateHz) > 0.01 * pace.rateHz);
  if (other !== undefined && offered.length === 1)
    findings.push(textFindingTable.rateDisagrees(other, pace.rateHz, where));
  return { rateHz: pace.rateHz, rowCount: values.length, findings, source: "time" };
}

function channelOf(sniff: TextSniff, name: string, values: Column): Channel {
  const written = sniff.columns.find((column) => column.name === name)?.unit ?? "";
  return { label: name, unit: textUnit(written)?.symbol ?? written, values, role: "other" };
}

function leftOut(sniff: TextSniff, mapping: ColumnMapping | undefined, where: Where): Finding[] {
  const words = sniff.columns.filter(({ kind }) => kind === "word").map(({ name }) => name);
  return mapping === undefined && words.length > 0 ? [textFindingTable.textColumns(words, where)] : [];
}

function about(sniff: TextSniff, rows: number, mapping: ColumnMapping | undefined): Record<string, string | number> {
  return {
    encoding: sniff.encoding.value,
    "between columns": delimiterWords(sniff.delimiter.value),
    "decimal mark": sniff.style.value.decimal,
    ...(sniff.headerRow === undefined ? {} : { "line of the names": sniff.headerRow.value }),
    "first line of numbers": sniff.dataRow.value,
    rows,
    columns: sniff.columns.length,
    ...(mapping === undefined ? {} : { mapping: mapping.name }),
  };
}

/** What was guessed and changes a number or a time. What the mapping says is no guess. */
function guesses(
  sniff: TextSniff,
  {
    mapping,
    pace,
    where,
  }: { readonly mapping: ColumnMapping | undefined; readonly pace: Paced; readonly where: Where },
): Finding[] {
  const said = mapping?.text ?? {};
  const out: Finding[] = [];
  const guess = (code: string, what: string, reason: string) =>
    out.push(textFindingTable.guess(code, what, reason, where));
  const { style, time, offers, missingMark } = sniff;
  const { decimal, thousands } = style.value;
  if ((decimal === "," || thousands !== "") && said.decimal === undefined) {
    const parted = thousands === "" ? "" : `, ${JSON.stringify(thousands)} parts thousands`;
    guess("guess-decimal", `The decimal mark is taken to be ${JSON.stringify(decimal)}${parted}`, style.reason);
  }
  if (pace.source === "time" && mapping === undefined && time !== undefined) {
    guess(
      "guess-time",
      `Column ${JSON.stringify(time.value.column)} is taken as the time in ${time.value.unit}, so ${pace.rateHz} Hz`,
      time.reason,
    );
  }
  if (pace.source === "notes") {
    const offer = offers.ratesHz.find(({ rateHz }) => rateHz === pace.rateHz);
    guess("guess-rate", `The rate is taken to be ${pace.rateHz} Hz`, `line ${offer?.line} says so as "${offer?.note}"`);
  }
  if (missingMark !== undefined) {
    guess("guess-missing", `${missingMark} is read as a number`, "it repeats and may stand for a missing value");
  }
  return out;
}
