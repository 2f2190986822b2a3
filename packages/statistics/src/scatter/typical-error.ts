import { type Estimate, type EstimateOptions, LEVEL_OF_ONE, ONE_LOOK, type Withheld } from "../estimate.ts";
import { squaresAboutMean, standardDeviation, type Values, validValues } from "../samples.ts";
import { deviationInterval } from "./deviation-interval.ts";

/** Scatters that differ by more are not pooled (own choice). */
const POOL_BELOW_RATIO = 2;

export interface TypicalError extends Estimate {
  readonly kind: "typical-error";
  readonly nu: number;
  /** False where the largest sd is twice the smallest or more: one number then speaks for none of them. */
  readonly isPoolable: boolean;
}

/**
 * Typical error: the scatter of repeated shots within their conditions, TE² = Σ ν_c s_c² / Σ ν_c (Hopkins 2000).
 * Variances are averaged, never standard deviations. One group: its sd.
 *
 * @param groups  one array a condition, in the unit of the measure; NaN is left out; groups of one count nothing
 * @returns       in the unit of the measure with the interval of a standard deviation, or `withheld` without one degree of freedom
 */
export function typicalError(groups: readonly Values[], options: EstimateOptions = {}): TypicalError | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK } = options;
  const valid = groups.map(validValues);
  const counted = valid.filter((values) => values.length > 1);
  const n = valid.map((values) => values.length);
  const nu = counted.reduce((sum, values) => sum + values.length - 1, 0);
  if (nu === 0) return { kind: "withheld", reason: "too-few", n, needed: 2 };
  const sd = Math.sqrt(counted.reduce((sum, values) => sum + Math.max(0, squaresAboutMean(values)), 0) / nu);
  const deviations = counted.map(standardDeviation);
  return {
    kind: "typical-error",
    value: sd,
    ...deviationInterval({ sd, nu, levelOfOne }),
    levelOfOne,
    n,
    method: "typical-error",
    looks,
    nu,
    isPoolable: deviations.length === 1 || Math.max(...deviations) < POOL_BELOW_RATIO * Math.min(...deviations),
  };
}

/**
 * Typical error of N units measured twice: sd of the differences over √2 (Hopkins 2000).
 *
 * @param first   one value a unit
 * @param second  the same units in the same order; a pair with NaN is left out
 */
export function typicalErrorOfTwoOccasions(
  first: Values,
  second: Values,
  options: EstimateOptions = {},
): TypicalError | Withheld {
  if (first.length !== second.length) throw new RangeError(`${first.length} first values, ${second.length} second`);
  return typicalError([Float64Array.from(second, (value, i) => (value - first[i]!) / Math.SQRT2)], options);
}

const LEAST_FOR_VARIATION = 5;

/**
 * Coefficient of variation in percent, 100 √(exp(s²) - 1) with s the sd of the natural logarithms.
 *
 * Only for measures with a natural zero (peaks, impulses, durations): never for shares, angles, signed or slope-laden forces.
 *
 * @returns percent with its interval, or `withheld` for fewer than 5 values or any that is not above 0
 */
export function coefficientOfVariation(values: Values, options: EstimateOptions = {}): Estimate | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK } = options;
  const valid = validValues(values);
  const n = valid.length;
  if (n < LEAST_FOR_VARIATION) return { kind: "withheld", reason: "too-few", n: [n], needed: LEAST_FOR_VARIATION };
  if (!valid.every((value) => value > 0)) return { kind: "withheld", reason: "not-positive", n: [n] };
  const sd = standardDeviation(valid.map(Math.log));
  const { low, high } = deviationInterval({ sd, nu: n - 1, levelOfOne });
  const percent = (s: number) => 100 * Math.sqrt(Math.expm1(s * s));
  return { value: percent(sd), low: percent(low), high: percent(high), levelOfOne, n: [n], method: "log-cv", looks };
}
