import { studentQuantile } from "../distributions/student-t.ts";
import { type EstimateOptions, LEVEL_OF_ONE, type Looks, ONE_LOOK, type Withheld } from "../estimate.ts";
import type { Streams } from "../random.ts";
import type { Values } from "../samples.ts";
import { type CurveScatter, type Curves, curveScatter, roughness, tFieldFactor } from "./t-field.ts";
import { LEAST_FOR_BAND } from "./usual-band.ts";

const LEAST_FOR_BOOTSTRAP = 12;
const COUNT_RESAMPLES = 1000;
const LEAST_DISTINCT = 4;

/** Where the whole of the next curve stays with the stated chance. Arrays have one value a point, NaN where a curve is missing. */
export interface CurveBand {
  readonly kind: "curve-band";
  readonly mean: Float64Array<ArrayBuffer>;
  readonly low: Float64Array<ArrayBuffer>;
  readonly high: Float64Array<ArrayBuffer>;
  /** The scatter used: the curves' own, or the measurement's where that is larger. */
  readonly sd: Float64Array<ArrayBuffer>;
  /** 1 where the measurement's uncertainty stands in for the scatter. */
  readonly isFloored: Uint8Array<ArrayBuffer>;
  /** c of mean ± c s √(1 + 1/n), and the t that would do for one instant alone. */
  readonly factor: number;
  readonly pointwiseFactor: number;
  readonly roughness: number;
  readonly nu: number;
  readonly levelOfOne: number;
  readonly n: readonly number[];
  readonly method: "t-field" | "bootstrap-curves";
  readonly seed?: number;
  readonly countArrangements?: number;
  readonly looks: Looks;
}

export interface CurveBandOptions extends EstimateOptions {
  /** Uncertainty of the curve itself, one value a point, unit of the measure. */
  readonly sigma?: Values;
  /** Asks for the bootstrap of whole curves in place of the t field; 12 curves or more. */
  readonly bootstrap?: { readonly seed: number; readonly streams: Streams; readonly countResamples?: number };
}

function withFloor(scatter: CurveScatter, sigma: Values | undefined): Pick<CurveBand, "sd" | "isFloored"> {
  const sd = Float64Array.from(scatter.sd);
  const isFloored = new Uint8Array(sd.length);
  for (let q = 0; sigma !== undefined && q < sd.length; q++) {
    if (sd[q]! < sigma[q]!) {
      sd[q] = sigma[q]!;
      isFloored[q] = 1;
    }
  }
  return { sd, isFloored };
}

/** Largest |curve i - mean of the resample| / its sd over all points. Points without scatter in the resample are passed over. */
function largestDistance(curves: Curves, i: number, band: { mean: Float64Array; sd: Float64Array }): number {
  let largest = 0;
  for (let q = 0; q < curves.countPoints; q++) {
    const distance = Math.abs(curves.values[i * curves.countPoints + q]! - band.mean[q]!) / band.sd[q]!;
    if (distance > largest && distance < Number.POSITIVE_INFINITY) largest = distance;
  }
  return largest;
}

/**
 * Factor by the bootstrap of whole curves (Lenhoff et al. 1999): the smallest number for which, over the resamples, the mean share of the
 * curves that stay within mean_b ± c s_b reaches the level.
 */
function bootstrapFactor(
  curves: Curves,
  countCurves: number,
  o: { levelOfOne: number; seed: number; streams: Streams; countResamples: number },
): number {
  const random = o.streams(o.seed, "bootstrap-curves");
  const distances = new Float64Array(o.countResamples * countCurves);
  const resample = new Float64Array(curves.values.length);
  for (let b = 0; b < o.countResamples; b++) {
    let chosen: number[];
    do chosen = Array.from({ length: countCurves }, () => random.below(countCurves));
    while (new Set(chosen).size < LEAST_DISTINCT);
    chosen.forEach((from, to) => {
      for (let q = 0; q < curves.countPoints; q++)
        resample[to * curves.countPoints + q] = curves.values[from * curves.countPoints + q]!;
    });
    const band = curveScatter({ values: resample, countPoints: curves.countPoints });
    for (let i = 0; i < countCurves; i++) distances[b * countCurves + i] = largestDistance(curves, i, band);
  }
  distances.sort();
  return distances[Math.ceil(o.levelOfOne * distances.length) - 1]!;
}

