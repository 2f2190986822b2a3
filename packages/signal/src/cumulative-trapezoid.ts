import { type Column, requireSameLength, type Samples } from "./samples.ts";

/**
 * Integral from the first sample by the trapezoid rule (composite rule: error at most T h² max|x''| / 12, DLMF 3.5(i)).
 *
 * @param x       n samples at a constant rate, unit u
 * @param rateHz  sampling rate
 * @param out     receives the result; n samples; may be `x` itself
 * @returns       `out`, in u·s; the first is 0. A missing sample makes every later one NaN.
 *
 * @example cumulativeTrapezoid(Float64Array.of(0, 1, 2), 10) // 0, 0.05, 0.2
 */
export function cumulativeTrapezoid(x: Samples, rateHz: number, out: Column = new Float64Array(x.length)): Column {
  requireSameLength("out", out.length, x.length);
  const n = x.length;
  if (n === 0) return out;
  const halfStepS = 0.5 / rateHz;
  let before = x[0]!;
  let integral = Number.isNaN(before) ? Number.NaN : 0;
  out[0] = integral;
  for (let i = 1; i < n; i++) {
    const now = x[i]!;
    integral += (before + now) * halfStepS;
    out[i] = integral;
    before = now;
  }
  return out;
}
