import { chiSquaredQuantile } from "../distributions/chi-squared.ts";
import { checkedLevel, LEVEL_OF_ONE } from "../estimate.ts";

export interface DeviationOptions {
  /** The estimated standard deviation. */
  readonly sd: number;
  /** Its degrees of freedom, n - 1 for one group. */
  readonly nu: number;
  /** Two-sided coverage, 0.95 by default. */
  readonly levelOfOne?: number;
}

/**
 * How well a standard deviation is known: s √(ν/χ²_{upper}) .. s √(ν/χ²_{lower}), for Gaussian scatter.
 *
 * With 5 shots the limits are 0.60 s and 2.87 s: shown beside s whenever n < 10.
 *
 * @returns limits in the unit of sd
 */
export function deviationInterval({ sd, nu, levelOfOne = LEVEL_OF_ONE }: DeviationOptions): {
  readonly low: number;
  readonly high: number;
} {
  const tailOfOne = (1 - checkedLevel(levelOfOne)) / 2;
  return {
    low: sd * Math.sqrt(nu / chiSquaredQuantile(1 - tailOfOne, nu)),
    high: sd * Math.sqrt(nu / chiSquaredQuantile(tailOfOne, nu)),
  };
}

/** One-sided confidence with which a plan's scatter should not be exceeded (Browne 1995, from memory). */
const PLANNING_CONFIDENCE_OF_ONE = 0.8;

/**
 * Upper limit of a standard deviation, s √(ν/χ²_{1-confidence,ν}): what to plan with, since few shots know their scatter badly
 * (Browne 1995 Stat Med 14).
 *
 * @param confidenceOfOne  one-sided, 0.8 by default
 * @returns                in the unit of sd
 */
export function deviationUpperLimit({
  sd,
  nu,
  confidenceOfOne = PLANNING_CONFIDENCE_OF_ONE,
}: {
  readonly sd: number;
  readonly nu: number;
  readonly confidenceOfOne?: number;
}): number {
  return sd * Math.sqrt(nu / chiSquaredQuantile(1 - checkedLevel(confidenceOfOne), nu));
}
