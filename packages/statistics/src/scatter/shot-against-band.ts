import { incompleteBeta } from "../distributions/incomplete-beta.ts";
import { studentQuantile, studentTwoSidedP } from "../distributions/student-t.ts";
import { checkedLevel, type EstimateOptions, LEVEL_OF_ONE, type Looks, ONE_LOOK, type Withheld } from "../estimate.ts";
import { mean, standardDeviation, type Values, validValues } from "../samples.ts";
import { LEAST_FOR_BAND } from "./usual-band.ts";

export interface ShotAgainstBand {
  readonly kind: "usual" | "unusual";
  readonly x: number;
  readonly mean: number;
  readonly sd: number;
  readonly nu: number;
  readonly low: number;
  readonly high: number;
  /** (x - mean) / standard error of a next shot; + above. */
  readonly distance: number;
  readonly p: number;
  /** Share of the other shots below x, ties half. */
  readonly placeShare: number;
  /** How far outside, in the unit of the measure; 0 inside. */
  readonly excess: number;
  readonly levelOfOne: number;
  readonly n: readonly number[];
  readonly method: "shot-against-band";
  readonly looks: Looks;
}

export interface ShotOptions extends EstimateOptions {
  /** This shot's own uncertainty and those of the others, unit of the measure: a shot less well known than they are widens the band. */
  readonly sigmaShot?: number;
  readonly sigmaOthers?: Values;
}

/** Mean, sd and degrees of freedom of the shots other than one. */
export function scatterOfOthers(
  values: Values,
  leftOut: number,
): { readonly others: Float64Array; readonly mean: number; readonly sd: number } {
  if (!Number.isInteger(leftOut) || leftOut < 0 || leftOut >= values.length)
    throw new RangeError(`there is no shot ${leftOut} among ${values.length}`);
  const others = validValues(Float64Array.from(values).filter((_, i) => i !== leftOut));
  return { others, mean: mean(others), sd: standardDeviation(others) };
}

/**
 * One shot against the band of the other shots of its condition: x̄ ± t_{n-1} √(s²(1 + 1/n) + max(0, σ_x² - mean σ_i²)).
 *
 * @param x       the shot, never one of `others` (see `scatterOfOthers`)
 * @param others  the band's shots; NaN is left out
 * @returns       "usual" inside the band, "unusual" outside, or `withheld` for fewer than 5 others or an x that is NaN.
 *                One shot in 20 falls outside by chance
 */
export function shotAgainstBand(x: number, others: Values, options: ShotOptions = {}): ShotAgainstBand | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK, sigmaShot = 0, sigmaOthers = [0] } = options;
  const valid = validValues(others);
  const n = valid.length;
  if (n < LEAST_FOR_BAND || Number.isNaN(x))
    return { kind: "withheld", reason: "too-few", n: [n], needed: LEAST_FOR_BAND };
  const centre = mean(valid);
  const sd = standardDeviation(valid);
  const nu = n - 1;
  const squares = validValues(sigmaOthers).map((sigma) => sigma * sigma);
  const widened = sd * sd * (1 + 1 / n) + Math.max(0, sigmaShot * sigmaShot - mean(squares));
  const error = Math.sqrt(widened);
  const half = studentQuantile((1 + checkedLevel(levelOfOne)) / 2, nu) * error;
  // No scatter at all: the same value lies in the middle, any other infinitely far away.
  const distance = x === centre ? 0 : (x - centre) / error;
  const below = valid.reduce((count, other) => count + (other < x ? 1 : other === x ? 0.5 : 0), 0);
  return {
    kind: Math.abs(x - centre) <= half ? "usual" : "unusual",
    x,
    mean: centre,
    sd,
    nu,
    low: centre - half,
    high: centre + half,
    distance,
    p: studentTwoSidedP(distance, nu),
    placeShare: below / n,
    excess: Math.max(0, Math.abs(x - centre) - half),
    levelOfOne,
    n: [n],
    method: "shot-against-band",
    looks,
  };
}

export interface ShotOverMeasures {
  readonly countOutside: number;
  readonly countMeasures: number;
  /** How many would lie outside by chance alone. */
  readonly expected: number;
  /** True where at least one measure leaves Bonferroni's limit for all of them. Conservative: measures hang together. */
  readonly isUnusualAsAWhole: boolean;
}

/** One shot over several measures looked at together: how many lie outside, how many chance gives, and whether the whole is unusual. */
export function shotOverMeasures(
  measures: readonly ShotAgainstBand[],
  levelOfOne: number = LEVEL_OF_ONE,
): ShotOverMeasures {
  const countMeasures = measures.length;
  const alphaOfOne = 1 - checkedLevel(levelOfOne);
  return {
    countOutside: measures.filter((one) => one.kind === "unusual").length,
    countMeasures,
    expected: alphaOfOne * countMeasures,
    isUnusualAsAWhole: measures.some((one) => one.p < alphaOfOne / countMeasures),
  };
}

/**
 * Chance of `countOutside` or more of `countShots` later shots outside a band fixed before, when nothing has changed:
 * upper tail of the binomial, I_α(k, m - k + 1) (DLMF 8.17.5).
 */
export function laterRunP(countOutside: number, countShots: number, levelOfOne: number = LEVEL_OF_ONE): number {
  if (countOutside <= 0) return 1;
  if (countOutside > countShots) return 0;
  const alphaOfOne = 1 - checkedLevel(levelOfOne);
  return incompleteBeta(countOutside, countShots - countOutside + 1, alphaOfOne, levelOfOne).lower;
}
