import { root } from "./root.ts";
import { checkedShare, shortfall, type Tails } from "./tails.ts";

/** Above this the continued fraction is the quicker side. */
const FRACTION_FROM = 3;
const FRACTION_TERMS = 80;
const SQRT_TWO_PI = Math.sqrt(2 * Math.PI);

/** Density of the standard normal distribution. */
function normalDensity(z: number): number {
  return Math.exp(-0.5 * z * z) / SQRT_TWO_PI;
}

/** P(0 < Z < z) / density = z + z³/3 + z⁵/15 + ...; DLMF 7.6.2 with z = √2 x, all terms positive. */
function centralSeries(z: number): number {
  let term = z;
  let sum = z;
  for (let k = 1; term > 1e-17 * sum; k++) {
    term *= (z * z) / (2 * k + 1);
    sum += term;
  }
  return sum;
}

/** P(Z > z) / density = 1/(z + 1/(z + 2/(z + 3/...))); DLMF 7.9.1, from the inside out. */
function millsRatio(z: number): number {
  let below = z;
  for (let k = FRACTION_TERMS; k >= 1; k--) below = z + k / below;
  return 1 / below;
}

/**
 * Both tails of the standard normal distribution.
 *
 * @param z  any number, infinities included
 * @returns  Φ(z) and 1 - Φ(z); the smaller one to about 1e-13 relative
 */
export function normalTails(z: number): Tails {
  if (z < 0) {
    const { lower, upper } = normalTails(-z);
    return { lower: upper, upper: lower };
  }
  if (z === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  if (z < FRACTION_FROM) {
    const central = normalDensity(z) * centralSeries(z);
    return { lower: 0.5 + central, upper: 0.5 - central };
  }
  const upper = normalDensity(z) * millsRatio(z);
  return { lower: 1 - upper, upper };
}

/** Φ(z), the cumulative standard normal distribution. */
export function normalCdf(z: number): number {
  return normalTails(z).lower;
}

/** Φ⁻¹(p), 0 < p < 1; to 1e-13 relative, 0 at p = ½. */
export function normalQuantile(pOfOne: number): number {
  checkedShare(pOfOne);
  if (pOfOne === 0.5) return 0;
  return root((z) => shortfall(normalTails(z), pOfOne), { low: -1, high: 1 });
}
