import { BYTES_TOGETHER, type LabelRows } from "./label-rows.ts";
import { POINTS_TOGETHER, wideKernel } from "./wide-kernel.ts";

const PATTERNS = 256;
const TABLE_SIZE = PATTERNS * POINTS_TOGETHER;
/** Fewer labellings are through before a kernel is set up. */
const LEAST_ROWS_FOR_KERNEL = 1000;

/** Shots × points, row by row. */
export interface Table {
  readonly values: Float64Array;
  readonly countShots: number;
  readonly countPoints: number;
}

/** Places for the tables of a set of rows: one for each byte. */
export function emptySums({ bytesPerRow }: LabelRows): Float64Array {
  return new Float64Array(bytesPerRow * TABLE_SIZE);
}

/**
 * Sums over every subset of each eight shots, for the block of points from `firstPoint` (0 beyond the last): a labelling's group sum is then one
 * addition for eight shots. Layout: ((shots/8) × 256 patterns) × points.
 *
 * @param isSigned  shots that are not in the pattern count with their sign turned, in place of not at all
 */
export function fillSums(
  { values, countShots, countPoints }: Table,
  { firstPoint, isSigned }: { readonly firstPoint: number; readonly isSigned: boolean },
  sums: Float64Array,
): void {
  const P = POINTS_TOGETHER;
  const count = Math.min(P, countPoints - firstPoint);
  const block = new Float64Array(P * 8 * (sums.length / TABLE_SIZE));
  for (let k = 0; k < countShots; k++) {
    const from = k * countPoints + firstPoint;
    for (let q = 0; q < count; q++) block[k * P + q] = values[from + q]!;
  }
  const factor = isSigned ? 2 : 1;
  for (let table = 0; table < sums.length; table += TABLE_SIZE) {
    const firstShot = (8 * P * table) / TABLE_SIZE;
    sums.fill(0, table, table + P);
    for (let at = firstShot; isSigned && at < firstShot + 8 * P; at++) sums[table + (at % P)]! -= block[at]!;
    for (let pattern = 1; pattern < PATTERNS; pattern++) {
      const without = table + (pattern & (pattern - 1)) * P;
      const into = table + pattern * P;
      const shot = firstShot + (31 - Math.clz32(pattern & -pattern)) * P;
      for (let q = 0; q < P; q++) sums[into + q] = sums[without + q]! + factor * block[shot + q]!;
    }
  }
}

/** Largest |sum| of each row over all points. */
export function largestSums(table: Table, rows: LabelRows, isSigned: boolean): Float64Array<ArrayBuffer> {
  const isNarrow = rows.bytesPerRow === BYTES_TOGETHER;
  const kernel = isNarrow && rows.countRows >= LEAST_ROWS_FOR_KERNEL ? wideKernel(rows) : undefined;
  const sums = kernel?.sums ?? emptySums(rows);
  const largest = kernel?.largest ?? new Float64Array(rows.countRows);
  for (let firstPoint = 0; firstPoint < table.countPoints; firstPoint += POINTS_TOGETHER) {
    fillSums(table, { firstPoint, isSigned }, sums);
    if (kernel === undefined) raiseBySums(sums, rows, largest);
    else kernel.raise();
  }
  return largest;
}

/** Raises each row's entry of `out` to the largest |sum| over the block: what the kernel does, in plain words. */
export function raiseBySums(sums: Float64Array, rows: LabelRows, out: Float64Array): void {
  const sum = new Float64Array(POINTS_TOGETHER);
  for (let row = 0; row < rows.countRows; row++) {
    addRow(sums, rows, row, sum);
    let largest = out[row]!;
    for (let q = 0; q < POINTS_TOGETHER; q++) largest = Math.max(largest, Math.abs(sum[q]!));
    out[row] = largest;
  }
}

/** The sums of one row over the block. */
export function addRow(sums: Float64Array, rows: LabelRows, row: number, out: Float64Array): void {
  for (let byte = 0; byte < rows.bytesPerRow; byte += BYTES_TOGETHER) {
    const at = row * rows.bytesPerRow + byte;
    const a = byte * TABLE_SIZE + rows.bytes[at]! * POINTS_TOGETHER;
    const b = (byte + 1) * TABLE_SIZE + rows.bytes[at + 1]! * POINTS_TOGETHER;
    const c = (byte + 2) * TABLE_SIZE + rows.bytes[at + 2]! * POINTS_TOGETHER;
    for (let q = 0; q < POINTS_TOGETHER; q++) {
      const sum = sums[a + q]! + sums[b + q]! + sums[c + q]!;
      out[q] = byte === 0 ? sum : out[q]! + sum;
    }
  }
}
