import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { choleskyInPlace } from "../linear-algebra/cholesky.ts";
import type { Values } from "../samples.ts";
import { areIndependent, mixedDesign, mixedSums } from "./mixed-design.ts";
import { type FittedModel, mixedFit } from "./mixed-fit.ts";
import type { RandomTerm } from "./random-columns.ts";
import { remlCriterion } from "./reml-criterion.ts";

const close = (got: number, wanted: number, tolerance: number, least = 1e-9): void =>
  expect(Math.abs(got - wanted) / Math.max(Math.abs(wanted), least), `${got}, wanted ${wanted}`).toBeLessThanOrEqual(
    tolerance,
  );
function fitted(fixed: readonly Values[], terms: readonly RandomTerm[], y: Values): FittedModel {
  const model = mixedFit(mixedDesign(fixed, terms), y);
  if (model === undefined) throw new Error("nothing left over");
  return model;
}

/** d(θ) of players with cells by sums of cells: n_c, S_c, a_c = θ_c²/(1 + θ_c² n_c), h = 1 + θ_p² Σ n_c/(1 + θ_c² n_c). */
function cellCriterion(
  {
    rows,
    fixed,
    y,
  }: { rows: readonly { player: number; condition: number }[]; fixed: readonly Values[]; y: readonly number[] },
  thetaPlayer: number,
  thetaCell: number,
): number {
  const columns = [...fixed, y];
  const m = columns.length;
  const gram = new Float64Array(m * m);
  const add = (v: readonly number[], factor: number): void => {
    for (let i = 0; i < m; i++) for (let j = 0; j < m; j++) gram[i * m + j]! += factor * v[i]! * v[j]!;
  };
  for (let i = 0; i < rows.length; i++) {
    const row = columns.map((column) => column[i]!);
    add(row, 1);
  }
  let logV = 0;
  for (const player of new Set(rows.map((row) => row.player))) {
    let h = 1;
    const u = new Array<number>(m).fill(0);
    for (const condition of [0, 1, 2]) {
      const own = rows.flatMap((row, i) => (row.player === player && row.condition === condition ? [i] : []));
      const sums = columns.map((column) => own.reduce((sum, i) => sum + column[i]!, 0));
      const grown = 1 + thetaCell ** 2 * own.length;
      add(sums, -(thetaCell ** 2) / grown);
      h += (thetaPlayer ** 2 * own.length) / grown;
      sums.forEach((sum, j) => {
        u[j]! += sum / grown;
      });
      logV += Math.log(grown);
    }
    add(u, -(thetaPlayer ** 2) / h);
    logV += Math.log(h);
  }
  expect(choleskyInPlace(gram, m)).toBe(true);
  const p = m - 1;
  const nu = rows.length - p;
  let logX = 0;
  for (let j = 0; j < p; j++) logX += 2 * Math.log(gram[j * m + j]!);
  return logV + logX + nu * (1 + Math.log((2 * Math.PI * gram[p * m + p]! ** 2) / nu));
}

describe("laws", () => {
  const shots = fc.array(
    fc.record({
      player: fc.integer({ min: 0, max: 4 }),
      condition: fc.integer({ min: 0, max: 2 }),
      value: fc.integer({ min: -400, max: 400 }).map((n) => n / 8),
    }),
    { minLength: 24, maxLength: 40 },
  );
  const columnsOf = (rows: readonly { condition: number }[]): Float64Array[] =>
    [0, 1, 2].map((c) => Float64Array.from(rows, (row) => (c === 0 || row.condition === c ? 1 : 0)));
  const termsOf = (rows: readonly { player: number; condition: number }[]): RandomTerm[] => [
    { levels: rows.map((row) => row.player) },
    { levels: rows.map((row) => row.player * 3 + row.condition) },
  ];

  it("players with cells: the criterion by blocks is the closed form by sums of cells", () => {
    fc.assert(
      fc.property(
        shots,
        fc.double({ min: 0, max: 3, noNaN: true }),
        fc.double({ min: 0, max: 3, noNaN: true }),
        (rows, tp, tc) => {
          const fixed = columnsOf(rows);
          fc.pre(areIndependent(fixed));
          const y = rows.map((row) => row.value);
          const design = mixedDesign(fixed, termsOf(rows));
          const got = remlCriterion(design, mixedSums(design, y))([tp, tc]);
          close(got.criterion, cellCriterion({ rows, fixed, y }, tp, tc), 1e-8, 1);
        },
      ),
      { numRuns: 60 },
    );
  });
  it("shift and scale of the data move the result accordingly, the order of rows does not; equal data, equal bytes", () => {
    fc.assert(
      fc.property(shots, (rows) => {
        const fixed = columnsOf(rows);
        fc.pre(areIndependent(fixed));
        const y = rows.map((row) => row.value);
        const terms = [termsOf(rows)[0]!];
        const one = mixedFit(mixedDesign(fixed, terms), y);
        fc.pre(one !== undefined && one.fit.sigma > 1e-6);
        if (one === undefined) return;
        expect(mixedFit(mixedDesign(fixed, terms), y)!.fit).toEqual(one.fit);
        const moved = fitted(
          fixed,
          terms,
          y.map((value) => 4 * value + 100),
        );
        close(moved.fit.beta[0]!, 4 * one.fit.beta[0]! + 100, 1e-6, 10);
        close(moved.fit.beta[1]!, 4 * one.fit.beta[1]!, 1e-6, 10);
        close(moved.fit.sigma, 4 * one.fit.sigma, 1e-6);
        close(moved.fit.theta[0]!, one.fit.theta[0]!, 1e-4, 1);
        const turned = rows.toReversed();
        const other = fitted(columnsOf(turned), [termsOf(turned)[0]!], y.toReversed());
        close(other.fit.criterion, one.fit.criterion, 1e-9);
        close(other.fit.beta[2]!, one.fit.beta[2]!, 1e-6, 10);
      }),
      { numRuns: 40 },
    );
  });
});
