import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  backwardSolve,
  choleskyInPlace,
  forwardSolve,
  inverseFromCholesky,
  logDeterminant,
  quadraticForm,
} from "./cholesky.ts";
import { backSubstituted, firstDependent, householderTriangle, inverseRows } from "./householder.ts";

const close = (got: number, wanted: number, tolerance: number): void =>
  expect(Math.abs(got - wanted) / Math.max(1, Math.abs(wanted)), `${got}, wanted ${wanted}`).toBeLessThanOrEqual(
    tolerance,
  );
/** Hilbert's matrix 1/(i + j - 1). */
const hilbert = (n: number): Float64Array<ArrayBuffer> =>
  Float64Array.from({ length: n * n }, (_, e) => 1 / (Math.floor(e / n) + (e % n) + 1));
function binomial(n: number, k: number): number {
  let product = 1;
  for (let j = 1; j <= k; j++) product = (product * (n - k + j)) / j;
  return Math.round(product);
}
const drawn = fc.array(
  fc.integer({ min: -50, max: 50 }).map((one) => one / 5),
  { minLength: 16, maxLength: 16 },
);

describe("Cholesky", () => {
  it("of Hilbert's matrix gives its inverse, whole numbers in closed form (Choi 1983, from memory)", () => {
    const n = 5;
    const l = hilbert(n);
    expect(choleskyInPlace(l, n)).toBe(true);
    const inverse = inverseFromCholesky(l, n);
    for (let i = 1; i <= n; i++) {
      for (let j = 1; j <= n; j++) {
        const wanted =
          (-1) ** (i + j) *
          (i + j - 1) *
          binomial(n + i - 1, n - j) *
          binomial(n + j - 1, n - i) *
          binomial(i + j - 2, i - 1) ** 2;
        // The condition number is 5e5.
        close(inverse[(i - 1) * n + j - 1]!, wanted, 1e-9);
      }
    }
    // 1/det = 266,716,800,000 for n = 5 (OEIS A005249).
    close(logDeterminant(l, n), -Math.log(266_716_800_000), 1e-11);
  });
  it("refuses what is not positive definite, NaN included", () => {
    expect(choleskyInPlace(Float64Array.of(1, 0, 2, 1), 2)).toBe(false);
    expect(choleskyInPlace(Float64Array.of(0), 1)).toBe(false);
    expect(choleskyInPlace(Float64Array.of(Number.NaN), 1)).toBe(false);
  });
  it("of a large matrix with zeros before the first entries of its rows is the same triangle", () => {
    const n = 40;
    // Two factors that cross: the first diagonal, the second linked to some of the first.
    const a = new Float64Array(n * n);
    for (let i = 0; i < n; i++) {
      a[i * n + i] = 9 + (i % 3);
      if (i >= 20) for (let j = i % 7; j < 20; j += 7) a[i * n + j] = 1 + ((i + j) % 2);
    }
    const l = a.slice();
    expect(choleskyInPlace(l, n)).toBe(true);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j <= i; j++) {
        let product = 0;
        for (let k = 0; k <= j; k++) product += l[i * n + k]! * l[j * n + k]!;
        close(product, a[i * n + j]!, 1e-14);
      }
    }
  });
  it("solves both ways for several right sides at once", () => {
    const l = Float64Array.of(2, 0, 1, 3);
    const b = Float64Array.of(2, 4, 7, 5);
    forwardSolve(l, 2, b, 2);
    expect([...b]).toEqual([1, 2, 2, 1]);
    backwardSolve(l, 2, b, 2);
    expect(b[2]).toBeCloseTo(2 / 3, 14);
    expect(b[0]).toBeCloseTo((1 - 2 / 3) / 2, 14);
    expect(quadraticForm(Float64Array.of(2, 1, 1, 3), [1, -2])).toBe(2 - 4 + 12);
  });
  it("L Lᵀ is the matrix, for any sum of squares with a ridge", () => {
    fc.assert(
      fc.property(drawn, (x) => {
        const n = 4;
        const a = Float64Array.from({ length: n * n }, (_, e) => {
          let sum = Math.floor(e / n) === e % n ? 1 : 0;
          for (let k = 0; k < n; k++) sum += x[k * n + Math.floor(e / n)]! * x[k * n + (e % n)]!;
          return sum;
        });
        const l = a.slice();
        expect(choleskyInPlace(l, n)).toBe(true);
        for (let i = 0; i < n; i++) {
          for (let j = 0; j <= i; j++) {
            let product = 0;
            for (let k = 0; k <= j; k++) product += l[i * n + k]! * l[j * n + k]!;
            close(product, a[i * n + j]!, 1e-12);
          }
        }
      }),
    );
  });
});

describe("Householder's triangle", () => {
  it("has the columns' products, and turns y by the same reflections", () => {
    fc.assert(
      fc.property(drawn, (x) => {
        const columns = [0, 1, 2].map((j) => Float64Array.from({ length: 5 }, (_, i) => x[j * 5 + i]!));
        const y = Float64Array.from({ length: 5 }, (_, i) => Math.cos(i));
        const turned = columns.map((column) => column.slice());
        const turnedY = y.slice();
        householderTriangle(turned, turnedY);
        const dot = (a: ArrayLike<number>, b: ArrayLike<number>, count: number): number => {
          let sum = 0;
          for (let i = 0; i < count; i++) sum += a[i]! * b[i]!;
          return sum;
        };
        for (let a = 0; a < 3; a++)
          for (let b = 0; b <= a; b++)
            close(dot(turned[a]!, turned[b]!, b + 1), dot(columns[a]!, columns[b]!, 5), 1e-11);
        close(dot(turnedY, turnedY, 5), dot(y, y, 5), 1e-13);
        // Rᵀ (Qᵀy) = Xᵀy.
        for (let a = 0; a < 3; a++) close(dot(turned[a]!, turnedY, a + 1), dot(columns[a]!, y, 5), 1e-11);
      }),
    );
  });
  it("loses nothing where a column lies almost along the first axis", () => {
    const columns = [Float64Array.of(1, 1e-9, 0), Float64Array.of(3, 4, 1)];
    householderTriangle(columns, new Float64Array(3));
    close(columns[0]![0]! * columns[1]![0]!, 3 + 4e-9, 1e-15);
    close(Math.abs(columns[1]![1]!), Math.hypot(4 - 3e-9, 1), 1e-14);
  });
  it("solves and inverts its triangle", () => {
    const r = [Float64Array.of(2, 0), Float64Array.of(1, 4)];
    expect([...backSubstituted(r, [4, 8])]).toEqual([1, 2]);
    expect(inverseRows(r).map((row) => [...row])).toEqual([
      [0.5, -0.125],
      [0, 0.25],
    ]);
  });
  it("names the first column that says nothing new, an empty one too, however large or small", () => {
    const dependent = (columns: number[][]): number => {
      const turned = columns.map((column) => Float64Array.from(column));
      householderTriangle(turned, new Float64Array(columns[0]!.length));
      return firstDependent(turned, 1e-9);
    };
    const x = [1, 2, 4, 7, 3];
    const ones = [1, 1, 1, 1, 1];
    expect(dependent([ones, x])).toBe(-1);
    expect(dependent([ones, x.map((one) => 1e-100 * one)])).toBe(-1);
    expect(dependent([ones, x.map((one) => 1e100 * one)])).toBe(-1);
    expect(dependent([ones, x, x.map((one) => 2 * one + 5)])).toBe(2);
    expect(dependent([ones, [0, 0, 0, 0, 0]])).toBe(1);
  });
});
