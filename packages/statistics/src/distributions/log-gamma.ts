/** log √(2π). */
const HALF_LOG_TWO_PI = 0.9189385332046728;
/** From here on the series below is good to 1e-17. */
const LARGE = 16;

/** Coefficients B_2k / (2k (2k - 1)) of Stirling's series (DLMF 5.11.1), B_2k the Bernoulli numbers. */
const STIRLING: readonly number[] = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360360, 1 / 156];

/**
 * What logΓ(x) exceeds (x - ½) log x - x + ½ log 2π by: the tail of Stirling's formula (DLMF 5.11.1).
 * Kept apart because the large parts cancel between the gamma functions of a beta function; below 16 it is reached by
 * Γ(x + 1) = x Γ(x).
 *
 * @param x  greater than 0
 * @returns  about 1/(12 x); absolute error below 1e-15 for x >= 0.5
 */
export function stirlingTail(x: number): number {
  if (x < LARGE) {
    // With S(x) the tail: S(x) - S(x+1) = (x + ½) log(1 + 1/x) - 1.
    return stirlingTail(x + 1) + ((x + 0.5) * Math.log1p(1 / x) - 1);
  }
  const inverseSquare = 1 / (x * x);
  let sum = 0;
  for (let k = STIRLING.length - 1; k >= 0; k--) sum = sum * inverseSquare + STIRLING[k]!;
  return sum / x;
}

/**
 * log Γ(x), by Stirling's series (DLMF 5.11.1).
 *
 * @param x  greater than 0
 * @returns  error below 1e-14 (absolute near the zeros at 1 and 2, else relative)
 */
export function logGamma(x: number): number {
  if (!(x > 0)) throw new RangeError(`log gamma wants x > 0, not ${x}`);
  return (x - 0.5) * Math.log(x) - x + HALF_LOG_TWO_PI + stirlingTail(x);
}
