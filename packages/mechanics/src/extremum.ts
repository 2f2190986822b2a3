import type { Samples } from "@underfoot/domain";
import { parabolicPeak } from "@underfoot/signal";

/** The largest (or smallest) value of a curve in a window. */
export interface Extremum {
  readonly value: number;
  /** In samples from the curve's first, by the parabola through the sample and its neighbours. */
  readonly position: number;
  readonly sample: number;
  /** -1: it lies at the window's first sample, 1: at its last, 0: inside. */
  readonly edge: -1 | 0 | 1;
}

export interface WindowOfSamples {
  /** Samples [first, end) of the curve. */
  readonly first: number;
  readonly end: number;
}

/** +1 for the largest value, -1 for the smallest. */
export type Side = 1 | -1;

/**
 * Extremum of a curve in a window. NaN samples are passed over: the caller says whether they make it invalid.
 * Undefined for a window without a number. At the window's ends the sample itself, since what follows lies outside.
 */
export function extremum(curve: Samples, { first, end }: WindowOfSamples, side: Side): Extremum | undefined {
  let sample = -1;
  let best = Number.NEGATIVE_INFINITY;
  for (let i = first; i < end; i++) {
    const value = side * curve[i]!;
    if (value > best) {
      best = value;
      sample = i;
    }
  }
  if (sample < 0) return undefined;
  if (sample === first || sample === end - 1) {
    return { value: curve[sample]!, position: sample, sample, edge: sample === first ? -1 : 1 };
  }
  const { offset, value } = parabolicPeak(curve, sample);
  return { value, position: sample + offset, sample, edge: 0 };
}

/** How far from its peak a curve must have fallen to have one peak time, ms (sim). */
const FALLEN_AFTER_MS = 50;

/**
 * Whether a curve has no single peak time: another local extremum, the value 50 ms to either side or the value at the
 * window's ends is within `tolerance` of the peak. Such times miss by 30 to 250 ms (sim).
 */
export function hasTwoPeaks(
  curve: Samples,
  { first, end }: WindowOfSamples,
  peak: Extremum,
  { side, tolerance, rateHz }: { readonly side: Side; readonly tolerance: number; readonly rateHz: number },
): boolean {
  const level = side * peak.value - tolerance;
  const isNear = (i: number): boolean => side * (curve[i] ?? Number.NaN) >= level;
  if (isNear(first) || isNear(end - 1)) return true;
  const away = Math.round((FALLEN_AFTER_MS / 1000) * rateHz);
  const before = peak.sample - away;
  const after = peak.sample + away;
  if ((before >= first && isNear(before)) || (after < end && isNear(after))) return true;
  for (let i = first + 1; i < end - 1; i++) {
    if (i === peak.sample || !isNear(i)) continue;
    const here = side * curve[i]!;
    if (here >= side * curve[i - 1]! && here > side * curve[i + 1]! && Math.abs(i - peak.sample) > 1) return true;
  }
  return false;
}
