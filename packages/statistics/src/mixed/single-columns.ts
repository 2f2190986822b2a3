import type { Values } from "../samples.ts";
import type { MixedDesign, MixedSums } from "./mixed-design.ts";

/** Blocks of a single column, the commonest: what they take off [X y]ᵀ[X y] is one factor each times products known beforehand. */
export interface SingleColumns {
  /** θ and ZᵀZ of each. */
  readonly theta: Int32Array<ArrayBuffer>;
  readonly squares: Float64Array<ArrayBuffer>;
  /** Lower triangles of (Zᵀ[Q e])ᵀ(Zᵀ[Q e]), row by row, one after the other. */
  readonly products: Float64Array<ArrayBuffer>;
  /** Rows of a triangle: fixed effects and y. */
  readonly rows: number;
  /** Scratch of one triangle. */
  readonly taken: Float64Array<ArrayBuffer>;
  /** The blocks of several columns. */
  readonly others: readonly number[];
}

export function singleColumns({ random, randomBasis, countFixed: p }: MixedDesign, sums: MixedSums): SingleColumns {
  const blocks = Array.from({ length: random.blockStarts.length - 1 }, (_, block) => block);
  const isSingle = (block: number): boolean => random.blockStarts[block + 1]! - random.blockStarts[block]! === 1;
  const singles = blocks.filter(isSingle);
  const size = ((p + 1) * (p + 2)) / 2;
  const products = new Float64Array(singles.length * size);
  let at = 0;
  for (const block of singles) {
    const column = random.blockStarts[block]!;
    const z = (i: number): number => (i < p ? randomBasis[column * p + i]! : sums.randomResiduals[column]!);
    for (let i = 0; i <= p; i++) for (let j = 0; j <= i; j++) products[at++] = z(i) * z(j);
  }
  return {
    theta: Int32Array.from(singles, (block) => random.diagonal[random.blockStarts[block]!]!),
    squares: Float64Array.from(singles, (block) => random.squares[random.squaresStarts[block]!]!),
    products,
    rows: p + 1,
    taken: new Float64Array(size),
    others: blocks.filter((block) => !isSingle(block)),
  };
}

/**
 * Takes the single columns' part off the lower triangle of `gram`, m × m: θ²/(1 + θ² ZᵀZ) times their products.
 *
 * @returns  Σ log(1 + θ² ZᵀZ) of them, of products of many: few logarithms
 */
export function subtractSingles(singles: SingleColumns, theta: Values, gram: Float64Array): number {
  const { squares, products, taken } = singles;
  const size = taken.length;
  taken.fill(0);
  let logs = 0;
  let product = 1;
  for (let k = 0; k < squares.length; k++) {
    const square = theta[singles.theta[k]!]! ** 2;
    const grown = 1 + square * squares[k]!;
    const factor = square / grown;
    product *= grown;
    if (product > 1e200) {
      logs += Math.log(product);
      product = 1;
    }
    const first = k * size;
    for (let e = 0; e < size; e++) taken[e]! += factor * products[first + e]!;
  }
  const m = singles.rows;
  for (let i = 0, e = 0; i < m; i++) for (let j = 0; j <= i; j++) gram[i * m + j]! -= taken[e++]!;
  return logs + Math.log(product);
}
