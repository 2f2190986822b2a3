/**
 * A second-order low-pass as its difference equation, DC gain 1 and a double zero at half the rate (b1 = 2 b0, b2 = b0):
 *
 *   y[i] = b0 x[i] + b1 x[i-1] + b2 x[i-2] - a1 y[i-1] - a2 y[i-2]
 */
export interface LowPass {
  readonly b0: number;
  readonly b1: number;
  readonly b2: number;
  readonly a1: number;
  readonly a2: number;
}

/** A cut-off, where the gain of both passes is 1/sqrt(2), and the sampling rate. */
export interface Cutoff {
  readonly cutoffHz: number;
  readonly rateHz: number;
}

/**
 * (sqrt(2) - 1)^(1/4) = 0.802243...: how much lower two passes of a second-order Butterworth cut than one.
 * Winter, Biomechanics and Motor Control of Human Movement, 4th ed., p. 69 (rounded there to 0.802); Robertson et al.,
 * Research Methods in Biomechanics, 2nd ed., p. 288.
 */
export const TWO_PASS_CORRECTION: number = (Math.SQRT2 - 1) ** 0.25;

/**
 * Warped design frequency K of a filter that runs forward and back and halves the power at the cut-off.
 * The correction comes after the tangent, so that the gain at the cut-off is exact at any rate.
 *
 * @throws RangeError unless 0 < cutoffHz < rateHz / 2: a setting must be checked before it gets here.
 */
export function designCutoffK(cutoffHz: number, rateHz: number): number {
  if (!(cutoffHz > 0 && cutoffHz < rateHz / 2)) {
    throw new RangeError(`a cut-off of ${cutoffHz} Hz does not lie between 0 and half of ${rateHz} Hz`);
  }
  return Math.tan((Math.PI * cutoffHz) / rateHz) / TWO_PASS_CORRECTION;
}

/** Second-order Butterworth low-pass from its warped design frequency K = tan(pi f / rate), by the bilinear transform. */
export function lowPassFromK(K: number): LowPass {
  const square = K * K;
  const d = 1 + Math.SQRT2 * K + square;
  const b0 = square / d;
  return { b0, b1: 2 * b0, b2: b0, a1: (2 * (square - 1)) / d, a2: (1 - Math.SQRT2 * K + square) / d };
}

/**
 * The filter for `zeroPhase` whose both passes together have the gain 1/sqrt(2) at the cut-off.
 * Equal to SciPy's `butter(2, (2 / pi) atan(K))` with K from `designCutoffK`.
 *
 * @example butterworthLowPass({ cutoffHz: 25, rateHz: 1000 }).b0 // 0.00838064824111134
 */
export function butterworthLowPass({ cutoffHz, rateHz }: Cutoff): LowPass {
  return lowPassFromK(designCutoffK(cutoffHz, rateHz));
}

/** The filter whose single pass has the gain 1/sqrt(2) at this frequency: SciPy's `butter(2, f' / (rate / 2))`. */
export function lowPassFromDesignFrequency(designHz: number, rateHz: number): LowPass {
  return lowPassFromK(Math.tan((Math.PI * designHz) / rateHz));
}
