import { studentQuantile } from "../distributions/student-t.ts";
import {
  checkedLevel,
  type Estimate,
  type EstimateOptions,
  LEVEL_OF_ONE,
  ONE_LOOK,
  type Withheld,
} from "../estimate.ts";
import { mean, median, standardDeviation, type Values, validValues } from "../samples.ts";
import { deviationInterval } from "./deviation-interval.ts";

/** Below this many values there is no band, and below `ROUGH_BELOW` it is only roughly known (own choices). */
export const LEAST_FOR_BAND = 5;
const ROUGH_BELOW = 8;
const LEAST_FOR_ROBUST = 6;

/** The player's own scatter in one condition, and where the next shot will fall. */
export interface UsualBand extends Estimate {
  readonly kind: "band";
  readonly sd: number;
  readonly nu: number;
  /** How well sd itself is known, same level as the band. */
  readonly sdLow: number;
  readonly sdHigh: number;
  /** Values without a number, left out of this measure. */
  readonly countMissing: number;
  readonly findings: readonly ("band-rough" | "heavy-tails")[];
}

/** Half the width of the band for one more value: t_ν s √(1 + 1/n). With a pooled typical error, ν is the pooled one. */
export function bandHalfWidth(o: {
  readonly sd: number;
  readonly nu: number;
  readonly n: number;
  readonly levelOfOne?: number;
}): number {
  const t = studentQuantile((1 + checkedLevel(o.levelOfOne ?? LEVEL_OF_ONE)) / 2, o.nu);
  return t * o.sd * Math.sqrt(1 + 1 / o.n);
}

/**
 * The usual band: mean ± t_{n-1} s √(1 + 1/n), the interval in which the next shot of this condition falls with the stated chance.
 *
 * @param values  one measure of one player, one condition, one session; NaN is left out and counted
 * @returns       the band in the unit of the measure, or `withheld` for fewer than 5 values.
 *                `band-rough` for 5 to 7: its width is known only to sdLow .. sdHigh
 */
export function usualBand(values: Values, options: EstimateOptions = {}): UsualBand | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK } = options;
  const valid = validValues(values);
  const n = valid.length;
  if (n < LEAST_FOR_BAND) return { kind: "withheld", reason: "too-few", n: [n], needed: LEAST_FOR_BAND };
  const centre = mean(valid);
  const sd = standardDeviation(valid);
  const nu = n - 1;
  const half = bandHalfWidth({ sd, nu, n, levelOfOne });
  const { low: sdLow, high: sdHigh } = deviationInterval({ sd, nu, levelOfOne });
  return {
    kind: "band",
    value: centre,
    low: centre - half,
    high: centre + half,
    levelOfOne,
    n: [n],
    method: "usual-band",
    looks,
    sd,
    nu,
    sdLow,
    sdHigh,
    countMissing: values.length - n,
    findings: n < ROUGH_BELOW ? ["band-rough"] : [],
  };
}

/** The mean with its own interval, mean ± t_{n-1} s/√n; for two values or more. */
export function meanInterval(values: Values, options: EstimateOptions = {}): Estimate | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK } = options;
  const valid = validValues(values);
  const n = valid.length;
  if (n < 2) return { kind: "withheld", reason: "too-few", n: [n], needed: 2 };
  const centre = mean(valid);
  const t = studentQuantile((1 + checkedLevel(levelOfOne)) / 2, n - 1);
  const half = (t * standardDeviation(valid)) / Math.sqrt(n);
  return { value: centre, low: centre - half, high: centre + half, levelOfOne, n: [n], method: "mean-interval", looks };
}

/** Scales the median absolute deviation to a Gaussian sd; b_n for small samples (Croux & Rousseeuw 1992, from memory). */
const MAD_TO_SD = 1.4826;
const SMALL_SAMPLE: Readonly<Record<number, number>> = { 5: 1.206, 6: 1.2, 7: 1.14, 8: 1.129, 9: 1.107 };
/** Variance of a median beside that of a mean, large samples: π/2. */
const MEDIAN_VARIANCE_RATIO = 1.57;
/** Where sd and robust scale differ by more, a few shots decide the band (own choice). */
const HEAVY_ABOVE = 1.5;
const HEAVY_BELOW = 0.67;

/** Robust scale in the unit of the values: 1.4826 b_n MAD, n >= 5. */
export function robustScale(values: Values): number {
  const n = values.length;
  if (n < 5) throw new RangeError(`the robust scale wants 5 values, not ${n}`);
  const centre = median(values);
  const deviation = median(Float64Array.from(values, (value) => Math.abs(value - centre)));
  return MAD_TO_SD * (SMALL_SAMPLE[n] ?? n / (n - 0.8)) * deviation;
}

/**
 * The band from median and median absolute deviation: centre ± t_{n-1} scale √(1 + 1.57/n).
 *
 * Mishits are left out by label, so this is an option, not the default. `heavy-tails` where sd/scale leaves 0.67..1.5: then show both bands.
 *
 * @param values  as for `usualBand`
 * @returns       the band (sd is the robust scale; its interval is that of a Gaussian sd), or `withheld` below 6 values
 */
export function robustBand(values: Values, options: EstimateOptions = {}): UsualBand | Withheld {
  const { levelOfOne = LEVEL_OF_ONE } = options;
  const valid = validValues(values);
  const n = valid.length;
  const plain = usualBand(values, options);
  if (n < LEAST_FOR_ROBUST || plain.kind === "withheld")
    return { kind: "withheld", reason: "too-few", n: [n], needed: LEAST_FOR_ROBUST };
  const centre = median(valid);
  const scale = robustScale(valid);
  const nu = n - 1;
  const t = studentQuantile((1 + checkedLevel(levelOfOne)) / 2, nu);
  const half = t * scale * Math.sqrt(1 + MEDIAN_VARIANCE_RATIO / n);
  const { low: sdLow, high: sdHigh } = deviationInterval({ sd: scale, nu, levelOfOne });
  const ratio = plain.sd / scale;
  const findings =
    ratio > HEAVY_ABOVE || ratio < HEAVY_BELOW ? [...plain.findings, "heavy-tails" as const] : plain.findings;
  return {
    ...plain,
    value: centre,
    low: centre - half,
    high: centre + half,
    method: "robust-band",
    sd: scale,
    sdLow,
    sdHigh,
    findings,
  };
}
