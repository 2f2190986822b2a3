import { incompleteGamma } from "./incomplete-gamma.ts";
import { root } from "./root.ts";
import { checkedShare, shortfall, type Tails } from "./tails.ts";

/** Both tails of χ² with ν degrees of freedom: P(ν/2, x/2) (Abramowitz & Stegun 26.4.19). About 1e-13 relative. */
export function chiSquaredTails(x: number, nu: number): Tails {
  if (!(nu > 0)) throw new RangeError(`chi-squared wants degrees of freedom above 0, not ${nu}`);
  return x <= 0 ? { lower: 0, upper: 1 } : incompleteGamma(nu / 2, x / 2);
}

/** The x that P(χ²_ν <= x) = p, 0 < p < 1; to 1e-12 relative. */
export function chiSquaredQuantile(pOfOne: number, nu: number): number {
  checkedShare(pOfOne);
  // On a logarithmic scale, since small ν puts low quantiles many decades down.
  return Math.exp(root((u) => shortfall(chiSquaredTails(Math.exp(u), nu), pOfOne), logBracket(nu)));
}

function logBracket(nu: number): { readonly low: number; readonly high: number } {
  return { low: Math.log(nu) - 1, high: Math.log(nu) + 1 };
}
