import { incompleteBeta } from "./incomplete-beta.ts";
import { root } from "./root.ts";
import { checkedShare, shortfall, type Tails } from "./tails.ts";

/**
 * Both tails of F: P(F > f) = I_x(ν2/2, ν1/2) at x = ν2/(ν2 + ν1 f) (Abramowitz & Stegun 26.6.2). About 1e-13 relative.
 *
 * @param f    at least 0
 * @param nu1  degrees of freedom of the numerator, above 0
 * @param nu2  of the denominator, above 0
 */
export function fTails(f: number, nu1: number, nu2: number): Tails {
  if (!(nu1 > 0 && nu2 > 0)) throw new RangeError(`F wants degrees of freedom above 0, not ${nu1} and ${nu2}`);
  if (f <= 0) return { lower: 0, upper: 1 };
  if (f === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  const ratio = (nu1 / nu2) * f;
  return incompleteBeta(nu1 / 2, nu2 / 2, ratio / (1 + ratio), 1 / (1 + ratio));
}

/** The f that P(F <= f; ν1, ν2) = p, 0 < p < 1; to 1e-12 relative. */
export function fQuantile(pOfOne: number, nu1: number, nu2: number): number {
  checkedShare(pOfOne);
  return Math.exp(root((u) => shortfall(fTails(Math.exp(u), nu1, nu2), pOfOne), { low: -1, high: 1 }));
}
