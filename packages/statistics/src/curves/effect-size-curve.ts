import { hedgesCorrection } from "../difference/effect-size.ts";
import type { Values } from "../samples.ts";
import { curveScatter } from "../scatter/t-field.ts";
import { type ComparedCurve, curvesOf } from "./pointwise-t.ts";

/**
 * Hedges' g at each point, J d / max(s_pooled, sigma), for a picture only: no interval, no verdict.
 *
 * @param curve   both conditions' shots; null difference taken off where given
 * @param groups  0 for A, 1 for B
 * @returns       without unit; NaN where it is not drawn: a shot lacks the point, or |d| < 2 sigma
 */
export function effectSizeCurve(curve: ComparedCurve, groups: Values): Float64Array<ArrayBuffer> {
  const a = curveScatter(curvesOf(curve, groups, 0));
  const b = curveScatter(curvesOf(curve, groups, 1));
  const nu = a.countCurves + b.countCurves - 2;
  const j = hedgesCorrection(nu);
  return a.mean.map((meanA, q) => {
    const sigma = curve.sigma?.[q] ?? 0;
    const d = b.mean[q]! - meanA - (curve.nullDifference?.[q] ?? 0);
    if (!(Math.abs(d) >= 2 * sigma)) return Number.NaN;
    const squares = (a.countCurves - 1) * a.sd[q]! ** 2 + (b.countCurves - 1) * b.sd[q]! ** 2;
    const scale = Math.max(Math.sqrt(squares / nu), sigma);
    return scale === 0 ? Number.NaN : (j * d) / scale;
  });
}
