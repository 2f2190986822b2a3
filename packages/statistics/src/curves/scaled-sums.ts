import type { Values } from "../samples.ts";
import type { LabelRows } from "./label-rows.ts";
import { addRow, emptySums, fillSums, largestSums, type Table } from "./subset-sums.ts";
import { POINTS_TOGETHER } from "./wide-kernel.ts";

/** Scatter below this share of a point's own sum of squares is rounding, not scatter. */
const ROUNDING_OF_SQUARES = 1e-24;
/** A variance below this share of what it can be at most is rounding: labellings without scatter must tie. */
const LEAST_SHARE = 1e-14;

/**
 * Curves scaled at each point so that the group sum u alone gives t² = k1 u²/(1 + r - k2 u²), with the same k1 and k2 at all points.
 * r is 0 but for Welch's t of unequal counts, where it is the group sum of `squares`.
 */
export interface ScaledSums {
  readonly values: Table;
  readonly squares?: Table;
  /** Sign flips of pairs in place of labels. */
  readonly isSigned: boolean;
  readonly k1: number;
  readonly k2: number;
}

/** Rows of curves, and the variance of measurement that no denominator may fall below (0 where there is none), a point. */
export interface FlooredCurves {
  readonly values: Values;
  readonly countPoints: number;
  readonly floor: Float64Array;
}

/** Sum of squares of a column about `centre`; 0 where it is rounding. */
function columnSquares({ values, countPoints }: FlooredCurves, q: number, centre: number): number {
  let squares = 0;
  let size = 0;
  for (let at = q; at < values.length; at += countPoints) {
    squares += (values[at]! - centre) ** 2;
    size += values[at]! ** 2;
  }
  return squares <= ROUNDING_OF_SQUARES * size ? 0 : squares;
}

/** Mean of a column, in two passes. NaN where a shot lacks the point. */
function columnMean(values: Values, countPoints: number, q: number): number {
  const n = values.length / countPoints;
  let sum = 0;
  for (let at = q; at < values.length; at += countPoints) sum += values[at]!;
  let rest = 0;
  for (let at = q; at < values.length; at += countPoints) rest += values[at]! - sum / n;
  return sum / n + rest / n;
}

/** Each column less its centre, divided by √(c Q + floor), Q its sum of squares; 0 where a shot lacks the point or nothing scatters. */
function scaledTable(curves: FlooredCurves, c: number, isCentred: boolean): Table {
  const { values, countPoints, floor } = curves;
  const scaled = new Float64Array(values.length);
  for (let q = 0; q < countPoints; q++) {
    const centre = columnMean(values, countPoints, q);
    const from = isCentred ? centre : 0;
    const base = c * columnSquares(curves, q, from) + floor[q]!;
    if (!(base > 0)) continue;
    const scale = 1 / Math.sqrt(base);
    for (let at = q; at < values.length; at += countPoints) scaled[at] = (values[at]! - from) * scale;
  }
  return { values: scaled, countShots: values.length / countPoints, countPoints };
}

/**
 * For |t| of two conditions: Welch's, or pooled (the two are one where the counts are equal).
 *
 * @param curves  all shots; `floor` the part of se² that measurement alone gives
 */
export function twoSampleSums(
  curves: FlooredCurves,
  { nA, nB }: { readonly nA: number; readonly nB: number },
  statistic: "welch" | "pooled",
): ScaledSums {
  const perMean = 1 / nA + 1 / nB;
  if (statistic === "pooled" || nA === nB) {
    const c = perMean / (nA + nB - 2);
    return { values: scaledTable(curves, c, true), isSigned: false, k1: perMean ** 2, k2: c * perMean };
  }
  const [cA, cB] = [1 / (nA * (nA - 1)), 1 / (nB * (nB - 1))];
  const values = scaledTable(curves, cB, true);
  const squares = { ...values, values: values.values.map((x) => (cA - cB) * x * x) };
  return { values, squares, isSigned: false, k1: perMean ** 2, k2: cA / nA + cB / nB };
}

/** For |t| of the mean of paired differences under sign flips. */
export function signFlipSums(differences: FlooredCurves): ScaledSums {
  const n = differences.values.length / differences.countPoints;
  const values = scaledTable(differences, 1 / (n * (n - 1)), false);
  return { values, isSigned: true, k1: 1 / n ** 2, k2: 1 / (n ** 2 * (n - 1)) };
}

/** For F of k conditions: with sums u_g of the groups, v = Σ u_g²/n_g, F = v/(k-1) / (1 - v/(N-k)); `floor` a shot's variance of measurement. */
export function conditionSums(curves: FlooredCurves, countConditions: number): Table {
  const countShots = curves.values.length / curves.countPoints;
  return scaledTable(curves, 1 / (countShots - countConditions), true);
}

/** A variance as a share of the largest it can be, never so small that only rounding is left. */
export function leastShare(share: number): number {
  return Math.max(share, LEAST_SHARE);
}

