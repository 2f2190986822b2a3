import { once } from "node:events";

/** Writes to standard output and waits while the reader is slow, so that memory stays flat. */
export async function print(text: string): Promise<void> {
  if (!process.stdout.write(text)) await once(process.stdout, "drain");
}

/** A line that tells how far long work has come: on standard error, only on a terminal. */
export function progress(done: number, total: number, what: string): void {
  if (!process.stderr.isTTY || total < 2) return;
  process.stderr.write(`\r${what}: ${done} of ${total}\u001b[K${done === total ? "\n" : ""}`);
}

/** NaN and infinities have no place in JSON: null. */
export function jsonText(value: unknown): string {
  return `${JSON.stringify(value, (_, item: unknown) => (typeof item === "number" && !Number.isFinite(item) ? null : item), 1)}\n`;
}

/** Rows as columns of equal width; the first row is the head. */
export function tableText(rows: readonly (readonly string[])[]): string {
  const widths = (rows[0] ?? []).map((_, k) => Math.max(...rows.map((row) => (row[k] ?? "").length)));
  return rows
    .map(
      (row) =>
        `${row
          .map((cell, k) => (k === row.length - 1 ? cell : cell.padEnd(widths[k] ?? 0)))
          .join("  ")
          .trimEnd()}\n`,
    )
    .join("");
}

const COUNT = new Intl.NumberFormat("en-GB");

/** "1 file", "1,963 files". */
export function countText(count: number, one: string, many = `${one}s`): string {
  return `${COUNT.format(count)} ${count === 1 ? one : many}`;
}

const ONE_DECIMAL = new Intl.NumberFormat("en-GB", { maximumFractionDigits: 1 });

/** A size for people: kB, MB, GB of powers of 1000 (IEC 80000-13). */
export function bytesText(byteCount: number): string {
  if (byteCount < 1e6) return `${ONE_DECIMAL.format(byteCount / 1e3)} kB`;
  return byteCount < 1e9 ? `${ONE_DECIMAL.format(byteCount / 1e6)} MB` : `${ONE_DECIMAL.format(byteCount / 1e9)} GB`;
}

/** Aborted by the first Ctrl+C, so that the work in hand can end; the second ends the program as ever. */
export function stopSignal(): AbortSignal {
  const stop = new AbortController();
  process.once("SIGINT", () => stop.abort());
  return stop.signal;
}