/**
 * Simultaneous usual band of whole curves: mean ± c s √(1 + 1/n), c so that a next curve stays inside over the whole window.
 * A pointwise band understates: a good shot leaves it somewhere nearly always.
 *
 * @param curves   one condition of one player, registered in time
 * @param options  level, looks, uncertainty of the curve as floor of s, and the bootstrap option
 * @returns        the band in the unit of the curves, or `withheld` below 5 curves (12 for the bootstrap). With 5 curves the honest band is
 *                 very wide (c about 10); 8 halve it
 */
export function curveBand(curves: Curves, options: CurveBandOptions = {}): CurveBand | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK, bootstrap } = options;
  const scatter = curveScatter(curves);
  const n = scatter.countCurves;
  const needed = bootstrap ? LEAST_FOR_BOOTSTRAP : LEAST_FOR_BAND;
  if (n < needed) return { kind: "withheld", reason: "too-few", n: [n], needed };
  const nu = n - 1;
  const countResamples = bootstrap?.countResamples ?? COUNT_RESAMPLES;
  const rough = roughness(scatter);
  const factor = bootstrap
    ? bootstrapFactor(curves, n, { ...bootstrap, levelOfOne, countResamples })
    : tFieldFactor({ roughness: rough, nu, levelOfOne });
  const { sd, isFloored } = withFloor(scatter, options.sigma);
  const half = sd.map((s) => factor * s * Math.sqrt(1 + 1 / n));
  return {
    kind: "curve-band",
    mean: scatter.mean,
    low: scatter.mean.map((value, q) => value - half[q]!),
    high: scatter.mean.map((value, q) => value + half[q]!),
    sd,
    isFloored,
    factor,
    pointwiseFactor: studentQuantile((1 + levelOfOne) / 2, nu),
    roughness: rough,
    nu,
    levelOfOne,
    n: [n],
    method: bootstrap ? "bootstrap-curves" : "t-field",
    ...(bootstrap ? { seed: bootstrap.seed, countArrangements: countResamples } : {}),
    looks,
  };
}

/** A run of points on one side of a band. */
export interface OutsideStretch {
  readonly firstPoint: number;
  readonly lastPoint: number;
  readonly side: "above" | "below";
  /** Farthest outside, in the unit of the curve, and where. */
  readonly excess: number;
  readonly atPoint: number;
}

/**
 * The stretches where a curve leaves a band; none: the whole curve is usual. The curve is not one of the band's.
 *
 * @param curve  one value a point; NaN is neither inside nor outside
 */
export function stretchesOutside(
  curve: Values,
  { low, high }: Pick<CurveBand, "low" | "high">,
): readonly OutsideStretch[] {
  const found: OutsideStretch[] = [];
  let open: OutsideStretch | undefined;
  for (let q = 0; q < curve.length; q++) {
    const over = Math.max(curve[q]! - high[q]!, low[q]! - curve[q]!);
    const side = curve[q]! > high[q]! ? "above" : "below";
    if (open !== undefined && !(over > 0 && side === open.side)) {
      found.push(open);
      open = undefined;
    }
    if (!(over > 0)) continue;
    if (open === undefined) open = { firstPoint: q, lastPoint: q, side, excess: over, atPoint: q };
    else open = { ...open, lastPoint: q, ...(over > open.excess ? { excess: over, atPoint: q } : {}) };
  }
  return open === undefined ? found : [...found, open];
}
