import type { Values } from "../samples.ts";

/**
 * Householder's triangle, in place: afterwards R stands in the upper triangle of the columns (R_ij is columns[j][i]), and the same reflections
 * are done to y, whose first entries are then Qᵀy (Golub & Van Loan, Matrix Computations, section 5.2).
 *
 * @param columns  p columns of n values, n >= p; overwritten. A column of zeros after reflection is a RangeError
 * @param y        n values; overwritten
 */
export function householderTriangle(columns: readonly Float64Array[], y: Float64Array): void {
  const rows = y.length;
  columns.forEach((column, j) => {
    let norm = 0;
    for (let i = j; i < rows; i++) norm = Math.hypot(norm, column[i]!);
    if (norm === 0) throw new RangeError(`column ${j} depends on the others: no least squares`);
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
