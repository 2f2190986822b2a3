import type { Column, Samples } from "@underfoot/domain";
import type { Window } from "./quiet-window.ts";

/** What the integration of one axis rests on. */
export interface SpeedOptions {
  readonly rateHz: number;
  readonly massKg: number;
  /** Mean force of the quiet stance along this axis, N: gravity, slope and any constant zero error at once. */
  readonly quietN: number;
  /** The quiet window. */
  readonly window: Window;
}

/** Sample in the middle of a window, down to a whole one. */
export function middleSample({ first, end }: Window): number {
  return Math.floor((first + end - 1) / 2);
}

/**
 * Velocity of the centre of mass along one axis, from the total force.
 *
 *   v(t) = (1/m) ∫ (F - F_q) dt,  shifted so that its mean over the quiet window is 0      (Newton's second law)
 *
 * A falling force is not a body going back: only this integral tells the direction of motion.
 *
 * @param forceN  total force along the axis, gravity included, n samples, unfiltered
 * @returns       m/s, n samples. A missing sample makes those beyond it (away from the window) NaN.
 *
 * Errors. Trapezoid: at most T h² max|a''| / 12 (DLMF 3.5(i)). A constant error of 1 N on 80 kg drifts by 0.0125 m/s
 * every second; this one dominates, so F_q comes from the quiet stance of the same shot.
 */
export function comSpeed(forceN: Samples, { rateHz, massKg, quietN, window }: SpeedOptions): Column {
  const sampleCount = forceN.length;
  const speed = new Float64Array(sampleCount);
  const halfStep = 0.5 / (rateHz * massKg);
  const middle = middleSample(window);
  let v = 0;
  for (let i = middle + 1; i < sampleCount; i++) {
    v += (forceN[i - 1]! - quietN + (forceN[i]! - quietN)) * halfStep;
    speed[i] = v;
  }
  v = 0;
  for (let i = middle - 1; i >= 0; i--) {
    v -= (forceN[i + 1]! - quietN + (forceN[i]! - quietN)) * halfStep;
    speed[i] = v;
  }
  let sum = 0;
  for (let i = window.first; i < window.end; i++) sum += speed[i]!;
  const mean = sum / (window.end - window.first);
  for (let i = 0; i < sampleCount; i++) speed[i] = speed[i]! - mean;
  return speed;
}

/**
 * Displacement of the centre of mass: the integral of its velocity, 0 at `middle` (trapezoid).
 *
 * @returns m, n samples; NaN beyond a missing sample, seen from `middle`
 */
export function comTravel(speedMPerS: Samples, { rateHz, middle }: { rateHz: number; middle: number }): Column {
  const travel = new Float64Array(speedMPerS.length);
  const halfStep = 0.5 / rateHz;
  let x = 0;
  for (let i = middle + 1; i < travel.length; i++) {
    x += (speedMPerS[i - 1]! + speedMPerS[i]!) * halfStep;
    travel[i] = x;
  }
  x = 0;
  for (let i = middle - 1; i >= 0; i--) {
    x -= (speedMPerS[i + 1]! + speedMPerS[i]!) * halfStep;
    travel[i] = x;
  }
  return travel;
}

/** A second quiet stance after the shot and what is known of the speed there, one axis. */
export interface Closing {
  /** From the middle of the quiet window to the middle of the second one, T, s. */
  readonly afterS: number;
  /** Mean speed that the open integral shows there, m/s. */
  readonly speedMPerS: number;
  /** sd of the speed at the quiet window's middle, m/s; of the zero of acceleration, m/s²; of the speed at the second stance, m/s. */
  readonly sigma0: number;
  readonly sigmaB: number;
  readonly sigmaE: number;
}

/**
 * The open velocity corrected by a second quiet stance. Speed there is 0 only to sigma_e, so it is weighed, not forced:
 *
 *   v(t) - k(t) v_T,   k(t) = (sigma_0² + sigma_b² t T) / (sigma_0² + sigma_b² T² + sigma_e²),   k(0) before the quiet window's middle
 *
 * (best linear estimate of a constant and a growing error from one look at their sum).
 */
export function closedSpeed(
  speedMPerS: Samples,
  { rateHz, middle, closing }: { readonly rateHz: number; readonly middle: number; readonly closing: Closing },
): Column {
  const closed = new Float64Array(speedMPerS.length);
  const { afterS, speedMPerS: endSpeed, sigma0, sigmaB } = closing;
  const perVariance = 1 / closingVariance(closing);
  for (let i = 0; i < closed.length; i++) {
    const tS = i > middle ? (i - middle) / rateHz : 0;
    const k = (sigma0 * sigma0 + sigmaB * sigmaB * tS * afterS) * perVariance;
    closed[i] = speedMPerS[i]! - k * endSpeed;
  }
  return closed;
}

/** Variance of the speed that the open integral shows at the second quiet stance: sigma_0² + sigma_b² T² + sigma_e². */
export function closingVariance({ afterS, sigma0, sigmaB, sigmaE }: Omit<Closing, "speedMPerS">): number {
  return sigma0 * sigma0 + (sigmaB * afterS) ** 2 + sigmaE * sigmaE;
}
