import type { Withheld } from "../estimate.ts";
import { mean, type Values } from "../samples.ts";

const LEAST_REFERENCE = 8;
const RUN_LENGTH = 8;
/** 3 / 1.128: three sds of a Gaussian, from the mean range of two (Shewhart's individuals chart, from memory). */
const RANGE_TO_LIMIT = 2.66;

/** Mean of |x_j - x_{j-1}|, unit of the values; NaN below two values. */
export function meanMovingRange(values: Values): number {
  return mean(
    Float64Array.from({ length: Math.max(0, values.length - 1) }, (_, j) => Math.abs(values[j + 1]! - values[j]!)),
  );
}

export interface RunChart {
  readonly kind: "run-chart";
  readonly centre: number;
  readonly low: number;
  readonly high: number;
  readonly meanMovingRange: number;
  /** Sessions outside the limits, by index into all. */
  readonly outside: readonly number[];
  /** Stretches of 8 or more in a row on one side of the centre. */
  readonly runs: readonly { readonly first: number; readonly last: number; readonly side: "above" | "below" }[];
  readonly n: readonly number[];
}

function longRuns(values: Values, centre: number): RunChart["runs"] {
  const found: { first: number; last: number; side: "above" | "below" }[] = [];
  let first = 0;
  for (let j = 1; j <= values.length; j++) {
    const side = Math.sign(values[first]! - centre);
    if (j < values.length && Math.sign(values[j]! - centre) === side) continue;
    if (side !== 0 && j - first >= RUN_LENGTH) found.push({ first, last: j - 1, side: side > 0 ? "above" : "below" });
    first = j;
  }
  return found;
}

/**
 * Limits of a run chart, centre ± 2.66 × mean moving range of the reference sessions, and what leaves them by two rules only: one session
 * outside, or 8 in a row on one side. Every other rule adds false alarms.
 *
 * @param means           session means in order of time, unit of the measure
 * @param countReference  the first so many are the reference phase, without an intended change
 * @returns               `withheld` below 8 reference sessions
 */
export function runChart(means: Values, countReference: number): RunChart | Withheld {
  const reference = Array.from(means).slice(0, countReference);
  if (reference.length < LEAST_REFERENCE)
    return { kind: "withheld", reason: "too-few", n: [reference.length], needed: LEAST_REFERENCE };
  const centre = mean(reference);
  const range = meanMovingRange(reference);
  const low = centre - RANGE_TO_LIMIT * range;
  const high = centre + RANGE_TO_LIMIT * range;
  const outside = Array.from(means, (value, j) => (value < low || value > high ? j : -1)).filter((j) => j >= 0);
  const runs = longRuns(means, centre);
  return { kind: "run-chart", centre, low, high, meanMovingRange: range, outside, runs, n: [reference.length] };
}
