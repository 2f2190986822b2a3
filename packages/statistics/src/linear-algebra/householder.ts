import type { Values } from "../samples.ts";

/** Length of what stands from `first` on, scaled so that nothing overflows. */
function lengthFrom(column: Float64Array, first: number): number {
  let largest = 0;
  for (let i = first; i < column.length; i++) largest = Math.max(largest, Math.abs(column[i]!));
  if (largest === 0) return 0;
  let sum = 0;
  for (let i = first; i < column.length; i++) sum += (column[i]! / largest) ** 2;
  return largest * Math.sqrt(sum);
}

/**
 * Householder's triangle, in place: afterwards R stands in the upper triangle of the columns (R_ij is columns[j][i]), and the same reflections
 * are done to y, whose first entries are then Qᵀy (Golub & Van Loan, Matrix Computations, section 5.2).
 *
 * @param columns  p columns of n values, n >= p; overwritten. A column of zeros after reflection stays so: R then has a 0 on its diagonal
 * @param y        n values; overwritten
 */
export function householderTriangle(columns: readonly Float64Array[], y: Float64Array): void {
  columns.forEach((column, j) => {
    const norm = lengthFrom(column, j);
    if (norm === 0) return;
    const alpha = column[j]! > 0 ? -norm : norm;
    const v = column.slice(j);
    v[0] = v[0]! - alpha;
    const square = v.reduce((sum, one) => sum + one * one, 0);
    for (const target of [...columns.slice(j), y]) {
      let dot = 0;
      for (let i = 0; i < v.length; i++) dot += v[i]! * target[i + j]!;
      const factor = (2 * dot) / square;
      for (let i = 0; i < v.length; i++) target[i + j] = target[i + j]! - factor * v[i]!;
    }
  });
}

/**
 * The first column that is a combination of those before it, or -1: its own part, on R's diagonal, is at most this share of its length.
 *
 * @param columns  as `householderTriangle` left them
 */
export function firstDependent(columns: readonly Float64Array[], shareOfOne: number): number {
  return columns.findIndex((column, j) => {
    const own = Math.abs(column[j]!);
    let square = own ** 2;
    for (let i = 0; i < j; i++) square += column[i]! ** 2;
    return !(own > shareOfOne * Math.sqrt(square));
  });
}

/** Solves R b = y for the upper triangle that `householderTriangle` left. */
export function backSubstituted(columns: readonly Float64Array[], y: Values): Float64Array<ArrayBuffer> {
  const b = new Float64Array(columns.length);
  for (let j = columns.length - 1; j >= 0; j--) {
    let rest = y[j]!;
    for (let k = j + 1; k < columns.length; k++) rest -= columns[k]![j]! * b[k]!;
    b[j] = rest / columns[j]![j]!;
  }
  return b;
}

/** Rows of R⁻¹: of least squares their squared lengths are the variances over σ², their products the covariances. */
export function inverseRows(columns: readonly Float64Array[]): readonly Float64Array<ArrayBuffer>[] {
  const p = columns.length;
  const solved = Array.from({ length: p }, (_, k) => {
    const unit = new Float64Array(p);
    unit[k] = 1;
    return backSubstituted(columns, unit);
  });
  return Array.from({ length: p }, (_, j) => Float64Array.from(solved, (column) => column[j]!));
}
