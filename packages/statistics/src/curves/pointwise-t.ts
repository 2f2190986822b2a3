import type { Values } from "../samples.ts";
import { satterthwaiteNu } from "../scatter/shot-against-shot.ts";
import { type CurveScatter, curveScatter, roughness, type TField } from "../scatter/t-field.ts";
import { leastShare } from "./scaled-sums.ts";

/** A curve of one measure: every shot's, row by row, and what it is judged against. Optional arrays have one value a point. */
export interface ComparedCurve {
  /** countShots × countPoints in the unit of the measure. A point with NaN in any shot counts for none. */
  readonly values: Values;
  readonly countPoints: number;
  /** Measurement noise of one shot's curve: keeps quiet stretches from large t on next to nothing. */
  readonly sigma?: Values;
  /** The difference that explains nothing; 0. Between lies rather subtract each shot's own slope share. */
  readonly nullDifference?: Values;
  /** What a difference must also exceed: twice the error that all shots share, or that between two visits to one lie. */
  readonly leastExcess?: Values;
  /** Time of the first point and from point to point, ms; without it points are numbered. */
  readonly grid?: { readonly firstMs: number; readonly stepMs: number };
}

/** Difference at each point with its t; NaN where the point does not count. */
export interface PointwiseT {
  /** B minus A, or the mean of the paired differences; unit of the measure. */
  readonly difference: Float64Array<ArrayBuffer>;
  /** √(se² + floor). */
  readonly se: Float64Array<ArrayBuffer>;
  /** (difference - null)/se, 0 where nothing scatters and nothing differs. */
  readonly t: Float64Array<ArrayBuffer>;
  readonly field: TField;
  readonly groups: readonly CurveScatter[];
}

/** The shots of a curve that belong to one condition. */
export function curvesOf(curve: ComparedCurve, groups: Values, group: number): ComparedCurve {
  const { values, countPoints } = curve;
  const rows: number[] = [];
  for (let k = 0; k < groups.length; k++) if (groups[k] === group) rows.push(k);
  const chosen = new Float64Array(rows.length * countPoints);
  rows.forEach((k, at) => {
    for (let q = 0; q < countPoints; q++) chosen[at * countPoints + q] = values[k * countPoints + q]!;
  });
  return { ...curve, values: chosen };
}

/** Mean over the points that have one; `otherwise` where none has. */
function meanOverPoints(values: Values, otherwise: number): number {
  let [sum, count] = [0, 0];
  for (let q = 0; q < values.length; q++) {
    if (!Number.isFinite(values[q]!)) continue;
    sum += values[q]!;
    count++;
  }
  return count === 0 ? otherwise : sum / count;
}

function studentised(
  curve: ComparedCurve,
  o: { readonly difference: Float64Array<ArrayBuffer>; readonly variance: Float64Array; readonly perMean: number },
): Pick<PointwiseT, "difference" | "se" | "t"> {
  const se = o.variance.map((variance, q) => Math.sqrt(variance + o.perMean * (curve.sigma?.[q] ?? 0) ** 2));
  const t = se.map((scale, q) => {
    const excess = o.difference[q]! - (curve.nullDifference?.[q] ?? 0);
    if (excess === 0) return 0 * scale;
    // The t that a labelling without scatter has at most: see leastShare.
    const least = Math.abs(excess) * Math.sqrt(leastShare(0));
    return excess / Math.max(scale, least);
  });
  return { difference: o.difference, se, t };
}

/** Welch's t at each point, B minus A, with the noise floor sigma² (1/nA + 1/nB) in its denominator. */
export function welchAtPoints(curve: ComparedCurve, groups: Values, statistic: "welch" | "pooled"): PointwiseT {
  const [a, b] = [0, 1].map((group) => curveScatter(curvesOf(curve, groups, group))) as [CurveScatter, CurveScatter];
  const [nA, nB] = [a.countCurves, b.countCurves];
  const nuPooled = nA + nB - 2;
  const perMean = 1 / nA + 1 / nB;
  const nu = new Float64Array(curve.countPoints);
  const variance = nu.map((_, q) => {
    const parts = [a, b].map((one) => ({ variance: one.sd[q]! ** 2 / one.countCurves, nu: one.countCurves - 1 }));
    nu[q] = satterthwaiteNu(parts);
    if (statistic === "welch") return parts[0]!.variance + parts[1]!.variance;
    return (((nA - 1) * a.sd[q]! ** 2 + (nB - 1) * b.sd[q]! ** 2) / nuPooled) * perMean;
  });
  const difference = b.mean.map((value, q) => value - a.mean[q]!);
  const rough = ((nA - 1) * roughness(a) + (nB - 1) * roughness(b)) / nuPooled;
  const field = { roughness: rough, nu: statistic === "welch" ? meanOverPoints(nu, nuPooled) : nuPooled };
  return { ...studentised(curve, { difference, variance, perMean }), field, groups: [a, b] };
}

/** t of the mean of paired differences at each point; each difference holds the noise of two shots. */
export function pairedAtPoints(differences: ComparedCurve): PointwiseT {
  const scatter = curveScatter(differences);
  const n = scatter.countCurves;
  const variance = scatter.sd.map((sd) => sd ** 2 / n);
  const field = { roughness: roughness(scatter), nu: n - 1 };
  return {
    ...studentised(differences, { difference: scatter.mean, variance, perMean: 2 / n }),
    field,
    groups: [scatter],
  };
}
