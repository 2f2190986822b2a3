/** Both sides of a distribution at one place. The smaller one keeps its relative accuracy: 1 - lower would lose it. */
export interface Tails {
  /** P(X <= x). */
  readonly lower: number;
  /** P(X > x). */
  readonly upper: number;
}

/** A share strictly between 0 and 1, else a RangeError. */
export function checkedShare(pOfOne: number): number {
  if (!(pOfOne > 0 && pOfOne < 1)) throw new RangeError(`a quantile wants p between 0 and 1, not ${pOfOne}`);
  return pOfOne;
}

/**
 * Where a rising distribution reaches p, compared on its smaller side: how far `tails` is below p, never cancelling.
 *
 * @returns negative while the place lies below the quantile
 */
export function shortfall({ lower, upper }: Tails, pOfOne: number): number {
  return pOfOne <= 0.5 ? lower - pOfOne : 1 - pOfOne - upper;
}
