/** Below this relative distance log(x/m) would cancel against (x - m)/m. */
const NEAR = 0.1;

/**
 * x log(x/m) + m - x, the deviance of a Poisson count, without cancellation near x = m.
 * Series in v = (x - m)/(x + m): (x - m) v + 2 x Σ_{k>=1} v^(2k+1)/(2k+1) (Loader 2000, "Fast and accurate computation of binomial
 * probabilities", from memory; the identity is log(x/m) = 2 artanh v).
 *
 * @param x  greater than 0
 * @param m  greater than 0
 * @returns  0 at x = m, else positive; about 1e-15 relative
 */
export function deviance(x: number, m: number): number {
  if (Math.abs(x - m) >= NEAR * (x + m)) return x * Math.log(x / m) + m - x;
  const v = (x - m) / (x + m);
  const square = v * v;
  let sum = (x - m) * v;
  let power = 2 * x * v;
  for (let k = 1; ; k++) {
    power *= square;
    const next = sum + power / (2 * k + 1);
    if (next === sum) return sum;
    sum = next;
  }
}
