import { backwardSolve, choleskyInPlace, forwardSolve, logDeterminant } from "../linear-algebra/cholesky.ts";
import type { Values } from "../samples.ts";
import type { MixedDesign, MixedSums } from "./mixed-design.ts";
import { singleColumns, subtractSingles } from "./single-columns.ts";

/** Below this share of the sum of squares, r² is formed from the rows and not by subtraction: a search by differences wants twelve digits of it. */
const CANCELLED = 1e-5;

/** The profiled REML criterion at one θ and its parts (Bates, Mächler, Bolker & Walker 2015, eqs. 34 and 42, from memory). */
export interface AtTheta {
  /** d(θ), to be minimised; that of y in its own units and X as it was given. Infinite where nothing is left over. */
  readonly criterion: number;
  /** log|V| + log|XᵀV⁻¹X|, X as it was given. */
  readonly logDeterminants: number;
  /** Penalised residual sum of squares r². */
  readonly squares: number;
  /** (QᵀV⁻¹Q)⁻¹, countFixed × countFixed: the covariance of γ over σ². */
  readonly covariance: () => Float64Array<ArrayBuffer>;
  /** Fixed effects in the basis, beside what least squares took off. */
  readonly inBasis: () => Float64Array<ArrayBuffer>;
  /** b of each random column. */
  readonly random: () => Float64Array<ArrayBuffer>;
}

/** One block at one θ: L of ΛᵀZᵀZΛ + I and L⁻¹ΛᵀZᵀ[Q e]. */
export interface BlockFactor {
  readonly size: number;
  /** size × size, lower triangle. */
  readonly l: Float64Array<ArrayBuffer>;
  /** size × (countFixed + 1), row-major. */
  readonly w: Float64Array<ArrayBuffer>;
}

/** Λᵀ of a vector over the columns of one block, `first` the block's first column. */
export function lambdaTransposed(
  design: MixedDesign,
  theta: Values,
  { first, v }: { readonly first: number; readonly v: Values },
): Float64Array<ArrayBuffer> {
  const { diagonal, link } = design.random;
  return Float64Array.from(v, (value, k) => {
    const column = first + k;
    return theta[diagonal[column]!]! * value + (link[column]! < 0 ? 0 : theta[link[column]!]! * v[k + 1]!);
  });
}

/**
 * Factors one block into `out`: sums only, no row is looked at.
 *
 * @param out  scratch for the largest block
 */
function factorBlock(
  o: { readonly design: MixedDesign; readonly sums: MixedSums; readonly theta: Values },
  block: number,
  out: { readonly l: Float64Array; readonly w: Float64Array },
): number {
  const { random, randomBasis, countFixed: p } = o.design;
  const { diagonal, link } = random;
  const first = random.blockStarts[block]!;
  const size = random.blockStarts[block + 1]! - first;
  const at = random.squaresStarts[block]!;
  const { l, w } = out;
  const m = p + 1;
  const { theta } = o;
  for (let a = 0; a < size; a++) {
    const own = theta[diagonal[first + a]!]!;
    const linkA = link[first + a]!;
    const other = linkA < 0 ? 0 : theta[linkA]!;
    const next = linkA < 0 ? a : a + 1;
    for (let b = 0; b <= a; b++) {
      const ownB = theta[diagonal[first + b]!]!;
      const linkB = link[first + b]!;
      const row = at + a * size + b;
      const below = at + next * size + b;
      let value = (own * random.squares[row]! + other * random.squares[below]!) * ownB;
      if (linkB >= 0) value += (own * random.squares[row + 1]! + other * random.squares[below + 1]!) * theta[linkB]!;
      l[a * size + b] = value;
    }
    l[a * size + a]! += 1;
    for (let c = 0; c < p; c++)
      w[a * m + c] = own * randomBasis[(first + a) * p + c]! + other * randomBasis[(first + next) * p + c]!;
    w[a * m + p] = own * o.sums.randomResiduals[first + a]! + other * o.sums.randomResiduals[first + next]!;
  }
  choleskyInPlace(l, size);
  forwardSolve(l, size, w, m);
  return size;
}

/** One block factored, in arrays of its own. */
export function blockFactor(design: MixedDesign, sums: MixedSums, theta: Values, block: number): BlockFactor {
  const size = design.random.blockStarts[block + 1]! - design.random.blockStarts[block]!;
  const l = new Float64Array(size * size);
  const w = new Float64Array(size * (design.countFixed + 1));
  factorBlock({ design, sums, theta }, block, { l, w });
  return { size, l, w };
}

/** γ of the mixed model beside least squares: solves (QᵀV⁻¹Q) γ = QᵀV⁻¹e from the triangle of both together. */
function solvedBasis(l: Float64Array, p: number): Float64Array<ArrayBuffer> {
  const m = p + 1;
  const gamma = Float64Array.from({ length: p }, (_, j) => l[p * m + j]!);
  for (let i = p - 1; i >= 0; i--) {
    for (let k = i + 1; k < p; k++) gamma[i]! -= l[k * m + i]! * gamma[k]!;
    gamma[i]! /= l[i * m + i]!;
  }
  return gamma;
}

