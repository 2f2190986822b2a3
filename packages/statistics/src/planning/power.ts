import { noncentralT } from "../distributions/noncentral-t.ts";
import { root } from "../distributions/root.ts";
import { studentQuantile } from "../distributions/student-t.ts";

/** Whom the shots are compared between: two groups of shots, or n pairs (or players) by their own differences. */
export type Comparison =
  | { readonly kind: "two-groups"; readonly nA: number; readonly nB: number }
  | { readonly kind: "paired"; readonly n: number };

export interface PowerOptions {
  /** Two-sided level, 0.05 by default. */
  readonly alphaOfOne?: number;
  /** Primary measures that share the level (Bonferroni), 1 by default. */
  readonly countMeasures?: number;
}

/** Chance of seeing a true difference that a plan should give (common practice, no source). */
export const PLANNED_POWER_OF_ONE = 0.8;
const ALPHA_OF_ONE = 0.05;
/** Counts that are stepped through. Below 3 there is no difference, above 200 no session. */
const LEAST_SHOTS = 3;
const MOST_SHOTS = 200;

const nuOf = (c: Comparison): number => (c.kind === "paired" ? c.n - 1 : c.nA + c.nB - 2);
/** Noncentrality of a difference of one sd. */
const noncentralityPerSd = (c: Comparison): number =>
  c.kind === "paired" ? Math.sqrt(c.n) : 1 / Math.sqrt(1 / c.nA + 1 / c.nB);

/** Power by noncentrality, for many of them. */
function powerOf(nu: number, options: PowerOptions): (noncentrality: number) => number {
  const alphaOfOne = (options.alphaOfOne ?? ALPHA_OF_ONE) / (options.countMeasures ?? 1);
  const t = studentQuantile(1 - alphaOfOne / 2, nu);
  const cdf = noncentralT(nu);
  return (noncentrality) => 1 - cdf(t, noncentrality) + cdf(-t, noncentrality);
}

/**
 * Power of the two-sided t test, 1 - F(t_c; ν, δ) + F(-t_c; ν, δ), F the noncentral t: the chance that these counts show a true difference.
 *
 * For planning only. The observed power of a finished comparison says nothing new (Hoenig & Heisey 2001) and has no function here.
 *
 * @param comparison  counts
 * @param o           `difference` and `sd` in one unit; `sd` of single shots, or of the paired differences
 * @returns           0 .. 1, to 1e-9
 */
export function power(
  comparison: Comparison,
  o: { readonly difference: number; readonly sd: number } & PowerOptions,
): number {
  if (!(o.sd > 0)) throw new RangeError(`power wants a scatter above 0, not ${o.sd}`);
  return powerOf(nuOf(comparison), o)((Math.abs(o.difference) / o.sd) * noncentralityPerSd(comparison));
}

/**
 * The smallest true difference that these counts show with the wanted power.
 *
 * @returns in the unit of `sd`
 */
export function detectableDifference(
  comparison: Comparison,
  o: { readonly sd: number; readonly powerOfOne?: number } & PowerOptions,
): number {
  const wanted = o.powerOfOne ?? PLANNED_POWER_OF_ONE;
  const powerAt = powerOf(nuOf(comparison), o);
  const noncentrality = root((delta) => powerAt(delta) - wanted, { low: 1, high: 4, least: 0 });
  return (noncentrality / noncentralityPerSd(comparison)) * o.sd;
}

/** The first whole number of a range at which something rising becomes true; undefined when it never does. */
function firstCount(isEnough: (n: number) => boolean, least: number, most: number): number | undefined {
  if (!isEnough(most)) return undefined;
  let enough = most;
  let below = least - 1;
  while (enough - below > 1) {
    const middle = (below + enough) >> 1;
    if (isEnough(middle)) enough = middle;
    else below = middle;
  }
  return enough;
}

export interface WantedDifference extends PowerOptions {
  readonly difference: number;
  /** Scatter of single shots. */
  readonly sd: number;
  readonly powerOfOne?: number;
}

/**
 * Shots in each of two conditions that show a difference with the wanted power (0.8).
 *
 * @returns 3 .. 200, or undefined where 200 are not enough
 */
export function shotsPerCondition(o: WantedDifference): number | undefined {
  const wanted = o.powerOfOne ?? PLANNED_POWER_OF_ONE;
  return firstCount((n) => power({ kind: "two-groups", nA: n, nB: n }, o) >= wanted, LEAST_SHOTS, MOST_SHOTS);
}

/** Pairs (or players) that show a mean difference with the wanted power; `sd` is that of their differences. 3 .. 200 or undefined. */
export function pairsNeeded(o: WantedDifference): number | undefined {
  const wanted = o.powerOfOne ?? PLANNED_POWER_OF_ONE;
  return firstCount((n) => power({ kind: "paired", n }, o) >= wanted, LEAST_SHOTS, MOST_SHOTS);
}
