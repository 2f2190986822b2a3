import { chiSquaredQuantile } from "../distributions/chi-squared.ts";
import { normalQuantile } from "../distributions/normal.ts";
import { checkedLevel } from "../estimate.ts";

/**
 * k of mean ± k s, the range that holds a share of *all* future shots with a stated confidence:
 * k = √(ν (1 + 1/n) z² / χ²_{1-confidence,ν}) (Howe 1969, from memory; 5.09 at n = 5, 3.38 at n = 10).
 *
 * @param n  shots, at least 2
 * @returns  a pure number; Howe's approximation, within about 1 % of the exact factor
 */
export function toleranceFactor(
  n: number,
  {
    contentOfOne = 0.95,
    confidenceOfOne = 0.95,
  }: { readonly contentOfOne?: number; readonly confidenceOfOne?: number } = {},
): number {
  if (!(n >= 2)) throw new RangeError(`a tolerance factor wants 2 shots, not ${n}`);
  const nu = n - 1;
  const z = normalQuantile((1 + checkedLevel(contentOfOne)) / 2);
  return z * Math.sqrt((nu * (1 + 1 / n)) / chiSquaredQuantile(1 - checkedLevel(confidenceOfOne), nu));
}