/** u = L⁻ᵀ(c_u - R_ZX γ) and b = Λu of every random column. */
function randomEffects(
  o: { readonly design: MixedDesign; readonly sums: MixedSums; readonly theta: Values },
  gamma: Values,
): { readonly u: Float64Array<ArrayBuffer>; readonly b: Float64Array<ArrayBuffer> } {
  const { random, countFixed: p } = o.design;
  const { theta } = o;
  const m = p + 1;
  const u = new Float64Array(random.countColumns);
  const b = new Float64Array(random.countColumns);
  const l = new Float64Array(random.largestBlock ** 2);
  const w = new Float64Array(random.largestBlock * m);
  for (let block = 0; block + 1 < random.blockStarts.length; block++) {
    const size = factorBlock(o, block, { l, w });
    const first = random.blockStarts[block]!;
    const own = u.subarray(first, first + size);
    for (let a = 0; a < size; a++) {
      own[a] = w[a * m + p]!;
      for (let c = 0; c < p; c++) own[a]! -= w[a * m + c]! * gamma[c]!;
    }
    backwardSolve(l, size, own, 1);
    for (let a = 0; a < size; a++) {
      const column = first + a;
      b[column]! += theta[random.diagonal[column]!]! * own[a]!;
      if (random.link[column]! >= 0) b[column + 1]! += theta[random.link[column]!]! * own[a]!;
    }
  }
  return { u, b };
}

/** r² as |e - Qγ - Zb|² + |u|², from the rows: nothing is subtracted from anything large. */
function squaresFromRows(
  o: { readonly design: MixedDesign; readonly sums: MixedSums; readonly theta: Values },
  gamma: Values,
): number {
  const { design, sums } = o;
  const { u, b } = randomEffects(o, gamma);
  let squares = u.reduce((sum, one) => sum + one * one, 0);
  for (let i = 0; i < design.countRows; i++) {
    let rest = sums.residuals[i]!;
    for (let c = 0; c < design.countFixed; c++) rest -= design.basis[i * design.countFixed + c]! * gamma[c]!;
    for (let e = 0; e < design.random.entriesPerRow; e++) {
      const at = i * design.random.entriesPerRow + e;
      rest -= design.random.weightOfEntry[at]! * b[design.random.columnOfEntry[at]!]!;
    }
    squares += rest * rest;
  }
  return squares;
}

/** Takes WᵀW off the lower triangle of `gram`, m × m. */
function subtractSquares(w: Float64Array, o: { readonly rows: number; readonly m: number }, gram: Float64Array): void {
  const { rows, m } = o;
  for (let a = 0; a < rows; a++) {
    for (let i = 0; i < m; i++) {
      const factor = w[a * m + i]!;
      for (let j = 0; j <= i; j++) gram[i * m + j]! -= factor * w[a * m + j]!;
    }
  }
}

/**
 * The profiled REML criterion of one measure as a function of θ. Each call looks at sums only, block by block.
 *
 * @returns  a function of θ; what it returns is its own until the next call
 */
export function remlCriterion(design: MixedDesign, sums: MixedSums): (theta: Values) => AtTheta {
  const { countRows, countFixed: p, random } = design;
  const m = p + 1;
  const nu = countRows - p;
  const gram = new Float64Array(m * m);
  const scratch = {
    l: new Float64Array(random.largestBlock ** 2),
    w: new Float64Array(random.largestBlock * m),
  };
  const singles = singleColumns(design, sums);
  let logOfTriangle = 0;
  for (let j = 0; j < p; j++) logOfTriangle += 2 * Math.log(Math.abs(design.triangle[j]![j]!));
  const reset = (): void => {
    for (let a = 0; a < p; a++) {
      for (let b = 0; b <= a; b++) gram[a * m + b] = design.basisSquares[a * p + b]!;
      gram[p * m + a] = 0;
    }
    gram[p * m + p] = sums.squares;
  };
  return (theta) => {
    const o = { design, sums, theta };
    reset();
    let logV = subtractSingles(singles, theta, gram);
    for (const block of singles.others) {
      const size = factorBlock(o, block, scratch);
      logV += logDeterminant(scratch.l, size);
      subtractSquares(scratch.w, { rows: size, m }, gram);
    }
    const isDefinite = choleskyInPlace(gram, m);
    let squares = isDefinite ? gram[p * m + p]! ** 2 : 0;
    if (squares < CANCELLED * sums.squares) squares = squaresFromRows(o, solvedBasis(gram, p));
    let logX = logOfTriangle;
    for (let j = 0; j < p; j++) logX += 2 * Math.log(gram[j * m + j]!);
    return {
      criterion: logV + logX + nu * (1 + Math.log((2 * Math.PI * squares) / nu)),
      logDeterminants: logV + logX,
      squares,
      covariance: () => {
        const inverse = new Float64Array(p * p);
        const l = Float64Array.from({ length: p * p }, (_, e) => gram[Math.floor(e / p) * m + (e % p)]!);
        for (let j = 0; j < p; j++) inverse[j * p + j] = 1;
        forwardSolve(l, p, inverse, p);
        backwardSolve(l, p, inverse, p);
        return inverse;
      },
      inBasis: () => solvedBasis(gram, p),
      random: () => randomEffects(o, solvedBasis(gram, p)).b,
    };
  };
}
