import type { Withheld } from "../estimate.ts";
import { mean, squaresAboutMean, standardDeviation, type Values, validValues } from "../samples.ts";
import { type BcaInterval, type BcaOptions, bcaInterval } from "./bca.ts";

/** Least values a group for a bootstrap interval, and the skewness from which one is offered beside Welch's (own choice). */
const LEAST_FOR_BOOTSTRAP = 8;
const MOST_EVEN_SKEWNESS = 1;

/**
 * Glass's delta, B minus A in sds of A (Glass 1976, from memory), with a BCa interval: for conditions whose sds differ by more than twice, where
 * the pooled sd of `hedgesG` stands for neither.
 *
 * @param a  reference; NaN is left out
 * @returns  without unit; `withheld` below 8 values in a group or where A has no scatter
 */
export function glassDelta(a: Values, b: Values, options: BcaOptions): BcaInterval | Withheld {
  const groups = [validValues(a), validValues(b)] as const;
  const n = groups.map((group) => group.length);
  if (Math.min(...n) < LEAST_FOR_BOOTSTRAP)
    return { kind: "withheld", reason: "too-few", n, needed: LEAST_FOR_BOOTSTRAP };
  if (!(standardDeviation(groups[0]) > 0)) return { kind: "withheld", reason: "no-scatter", n };
  const delta = ([first, second]: readonly Values[]): number => {
    const difference = mean(second!) - mean(first!);
    return difference === 0 ? 0 : difference / standardDeviation(first!);
  };
  return bcaInterval(groups, delta, options);
}

/** Fisher and Pearson's skewness m₃/m₂^{3/2}, moments about the mean with divisor n; NaN without scatter. NaN values are left out. */
export function skewness(values: Values): number {
  const valid = validValues(values);
  const centre = mean(valid);
  const second = squaresAboutMean(valid) / valid.length;
  const third = valid.reduce((sum, value) => sum + (value - centre) ** 3, 0) / valid.length;
  return second > 0 ? third / second ** 1.5 : Number.NaN;
}

/** Whether a bootstrap interval is to be offered beside Welch's: 8 values or more in each group, and one of them skewed by more than 1. */
export function isBootstrapOffered(a: Values, b: Values): boolean {
  const groups = [validValues(a), validValues(b)];
  return (
    groups.every((group) => group.length >= LEAST_FOR_BOOTSTRAP) &&
    groups.some((group) => Math.abs(skewness(group)) > MOST_EVEN_SKEWNESS)
  );
}
