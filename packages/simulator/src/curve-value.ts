import type { Samples } from "@underfoot/domain";

/** A stretch of samples in time: sample i lies at i / rateHz. */
export interface Window {
  readonly fromS: number;
  readonly toS: number;
}

/** The value of a curve at a time, straight between samples. */
export function valueAt(curve: Samples, rateHz: number, timeS: number): number {
  const place = Math.min(curve.length - 1, Math.max(0, timeS * rateHz));
  const first = Math.min(curve.length - 2, Math.floor(place));
  const part = place - first;
  return curve[first]! * (1 - part) + curve[first + 1]! * part;
}

/** Samples [first, end) of a window. */
export function windowIndices(rateHz: number, { fromS, toS }: Window, count: number): [number, number] {
  return [Math.max(0, Math.ceil(fromS * rateHz)), Math.min(count, Math.floor(toS * rateHz) + 1)];
}

export interface Peak {
  readonly value: number;
  readonly timeS: number;
}

function extreme(curve: Samples, rateHz: number, { fromS, toS }: Window, sign: 1 | -1): Peak {
  const [first, end] = windowIndices(rateHz, { fromS, toS }, curve.length);
  let best = first;
  for (let i = first; i < end; i++) if (sign * curve[i]! > sign * curve[best]!) best = i;
  const top = curve[best]!;
  if (best === first || best === end - 1) return { value: top, timeS: best / rateHz };
  const before = curve[best - 1]!;
  const after = curve[best + 1]!;
  const bend = before - 2 * top + after;
  const shift = bend === 0 ? 0 : (0.5 * (before - after)) / bend;
  return { value: top - 0.25 * (before - after) * shift, timeS: (best + shift) / rateHz };
}

/** The highest sample in a window and its time, both mended by the parabola through it and its neighbours in the window. */
export function curvePeak(curve: Samples, rateHz: number, window: Window): Peak {
  return extreme(curve, rateHz, window, 1);
}

/** The lowest, likewise. */
export function curveTrough(curve: Samples, rateHz: number, window: Window): Peak {
  return extreme(curve, rateHz, window, -1);
}

export function curveMean(curve: Samples, rateHz: number, window: Window): number {
  const [first, end] = windowIndices(rateHz, window, curve.length);
  let total = 0;
  for (let i = first; i < end; i++) total += curve[i]!;
  return total / (end - first);
}

/** The integral of a curve less a constant between two times: trapezoids, the ends straight between samples. */
export function curveIntegral(curve: Samples, rateHz: number, { fromS, toS }: Window, less = 0): number {
  const [first, end] = windowIndices(rateHz, { fromS, toS }, curve.length);
  let total = 0;
  for (let i = first + 1; i < end; i++) total += (curve[i - 1]! + curve[i]!) / 2 / rateHz;
  const head = first / rateHz - fromS;
  const tail = toS - (end - 1) / rateHz;
  total += (head * (valueAt(curve, rateHz, fromS) + curve[first]!)) / 2;
  total += (tail * (valueAt(curve, rateHz, toS) + curve[end - 1]!)) / 2;
  return total - less * (toS - fromS);
}

/** The largest slope of a least-squares line over `lengthS`, its middle in the window, per second. */
export function steepestRise(curve: Samples, rateHz: number, window: Window, lengthS: number): number {
  const half = Math.round((lengthS * rateHz) / 2);
  const [first, end] = windowIndices(rateHz, window, curve.length);
  const squares = (half * (half + 1) * (2 * half + 1)) / 3;
  let best = Number.NEGATIVE_INFINITY;
  for (let i = Math.max(half, first); i < Math.min(curve.length - half, end); i++) {
    let moment = 0;
    for (let k = 1; k <= half; k++) moment += k * (curve[i + k]! - curve[i - k]!);
    best = Math.max(best, (moment / squares) * rateHz);
  }
  return best;
}
