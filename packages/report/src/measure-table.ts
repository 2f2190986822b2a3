import { catalogueEntry, type Measure } from "@underfoot/mechanics";
import { measureText } from "./measure-text.ts";

const HEAD = ["Measure", "Axes", "Value", "±", "Slope’s share", "Why not"] as const;

/** Measures as rows of text, the first one the heads: measure, axes, value, uncertainty (one sd), slope share, why not. */
export function measureTable(measures: readonly Measure[]): readonly (readonly string[])[] {
  const rows = measures.map((measure) => {
    const { title, text, plusMinus = "", slopeShare = "", why = "" } = measureText(measure);
    return [title, measure.axes ?? "", text, plusMinus, slopeShare, why];
  });
  return [HEAD, ...rows];
}

const CSV_HEAD = "file,id,title,axes,value,unit,sigma,sigma_shared,slope_share,at_least,valid,why";

/**
 * Measures of any number of recordings as comma-separated text (RFC 4180, lines end in LF), one row each, full precision.
 * Missing numbers are empty; the peak order stands as text in `value`.
 */
export function measuresCsv(
  recordings: readonly { readonly file: string; readonly measures: readonly Measure[] }[],
): string {
  const lines = recordings.flatMap(({ file, measures }) => measures.map((measure) => csvLine(file, measure)));
  return `${[CSV_HEAD, ...lines].join("\n")}\n`;
}

function csvLine(file: string, measure: Measure): string {
  const { id, axes, unit, isValid, isAtLeast, why, text } = measure;
  const cells = [
    file,
    id,
    catalogueEntry(id)?.title ?? id,
    axes ?? "",
    isValid ? (text ?? numberCell(measure.value)) : "",
    unit,
    isValid ? numberCell(measure.sigma) : "",
    isValid ? numberCell(measure.sigmaShared) : "",
    numberCell(measure.slopeShare ?? Number.NaN),
    isAtLeast === true ? "true" : "false",
    isValid ? "true" : "false",
    why ?? "",
  ];
  return cells.map(csvCell).join(",");
}

function numberCell(value: number): string {
  return Number.isFinite(value) ? String(value) : "";
}

function csvCell(cell: string): string {
  return /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}
