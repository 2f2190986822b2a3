import { incompleteBeta } from "./incomplete-beta.ts";
import { root } from "./root.ts";
import { checkedShare, shortfall, type Tails } from "./tails.ts";

/**
 * Both tails of Student's t: P(T > t) = ½ I_x(ν/2, ½) at x = ν/(ν + t²), t >= 0 (DLMF 8.17 with Abramowitz & Stegun 26.7.1).
 *
 * @param t   any number, infinities included
 * @param nu  degrees of freedom, greater than 0, not necessarily whole
 * @returns   P(T <= t) and P(T > t); the smaller one to about 1e-13 relative
 */
export function studentTails(t: number, nu: number): Tails {
  if (!(nu > 0)) throw new RangeError(`Student's t wants degrees of freedom above 0, not ${nu}`);
  if (t < 0) {
    const { lower, upper } = studentTails(-t, nu);
    return { lower: upper, upper: lower };
  }
  if (t === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  // In both forms neither 1 - x nor x is ever formed by subtraction.
  const ratio = t / Math.sqrt(nu);
  const x = 1 / (1 + ratio * ratio);
  const y = ratio / Math.hypot(1, ratio);
  const upper = incompleteBeta(nu / 2, 0.5, x, y * y).lower / 2;
  return { lower: 1 - upper, upper };
}

/** P(T <= t; ν). */
export function studentCdf(t: number, nu: number): number {
  return studentTails(t, nu).lower;
}

/** p of |T| >= |t|, two-sided. */
export function studentTwoSidedP(t: number, nu: number): number {
  return 2 * studentTails(Math.abs(t), nu).upper;
}

/** The t that P(T <= t; ν) = p, 0 < p < 1; to 1e-12 relative, 0 at p = ½. */
export function studentQuantile(pOfOne: number, nu: number): number {
  checkedShare(pOfOne);
  if (pOfOne === 0.5) return 0;
  return root((t) => shortfall(studentTails(t, nu), pOfOne), { low: -2, high: 2 });
}
