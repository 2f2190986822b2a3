import { noncentralTCdf } from "../distributions/noncentral-t.ts";
import { tFieldFactor } from "../scatter/t-field.ts";
import { PLANNED_POWER_OF_ONE } from "./power.ts";

const LEAST_CURVES = 4;
const MOST_CURVES = 200;

/** Curves a condition, their roughness, and the height of the difference in sds at its peak. */
export interface CurveDifference {
  readonly roughness: number;
  readonly heightPerSd: number;
  readonly levelOfOne?: number;
}

/**
 * Power for whole curves at the instant where the difference peaks: 1 - F(c; 2n-2, (Δ/s) √(n/2)), c the t-field factor.
 * A lower bound: a wide difference has many instants to be seen at (measured against simulation: 54 to 63 %, 82 to 87 %).
 *
 * @param n  curves in each of two conditions, 2 or more
 * @returns  0 .. 1
 */
export function curvePower(n: number, { heightPerSd, ...field }: CurveDifference): number {
  const nu = 2 * n - 2;
  const c = tFieldFactor({ ...field, nu });
  return 1 - noncentralTCdf(c, nu, Math.abs(heightPerSd) * Math.sqrt(n / 2));
}

/** The smallest number of curves a condition with the wanted power by that formula, 4 .. 200; undefined beyond. */
export function curvesPerCondition(
  difference: CurveDifference,
  powerOfOne: number = PLANNED_POWER_OF_ONE,
): number | undefined {
  for (let n = LEAST_CURVES; n <= MOST_CURVES; n++) if (curvePower(n, difference) >= powerOfOne) return n;
  return undefined;
}
