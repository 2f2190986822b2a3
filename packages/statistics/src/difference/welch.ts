import { studentQuantile, studentTwoSidedP } from "../distributions/student-t.ts";
import {
  checkedLevel,
  type Estimate,
  type EstimateOptions,
  LEVEL_OF_ONE,
  ONE_LOOK,
  type Withheld,
} from "../estimate.ts";
import { mean, type Values, validValues, variance } from "../samples.ts";
import { satterthwaiteNu } from "../scatter/shot-against-shot.ts";

/** Least values a group for a difference with interval (own choice); words need 5. */
const LEAST_FOR_DIFFERENCE = 3;

/** A difference of two means, or a mean of differences, with its t test. */
export interface Difference extends Estimate {
  readonly kind: "difference";
  readonly se: number;
  readonly t: number;
  readonly nu: number;
  /** Two-sided, against `nullDifference`. */
  readonly p: number;
  readonly nullDifference: number;
  /** Values without a number, a group. */
  readonly countMissing: readonly number[];
}

export interface DifferenceOptions extends EstimateOptions {
  /** The difference that explains nothing: 0, or between lies that of the slope shares. Unit of the values. */
  readonly nullDifference?: number;
  /** Least values a group; 3 by default. */
  readonly least?: number;
}

export function differenceFrom(
  o: { value: number; se: number; nu: number; n: readonly number[]; countMissing: readonly number[]; method: string },
  options: DifferenceOptions,
): Difference {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK, nullDifference = 0 } = options;
  const half = studentQuantile((1 + checkedLevel(levelOfOne)) / 2, o.nu) * o.se;
  const t = (o.value - nullDifference) / o.se;
  return {
    kind: "difference",
    ...o,
    low: o.value - half,
    high: o.value + half,
    levelOfOne,
    looks,
    t,
    p: studentTwoSidedP(t, o.nu),
    nullDifference,
  };
}

/**
 * Welch's difference of two means, B minus A: d ± t_ν' √(s_A²/n_A + s_B²/n_B), ν' by Satterthwaite (Welch 1947).
 *
 * @param a  reference condition, unit of the measure; NaN is left out
 * @param b  the other condition
 * @returns  `withheld`: fewer than 3 values in a group, or no scatter at all
 */
export function welch(a: Values, b: Values, options: DifferenceOptions = {}): Difference | Withheld {
  const groups = [validValues(a), validValues(b)] as const;
  const n = groups.map((group) => group.length);
  const least = options.least ?? LEAST_FOR_DIFFERENCE;
  if (n.some((count) => count < least)) return { kind: "withheld", reason: "too-few", n, needed: least };
  const parts = groups.map((group) => ({ variance: variance(group) / group.length, nu: group.length - 1 }));
  const se = Math.sqrt(parts.reduce((sum, part) => sum + part.variance, 0));
  if (se === 0) return { kind: "withheld", reason: "no-scatter", n };
  const value = mean(groups[1]) - mean(groups[0]);
  const countMissing = [a.length - n[0]!, b.length - n[1]!];
  return differenceFrom({ value, se, nu: satterthwaiteNu(parts), n, countMissing, method: "welch" }, options);
}

/**
 * Mean of the paired differences b - a, D̄ ± t_{n-1} s_D/√n. Only where the plan pairs the shots.
 *
 * @param a  one value a pair
 * @param b  the same pairs in the same order; a pair with NaN is left out
 */
export function pairedDifference(a: Values, b: Values, options: DifferenceOptions = {}): Difference | Withheld {
  if (a.length !== b.length) throw new RangeError(`${a.length} values cannot be paired with ${b.length}`);
  const differences = validValues(Float64Array.from(b, (value, i) => value - a[i]!));
  const n = differences.length;
  const least = options.least ?? LEAST_FOR_DIFFERENCE;
  if (n < least) return { kind: "withheld", reason: "too-few", n: [n], needed: least };
  const se = Math.sqrt(variance(differences) / n);
  if (se === 0) return { kind: "withheld", reason: "no-scatter", n: [n] };
  const made = { value: mean(differences), se, nu: n - 1, n: [n], countMissing: [a.length - n], method: "paired-t" };
  return differenceFrom(made, options);
}
