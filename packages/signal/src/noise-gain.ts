import { type Cutoff, TWO_PASS_CORRECTION } from "./low-pass.ts";

/** Integral of (1 + u⁴)^-2 over 0..inf = 3 pi / (8 sqrt 2): power that both passes let through (beta function, DLMF 5.12.3). */
const POWER = (3 * Math.PI) / (8 * Math.SQRT2);
/** Integral of u² (1 + u⁴)^-2 over 0..inf = pi / (8 sqrt 2): the same for the derivative. */
const DERIVATIVE_POWER = Math.PI / (8 * Math.SQRT2);

/**
 * Standard deviation that white noise of sd 1 keeps after `zeroPhase` with `butterworthLowPass`.
 * Closed form of the analogue filter; good while the cut-off is far below half the rate.
 *
 * @example noiseGain({ cutoffHz: 25, rateHz: 1000 }) // 0.22786
 */
export function noiseGain({ cutoffHz, rateHz }: Cutoff): number {
  return Math.sqrt((2 * POWER * cutoffHz) / (TWO_PASS_CORRECTION * rateHz));
}

/**
 * Standard deviation of the time derivative, per second, that white noise of sd 1 gives after the same filter.
 *
 * @example derivativeNoiseGainPerS({ cutoffHz: 25, rateHz: 1000 }) // 25.758
 */
export function derivativeNoiseGainPerS({ cutoffHz, rateHz }: Cutoff): number {
  const designRadPerS = (2 * Math.PI * cutoffHz) / TWO_PASS_CORRECTION;
  return designRadPerS * Math.sqrt(DERIVATIVE_POWER / POWER) * noiseGain({ cutoffHz, rateHz });
}
