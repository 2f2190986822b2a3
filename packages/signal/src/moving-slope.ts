import type { Column, Samples } from "./samples.ts";
import { validRuns } from "./valid-runs.ts";

export interface MovingSlopeOptions {
  /** Odd, at least 3. */
  readonly windowSamples: number;
  readonly rateHz: number;
}

/**
 * Slope of the least-squares line through a window that moves along, given at the window's middle. One pass, by running sums.
 *
 * @param x  n samples, unit u
 * @returns  n samples in u/s; NaN where the window does not fit or touches a missing sample
 * @throws   RangeError for an even window or one under 3 samples
 */
export function movingSlope(x: Samples, { windowSamples, rateHz }: MovingSlopeOptions): Column {
  if (!(windowSamples >= 3 && windowSamples % 2 === 1)) {
    throw new RangeError(`a window of ${windowSamples} samples is not an odd number from 3`);
  }
  const half = (windowSamples - 1) / 2;
  // sum of j² for j = -half .. half
  const scalePerS = rateHz / ((half * (half + 1) * (2 * half + 1)) / 3);
  const out = new Float64Array(x.length).fill(Number.NaN);
  for (const { first, end } of validRuns(x)) {
    if (end - first < windowSamples) continue;
    // Sums over x less its first value of the run: a weight of 800 N would cost digits.
    const origin = x[first]!;
    let plain = 0;
    let moment = 0;
    for (let j = -half; j <= half; j++) {
      const value = x[first + half + j]! - origin;
      plain += value;
      moment += j * value;
    }
    out[first + half] = moment * scalePerS;
    for (let i = first + half + 1; i + half < end; i++) {
      const gone = x[i - half - 1]! - origin;
      const come = x[i + half]! - origin;
      moment += (half + 1) * gone + half * come - plain;
      plain += come - gone;
      out[i] = moment * scalePerS;
    }
  }
  return out;
}
