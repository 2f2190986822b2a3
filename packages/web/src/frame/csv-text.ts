/** One value of a table: NaN and undefined are written as nothing. */
export type CsvCell = string | number | undefined;

function written(cell: CsvCell): string {
  if (cell === undefined || (typeof cell === "number" && !Number.isFinite(cell))) return "";
  const text = String(cell);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Rows as comma-separated values (RFC 4180): quotes where they are needed, lines ended by CR LF. */
export function csvText(rows: readonly (readonly CsvCell[])[]): string {
  return rows.map((row) => `${row.map(written).join(",")}\r\n`).join("");
}
