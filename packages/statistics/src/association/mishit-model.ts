import {
  checkedLevel,
  type Estimate,
  type EstimateOptions,
  LEVEL_OF_ONE,
  ONE_LOOK,
  type Withheld,
} from "../estimate.ts";
import { mean, standardDeviation, type Values } from "../samples.ts";
import { firthLogistic } from "./firth-logistic.ts";
import { strataOf } from "./orders.ts";

/** Least shots of each outcome (own choice). */
const LEAST_OF_EACH = 4;

/** Log odds of the outcome per standard deviation of the measure. */
export interface MishitModel extends Estimate {
  readonly kind: "mishit-model";
  readonly se: number;
  /** Of the penalised likelihood ratio. */
  readonly p: number;
  readonly chiSquared: number;
  readonly intercept: number;
  readonly penalisedLogLikelihood: number;
  readonly countMissing: number;
  /** `not-converged`: the maximum was not reached; the numbers are not to be read. */
  readonly findings: readonly "not-converged"[];
}

/** Values less their condition's mean, over its sd; 0 where a condition does not vary. */
function standardised(values: readonly number[], conditions?: Values): Float64Array<ArrayBuffer> {
  const z = new Float64Array(values.length);
  for (const shots of strataOf(values.length, conditions)) {
    const own = shots.map((k) => values[k]!);
    const centre = mean(own);
    const sd = standardDeviation(own);
    for (const k of shots) z[k] = sd > 0 ? (values[k]! - centre) / sd : 0;
  }
  return z;
}

/**
 * Whether an outcome that is there or not (a mishit) goes with a measure: Firth's logistic regression on one measure, standardised by the mean
 * and sd of each condition. One measure at a time; not a cause.
 *
 * @param x         measure, one value a shot; NaN is left out
 * @param isPresent 1 where the shot has the outcome, else 0; NaN where unknown
 * @param options   `conditions`: condition of each shot, when several are taken together
 * @returns         log odds per sd, with profile limits, finite under complete separation; `withheld` below 4 of either outcome
 */
export function mishitModel(
  x: Values,
  isPresent: Values,
  options: EstimateOptions & { readonly conditions?: Values } = {},
): MishitModel | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK, conditions } = options;
  if (x.length !== isPresent.length) throw new RangeError(`${x.length} values and ${isPresent.length} outcomes`);
  const kept = Array.from(x, (_, k) => k).filter((k) => !Number.isNaN(x[k]!) && !Number.isNaN(isPresent[k]!));
  const y = kept.map((k) => isPresent[k]!);
  if (y.some((one) => one !== 0 && one !== 1)) throw new RangeError("an outcome is there (1) or not (0)");
  const countPresent = y.filter((one) => one === 1).length;
  const n = [countPresent, y.length - countPresent];
  if (Math.min(...n) < LEAST_OF_EACH) return { kind: "withheld", reason: "too-few", n, needed: LEAST_OF_EACH };
  const z = standardised(
    kept.map((k) => x[k]!),
    conditions && kept.map((k) => conditions[k]!),
  );
  if (z.every((one) => one === 0)) return { kind: "withheld", reason: "no-scatter", n };
  const fit = firthLogistic([new Float64Array(z.length).fill(1), z], y, checkedLevel(levelOfOne));
  const [intercept, slope] = fit.coefficients;
  return {
    kind: "mishit-model",
    value: slope!.value,
    low: slope!.low,
    high: slope!.high,
    levelOfOne,
    n,
    method: "firth-logistic",
    looks,
    se: slope!.se,
    p: slope!.p,
    chiSquared: slope!.chiSquared,
    intercept: intercept!.value,
    penalisedLogLikelihood: fit.penalisedLogLikelihood,
    countMissing: x.length - kept.length,
    findings: fit.isConverged ? [] : ["not-converged"],
  };
}
