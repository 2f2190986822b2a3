import { BYTES_TOGETHER, type LabelRows } from "./label-rows.ts";

/** Points worked on together: their tables stay in the cache of one core (own choice, measured). */
export const POINTS_TOGETHER = 32;
const PATTERNS = 256;

/** Shots × points, row by row. */
export interface Table {
  readonly values: Float64Array;
  readonly countShots: number;
  readonly countPoints: number;
}

/**
 * Sums over every subset of each eight shots, for a block of points: a labelling's group sum is then one addition for eight shots.
 * Layout: ((shots/8) × 256 patterns) × points.
 */
export class SubsetSums {
  readonly sums: Float64Array;
  readonly #isSigned: boolean;

  /** @param isSigned  shots that are not in the pattern count with their sign turned, in place of not at all */
  constructor(rows: LabelRows, isSigned: boolean) {
    this.sums = new Float64Array(rows.bytesPerRow * PATTERNS * POINTS_TOGETHER);
    this.#isSigned = isSigned;
  }

  /** Fills the block from `firstPoint`; points beyond the last are 0. */
  fill({ values, countShots, countPoints }: Table, firstPoint: number): void {
    const { sums } = this;
    const [P, signed] = [POINTS_TOGETHER, this.#isSigned];
    const count = Math.min(P, countPoints - firstPoint);
    const factor = signed ? 2 : 1;
    const countBytes = sums.length / (PATTERNS * P);
    for (let byte = 0; byte < countBytes; byte++) {
      const from = byte * PATTERNS * P;
      sums.fill(0, from, from + P);
      for (let k = 8 * byte; signed && k < Math.min(8 * byte + 8, countShots); k++)
        for (let q = 0; q < count; q++) sums[from + q]! -= values[k * countPoints + firstPoint + q]!;
      for (let pattern = 1; pattern < PATTERNS; pattern++) {
        const without = from + (pattern & (pattern - 1)) * P;
        const into = from + pattern * P;
        const k = 8 * byte + 31 - Math.clz32(pattern & -pattern);
        if (k >= countShots) {
          sums.copyWithin(into, without, without + P);
          continue;
        }
        const row = k * countPoints + firstPoint;
        for (let q = 0; q < P; q++) sums[into + q] = sums[without + q]! + (q < count ? factor * values[row + q]! : 0);
      }
    }
  }
}

/** Raises each row's entry of `out` to the largest |sum| over the block. */
export function raiseBySums({ sums }: SubsetSums, rows: LabelRows, out: Float64Array): void {
  if (rows.bytesPerRow === BYTES_TOGETHER) {
    raiseUpTo24Shots(sums, rows, out);
    return;
  }
  const sum = new Float64Array(POINTS_TOGETHER);
  for (let row = 0; row < rows.countRows; row++) {
    addRow(sums, rows, row, sum);
    let largest = out[row]!;
    for (let q = 0; q < POINTS_TOGETHER; q++) largest = Math.max(largest, Math.abs(sum[q]!));
    out[row] = largest;
  }
}

/** The same without a store between, four points a turn: the loop that the time of a test goes into. */
function raiseUpTo24Shots(sums: Float64Array, { bytes, countRows }: LabelRows, out: Float64Array): void {
  const size = PATTERNS * POINTS_TOGETHER;
  for (let row = 0; row < countRows; row++) {
    const at = row * BYTES_TOGETHER;
    const a = bytes[at]! * POINTS_TOGETHER;
    const b = size + bytes[at + 1]! * POINTS_TOGETHER;
    const c = 2 * size + bytes[at + 2]! * POINTS_TOGETHER;
    let largest = out[row]!;
    for (let q = 0; q < POINTS_TOGETHER; q += 4) {
      const sum0 = Math.abs(sums[a + q]! + sums[b + q]! + sums[c + q]!);
      const sum1 = Math.abs(sums[a + q + 1]! + sums[b + q + 1]! + sums[c + q + 1]!);
      const sum2 = Math.abs(sums[a + q + 2]! + sums[b + q + 2]! + sums[c + q + 2]!);
      const sum3 = Math.abs(sums[a + q + 3]! + sums[b + q + 3]! + sums[c + q + 3]!);
      if (sum0 > largest) largest = sum0;
      if (sum1 > largest) largest = sum1;
      if (sum2 > largest) largest = sum2;
      if (sum3 > largest) largest = sum3;
    }
    out[row] = largest;
  }
}

/** The sums of one row over the block. */
export function addRow(sums: Float64Array, rows: LabelRows, row: number, out: Float64Array): void {
  const size = PATTERNS * POINTS_TOGETHER;
  out.fill(0);
  for (let byte = 0; byte < rows.bytesPerRow; byte += BYTES_TOGETHER) {
    const at = row * rows.bytesPerRow + byte;
    const a = byte * size + rows.bytes[at]! * POINTS_TOGETHER;
    const b = (byte + 1) * size + rows.bytes[at + 1]! * POINTS_TOGETHER;
    const c = (byte + 2) * size + rows.bytes[at + 2]! * POINTS_TOGETHER;
    for (let q = 0; q < POINTS_TOGETHER; q++) out[q]! += sums[a + q]! + sums[b + q]! + sums[c + q]!;
  }
}