function raiseByTwoSums(scaled: Required<ScaledSums>, rows: LabelRows, out: Float64Array): void {
  const { k1, k2, values } = scaled;
  const [sums, squares] = [emptySums(rows), emptySums(rows)];
  const [u, r] = [new Float64Array(POINTS_TOGETHER), new Float64Array(POINTS_TOGETHER)];
  for (let firstPoint = 0; firstPoint < values.countPoints; firstPoint += POINTS_TOGETHER) {
    fillSums(values, { firstPoint, isSigned: false }, sums);
    fillSums(scaled.squares, { firstPoint, isSigned: false }, squares);
    for (let row = 0; row < rows.countRows; row++) {
      addRow(sums, rows, row, u);
      addRow(squares, rows, row, r);
      let largest = out[row]! ** 2;
      for (let q = 0; q < POINTS_TOGETHER; q++) {
        const square = u[q]! * u[q]!;
        const variance = leastShare(1 + r[q]! - k2 * square);
        // Dividing only where it raises.
        if (k1 * square > largest * variance) largest = (k1 * square) / variance;
      }
      out[row] = Math.max(out[row]!, Math.sqrt(largest));
    }
  }
}

/** Raises each row's entry of `out` to the largest |t| over the points. */
export function raiseLargestT(scaled: ScaledSums, rows: LabelRows, out: Float64Array): void {
  const { values, squares, isSigned, k1, k2 } = scaled;
  if (squares !== undefined) {
    raiseByTwoSums({ ...scaled, squares }, rows, out);
    return;
  }
  const largest = largestSums(values, rows, isSigned);
  for (let row = 0; row < rows.countRows; row++) {
    const square = largest[row]! ** 2;
    out[row] = Math.max(out[row]!, Math.sqrt((k1 * square) / leastShare(1 - k2 * square)));
  }
}

/**
 * Visits every row's signed t, block of points after block: A's mean less B's, or that of the flipped differences.
 *
 * @param visit  receives the row, the first point, and t of `count` points; the array is reused
 */
export function eachBlockOfT(
  scaled: ScaledSums,
  rows: LabelRows,
  visit: (row: number, block: { readonly first: number; readonly count: number; readonly t: Float64Array }) => void,
): void {
  const { values, k1, k2 } = scaled;
  const { isSigned } = scaled;
  const sums = emptySums(rows);
  const squares = scaled.squares && emptySums(rows);
  const [t, r] = [new Float64Array(POINTS_TOGETHER), new Float64Array(POINTS_TOGETHER)];
  for (let first = 0; first < values.countPoints; first += POINTS_TOGETHER) {
    const count = Math.min(POINTS_TOGETHER, values.countPoints - first);
    fillSums(values, { firstPoint: first, isSigned }, sums);
    if (squares !== undefined && scaled.squares !== undefined)
      fillSums(scaled.squares, { firstPoint: first, isSigned: false }, squares);
    for (let row = 0; row < rows.countRows; row++) {
      addRow(sums, rows, row, t);
      if (squares !== undefined) addRow(squares, rows, row, r);
      for (let q = 0; q < count; q++) {
        const u = t[q]!;
        t[q] = (Math.sqrt(k1) * u) / Math.sqrt(leastShare(1 + r[q]! - k2 * u * u));
      }
      visit(row, { first, count, t });
    }
  }
}

/** Raises each labelling's entry of `out` to the largest F over the points. @param rows  one set of rows for each condition but the last */
export function raiseLargestF(
  table: Table,
  { rows, counts }: { readonly rows: readonly LabelRows[]; readonly counts: readonly number[] },
  out: Float64Array,
): void {
  const [first] = rows;
  if (first === undefined) return;
  const [k, N] = [counts.length, table.countShots];
  const sums = emptySums(first);
  const u = new Float64Array(POINTS_TOGETHER);
  const [rest, between] = [new Float64Array(POINTS_TOGETHER), new Float64Array(POINTS_TOGETHER)];
  const largest = new Float64Array(out.length);
  for (let at = 0; at < table.countPoints; at += POINTS_TOGETHER) {
    fillSums(table, { firstPoint: at, isSigned: false }, sums);
    for (let row = 0; row < out.length; row++) {
      rest.fill(0);
      between.fill(0);
      for (let g = 0; g + 1 < k; g++) {
        addRow(sums, rows[g]!, row, u);
        for (let q = 0; q < POINTS_TOGETHER; q++) {
          rest[q]! -= u[q]!;
          between[q]! += (u[q]! * u[q]!) / counts[g]!;
        }
      }
      for (let q = 0; q < POINTS_TOGETHER; q++)
        largest[row] = Math.max(largest[row]!, between[q]! + (rest[q]! * rest[q]!) / counts[k - 1]!);
    }
  }
  for (let row = 0; row < out.length; row++) out[row] = Math.max(out[row]!, fFromBetween(largest[row]!, k, N));
}

/** F from the sum of squares between, scaled so that all squares together and the floor have mean square 1. */
function fFromBetween(between: number, k: number, N: number): number {
  return between / (k - 1) / leastShare(1 - between / (N - k));
}
