import { root } from "../distributions/root.ts";
import { studentTails } from "../distributions/student-t.ts";
import { checkedLevel, LEVEL_OF_ONE } from "../estimate.ts";
import type { Values } from "../samples.ts";

/** Curves of equally many points, one after the other. A point with NaN in any curve is left out for all. */
export interface Curves {
  /** countCurves × countPoints, row by row, in the unit of the measure. */
  readonly values: Values;
  readonly countPoints: number;
}

export interface CurveScatter {
  readonly countCurves: number;
  /** NaN where a curve is missing; each of countPoints. */
  readonly mean: Float64Array<ArrayBuffer>;
  readonly sd: Float64Array<ArrayBuffer>;
  /** Curve minus mean, row by row. */
  readonly residuals: Float64Array<ArrayBuffer>;
}

/** Point by point mean, sd (divisor n - 1) and residuals; two passes. */
export function curveScatter({ values, countPoints }: Curves): CurveScatter {
  const countCurves = values.length / countPoints;
  if (!Number.isInteger(countCurves)) throw new RangeError(`${values.length} values are no curves of ${countPoints}`);
  const mean = new Float64Array(countPoints);
  const sd = new Float64Array(countPoints);
  const residuals = new Float64Array(values.length);
  for (let q = 0; q < countPoints; q++) {
    let sum = 0;
    for (let i = 0; i < countCurves; i++) sum += values[i * countPoints + q]!;
    const centre = sum / countCurves;
    let squares = 0;
    for (let i = 0; i < countCurves; i++) {
      const deviation = values[i * countPoints + q]! - centre;
      residuals[i * countPoints + q] = deviation;
      squares += deviation * deviation;
    }
    mean[q] = centre;
    sd[q] = Math.sqrt(squares / (countCurves - 1));
  }
  return { countCurves, mean, sd, residuals };
}

/**
 * Roughness Λ of a set of curves: Σ over neighbouring points of √Σ_i (u_i(q+1) - u_i(q))², u the residuals scaled to length 1 at each point.
 * Larger for quicker wiggles: a Gaussian field crosses a level more often. No factor for small samples (measured: none is needed).
 *
 * @returns a pure number; pairs of points without scatter or with a missing curve add nothing
 */
export function roughness({ countCurves, mean, sd, residuals }: CurveScatter): number {
  const countPoints = mean.length;
  const scale = Math.sqrt(countCurves - 1);
  let total = 0;
  for (let q = 0; q + 1 < countPoints; q++) {
    const here = sd[q]! * scale;
    const next = sd[q + 1]! * scale;
    if (!(here > 0 && next > 0)) continue;
    let squares = 0;
    for (let i = 0; i < countCurves; i++) {
      const step = residuals[i * countPoints + q + 1]! / next - residuals[i * countPoints + q]! / here;
      squares += step * step;
    }
    total += Math.sqrt(squares);
  }
  return total;
}

/** One curve of a family: its roughness Λ, 0 or more, and its degrees of freedom, above 1. */
export interface TField {
  readonly roughness: number;
  readonly nu: number;
}

/**
 * Factor c of a simultaneous band: a t field of the given roughness leaves ± c anywhere with chance α,
 * 2 [P(T_ν > c) + (Λ/2π)(1 + c²/ν)^{-(ν-1)/2}] = α (Euler characteristic: Worsley et al. 1996; Friston et al. 2007; Pataky 2010).
 *
 * @param roughness  Λ, 0 or more; at 0 c is the pointwise t
 * @param nu         degrees of freedom, above 1
 */
export function tFieldFactor({ levelOfOne, ...field }: TField & { readonly levelOfOne?: number }): number {
  return familyFactor([field], levelOfOne);
}

/** The same for several curves looked at together: the chances add, as the characteristic of separate pieces does (own choice). */
export function familyFactor(fields: readonly TField[], levelOfOne: number = LEVEL_OF_ONE): number {
  for (const { roughness: lambda, nu } of fields)
    if (!(nu > 1 && lambda >= 0)) throw new RangeError(`t field of roughness ${lambda}, ν ${nu}`);
  const alphaOfOne = 1 - checkedLevel(levelOfOne);
  const chance = (c: number): number =>
    fields.reduce((sum, { roughness: lambda, nu }) => {
      const crossings = (lambda / (2 * Math.PI)) * (1 + (c * c) / nu) ** (-(nu - 1) / 2);
      return sum + 2 * (studentTails(c, nu).upper + crossings);
    }, 0);
  return root((c) => alphaOfOne - chance(c), { low: 0, high: 8, least: 0 });
}
