// Small dense matrices, row-major in one Float64Array. L is a lower triangle; what stands above its diagonal is not looked at.

/** Up to this many rows looking for zeros costs more than it saves. */
const SMALL = 16;

/** Where each row's first entry that is not 0 stands: L has zeros before it too (the envelope; George & Liu 1981, section 4.2, from memory). */
function firstEntries(a: Float64Array, n: number): Int32Array {
  const first = new Int32Array(n);
  for (let i = 0; i < n; i++) {
    let j = 0;
    while (j < i && a[i * n + j] === 0) j++;
    first[i] = j;
  }
  return first;
}

/**
 * Cholesky's triangle of a symmetric positive definite matrix, in place: A = L Lᵀ. Zeros at the beginning of a row cost nothing.
 *
 * @param a  n × n, its lower triangle filled; receives L there
 * @returns  false where A is not positive definite to working precision; `a` is then spoiled
 */
export function choleskyInPlace(a: Float64Array, n: number): boolean {
  const first = n > SMALL ? firstEntries(a, n) : undefined;
  for (let i = 0; i < n; i++) {
    const rowI = i * n;
    const fromI = first === undefined ? 0 : first[i]!;
    let diagonal = a[rowI + i]!;
    for (let j = fromI; j < i; j++) {
      const rowJ = j * n;
      let rest = a[rowI + j]!;
      for (let k = first === undefined ? 0 : Math.max(fromI, first[j]!); k < j; k++)
        rest -= a[rowI + k]! * a[rowJ + k]!;
      rest /= a[rowJ + j]!;
      a[rowI + j] = rest;
      diagonal -= rest * rest;
    }
    if (!(diagonal > 0)) return false;
    a[rowI + i] = Math.sqrt(diagonal);
  }
  return true;
}

/**
 * Solves L X = B in place.
 *
 * @param l  n × n lower triangle
 * @param b  n × m, row-major; receives X
 */
export function forwardSolve(l: Float64Array, n: number, b: Float64Array, m: number): void {
  for (let i = 0; i < n; i++) {
    const pivot = l[i * n + i]!;
    for (let k = 0; k < i; k++) {
      const factor = l[i * n + k]!;
      if (factor === 0) continue;
      for (let c = 0; c < m; c++) b[i * m + c]! -= factor * b[k * m + c]!;
    }
    for (let c = 0; c < m; c++) b[i * m + c]! /= pivot;
  }
}

/**
 * Solves Lᵀ X = B in place.
 *
 * @param l  n × n lower triangle
 * @param b  n × m, row-major; receives X
 */
export function backwardSolve(l: Float64Array, n: number, b: Float64Array, m: number): void {
  for (let i = n - 1; i >= 0; i--) {
    const pivot = l[i * n + i]!;
    for (let k = i + 1; k < n; k++) {
      const factor = l[k * n + i]!;
      for (let c = 0; c < m; c++) b[i * m + c]! -= factor * b[k * m + c]!;
    }
    for (let c = 0; c < m; c++) b[i * m + c]! /= pivot;
  }
}

/** log|A| = 2 Σ log L_ii of A = L Lᵀ. */
export function logDeterminant(l: Float64Array, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i++) sum += Math.log(l[i * n + i]!);
  return 2 * sum;
}

/** A⁻¹ from A = L Lᵀ; n × n. */
export function inverseFromCholesky(l: Float64Array, n: number): Float64Array<ArrayBuffer> {
  const inverse = new Float64Array(n * n);
  for (let i = 0; i < n; i++) inverse[i * n + i] = 1;
  forwardSolve(l, n, inverse, n);
  backwardSolve(l, n, inverse, n);
  return inverse;
}

/** The quadratic form c'A c of a symmetric n × n matrix. */
export function quadraticForm(a: Float64Array, c: ArrayLike<number>): number {
  const n = c.length;
  let sum = 0;
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) sum += c[i]! * a[i * n + j]! * c[j]!;
  return sum;
}
