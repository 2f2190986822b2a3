import { backSubstituted, firstDependent, householderTriangle } from "../linear-algebra/householder.ts";
import type { Values } from "../samples.ts";
import { type RandomColumns, type RandomTerm, randomColumns } from "./random-columns.ts";

/** A fixed column whose own part, beside the columns before it, is below this share of its length says nothing new. */
const DEPENDENT = 1e-9;

/**
 * Everything of y = Xβ + Zb + ε, ε ~ N(0, σ² I), b ~ N(0, σ² ΛΛᵀ) that does not depend on y: made once for all measures of the same rows.
 * X is held as a basis Q with X = QR: sums of squares of a badly scaled X would lose what the residuals need.
 */
export interface MixedDesign {
  readonly countRows: number;
  readonly countFixed: number;
  /** Q, countRows × countFixed, row-major. */
  readonly basis: Float64Array<ArrayBuffer>;
  /** Columns of R; entries below the diagonal are not looked at. */
  readonly triangle: readonly Float64Array<ArrayBuffer>[];
  /** QᵀQ, countFixed × countFixed. */
  readonly basisSquares: Float64Array<ArrayBuffer>;
  readonly random: RandomColumns;
  /** ZᵀQ, one row a random column. */
  readonly randomBasis: Float64Array<ArrayBuffer>;
}

function triangleOf(columns: readonly Values[]): readonly Float64Array<ArrayBuffer>[] {
  const turned = columns.map((column) => Float64Array.from(column));
  householderTriangle(turned, new Float64Array(columns[0]!.length));
  return turned.map((column) => column.slice(0, columns.length));
}

/** Whether columns can all be told apart: none is a combination of those before it. At least as many rows as columns. */
export function areIndependent(columns: readonly Values[]): boolean {
  return columns[0]!.length >= columns.length && firstDependent(triangleOf(columns), DEPENDENT) < 0;
}

/** Q = X R⁻¹, row by row. */
function basisOf(columns: readonly Values[], triangle: readonly Float64Array[]): Float64Array<ArrayBuffer> {
  const p = columns.length;
  const countRows = columns[0]!.length;
  const basis = new Float64Array(countRows * p);
  for (let i = 0; i < countRows; i++) {
    for (let j = 0; j < p; j++) {
      let rest = columns[j]![i]!;
      for (let k = 0; k < j; k++) rest -= basis[i * p + k]! * triangle[j]![k]!;
      basis[i * p + j] = rest / triangle[j]![j]!;
    }
  }
  return basis;
}

/**
 * The design of a mixed model.
 *
 * @param fixed   columns of X, each a value a row, the intercept's ones among them; independent, fewer than rows
 * @param terms   random terms; nested or crossed, levels of any names
 * @returns       plain data; a RangeError where lengths differ or fixed columns depend on each other
 */
export function mixedDesign(fixed: readonly Values[], terms: readonly RandomTerm[]): MixedDesign {
  const countRows = fixed[0]?.length ?? 0;
  const countFixed = fixed.length;
  if (countFixed === 0 || countRows <= countFixed)
    throw new RangeError(`${countRows} rows cannot carry ${countFixed} fixed effects`);
  if (fixed.some((column) => column.length !== countRows)) throw new RangeError("fixed columns of different lengths");
  const triangle = triangleOf(fixed);
  const dependent = firstDependent(triangle, DEPENDENT);
  if (dependent >= 0) throw new RangeError(`fixed column ${dependent} depends on those before it`);
  const basis = basisOf(fixed, triangle);
  const random = randomColumns(terms, countRows);
  const basisSquares = new Float64Array(countFixed * countFixed);
  const randomBasis = new Float64Array(random.countColumns * countFixed);
  for (let i = 0; i < countRows; i++) {
    const row = i * countFixed;
    for (let a = 0; a < countFixed; a++)
      for (let b = 0; b < countFixed; b++) basisSquares[a * countFixed + b]! += basis[row + a]! * basis[row + b]!;
    for (let e = 0; e < random.entriesPerRow; e++) {
      const at = i * random.entriesPerRow + e;
      const into = random.columnOfEntry[at]! * countFixed;
      const weight = random.weightOfEntry[at]!;
      for (let a = 0; a < countFixed; a++) randomBasis[into + a]! += weight * basis[row + a]!;
    }
  }
  return { countRows, countFixed, basis, triangle, basisSquares, random, randomBasis };
}

/** What one measure adds to a design. */
export interface MixedSums {
  /** y less its least squares on X, so that no sum of squares cancels; square to Q but for rounding. */
  readonly residuals: Float64Array<ArrayBuffer>;
  /** Qᵀ of what was taken off, one a fixed effect. */
  readonly taken: Float64Array<ArrayBuffer>;
  /** Zᵀ of the residuals. */
  readonly randomResiduals: Float64Array<ArrayBuffer>;
  readonly squares: number;
}

function basisTimes(design: MixedDesign, y: Float64Array): Float64Array<ArrayBuffer> {
  const { countRows, countFixed, basis } = design;
  const product = new Float64Array(countFixed);
  for (let i = 0; i < countRows; i++) {
    const value = y[i]!;
    for (let a = 0; a < countFixed; a++) product[a]! += value * basis[i * countFixed + a]!;
  }
  return product;
}

/** Sums of one measure, y of the design's rows, without NaN. */
export function mixedSums(design: MixedDesign, y: Values): MixedSums {
  const { countRows, countFixed, basis, random } = design;
  if (y.length !== countRows) throw new RangeError(`${y.length} values for ${countRows} rows`);
  const residuals = Float64Array.from(y);
  const taken = new Float64Array(countFixed);
  // Twice: the second pass takes off what rounding left in the first.
  for (let pass = 0; pass < 2; pass++) {
    const part = basisTimes(design, residuals);
    for (let a = 0; a < countFixed; a++) taken[a]! += part[a]!;
    for (let i = 0; i < countRows; i++) {
      let fitted = 0;
      for (let a = 0; a < countFixed; a++) fitted += basis[i * countFixed + a]! * part[a]!;
      residuals[i]! -= fitted;
    }
  }
  const randomResiduals = new Float64Array(random.countColumns);
  let squares = 0;
  for (let i = 0; i < countRows; i++) {
    const value = residuals[i]!;
    if (Number.isNaN(value)) throw new RangeError(`row ${i} has no value`);
    squares += value * value;
    for (let e = 0; e < random.entriesPerRow; e++) {
      const at = i * random.entriesPerRow + e;
      randomResiduals[random.columnOfEntry[at]!]! += random.weightOfEntry[at]! * value;
    }
  }
  return { residuals, taken, randomResiduals, squares };
}

/** Fixed effects in the columns of X from those in the basis: β = R⁻¹ γ. */
export function fixedFromBasis(design: MixedDesign, inBasis: Values): Float64Array<ArrayBuffer> {
  return backSubstituted(design.triangle, inBasis);
}

/** Weights of the basis from weights of X's columns: w with c'β = w'γ, that is R⁻ᵀ c. */
export function basisWeights({ triangle, countFixed }: MixedDesign, weights: Values): Float64Array<ArrayBuffer> {
  const w = new Float64Array(countFixed);
  for (let j = 0; j < countFixed; j++) {
    let rest = weights[j]!;
    for (let k = 0; k < j; k++) rest -= triangle[j]![k]! * w[k]!;
    w[j] = rest / triangle[j]![j]!;
  }
  return w;
}
