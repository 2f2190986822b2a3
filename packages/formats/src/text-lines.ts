const LF = 0x0a;
const CR = 0x0d;

/** A line as byte positions [from, end), without its line end. */
export interface Line {
  readonly from: number;
  readonly end: number;
}

export type LineEnd = "lf" | "crlf" | "cr" | "mixed" | "none";

/** The position of the line end (or of the end of the bytes) at or after `from`. */
export function lineEndAt(bytes: Uint8Array, from: number): number {
  let i = from;
  while (i < bytes.length && bytes[i] !== LF && bytes[i] !== CR) i++;
  return i;
}

/** Where the next line begins, after the line end at `end`: LF, CR LF, CR, and CR CR LF, which faulty copying makes. */
export function lineAfter(bytes: Uint8Array, end: number): number {
  if (bytes[end] === LF) return end + 1;
  if (bytes[end + 1] === LF) return end + 2;
  return bytes[end + 1] === CR && bytes[end + 2] === LF ? end + 3 : end + 1;
}

/** The first lines, at most `most`. A line end at the very end begins no further line. */
export function firstLines(bytes: Uint8Array, most: number): Line[] {
  const lines: Line[] = [];
  for (let from = 0; from < bytes.length && lines.length < most; ) {
    const end = lineEndAt(bytes, from);
    lines.push({ from, end });
    from = lineAfter(bytes, end);
  }
  return lines;
}

/** How many lines there are from byte `from` on that have at least `least` bytes, their line end not counted. */
export function lineCount(bytes: Uint8Array, from = 0, least = 0): number {
  let count = 0;
  for (let at = from; at < bytes.length; ) {
    const end = lineEndAt(bytes, at);
    if (end - at >= least) count++;
    at = lineAfter(bytes, end);
  }
  return count;
}

/** Which line ends the first lines have. */
export function lineEndKind(bytes: Uint8Array, lines: readonly Line[]): LineEnd {
  const kinds = new Set<LineEnd>();
  for (const { end } of lines) {
    if (end >= bytes.length) continue;
    kinds.add(bytes[end] === LF ? "lf" : lineAfter(bytes, end) > end + 1 ? "crlf" : "cr");
  }
  const [only] = kinds;
  return kinds.size > 1 ? "mixed" : (only ?? "none");
}
