import { butterworthLowPass } from "./low-pass.ts";
import type { Column, Samples } from "./samples.ts";
import { zeroPhase } from "./zero-phase.ts";

const LOWEST_HZ = 2;
/** Fewest points of the straight part, and how many frequencies it may leave out: half. */
const FEWEST_POINTS = 10;

/** What the residual analysis saw and chose. */
export interface ResidualCutoff {
  /** Undefined where no residual lies at or under the intercept, or the rate is too low for a line. */
  readonly cutoffHz: number | undefined;
  /** 2, 3, ..., floor(rate / 8). */
  readonly frequenciesHz: Column;
  /** RMS of raw minus filtered at each frequency, unit of the signal. */
  readonly residual: Column;
  /** The straight part: from this frequency index to the last. */
  readonly firstIndex: number;
  /** Unit of the signal per Hz. */
  readonly slope: number;
  /** The line at 0 Hz: the noise that a filter would have to take away, unit of the signal. */
  readonly intercept: number;
  readonly r2: number;
}

/**
 * Cut-off by residual analysis (Winter, Biomechanics and Motor Control of Human Movement; from memory). The residual falls
 * with the cut-off; its straight part at high frequencies is noise alone. Where the residual reaches that line's value
 * at 0 Hz, as much signal is lost as noise is let through.
 *
 * The straight part is the stretch i..N-1, i from floor(N/2) to N - 10, whose least-squares line has the largest R².
 *
 * @param x  n >= 30 samples; missing ones are left out of the RMS
 */
export function residualCutoffHz(x: Samples, rateHz: number): ResidualCutoff {
  const count = Math.max(0, Math.floor(rateHz / 8) - LOWEST_HZ + 1);
  const frequenciesHz = Float64Array.from({ length: count }, (_, k) => k + LOWEST_HZ);
  const filtered = new Float64Array(x.length);
  const residual = frequenciesHz.map((cutoffHz) =>
    rootMeanSquareDifference(x, zeroPhase(x, butterworthLowPass({ cutoffHz, rateHz }), filtered)),
  );
  let best = { firstIndex: -1, slope: Number.NaN, intercept: Number.NaN, r2: Number.NEGATIVE_INFINITY };
  for (let i = Math.floor(count / 2); i <= count - FEWEST_POINTS; i++) {
    const line = leastSquaresLine(frequenciesHz.subarray(i), residual.subarray(i));
    if (line.r2 > best.r2) best = { firstIndex: i, ...line };
  }
  const reached = residual.findIndex((r) => r <= best.intercept);
  return { cutoffHz: reached < 0 ? undefined : frequenciesHz[reached]!, frequenciesHz, residual, ...best };
}

function rootMeanSquareDifference(x: Samples, y: Samples): number {
  let squares = 0;
  let count = 0;
  const n = x.length;
  for (let i = 0; i < n; i++) {
    const difference = x[i]! - y[i]!;
    if (Number.isNaN(difference)) continue;
    squares += difference * difference;
    count++;
  }
  return Math.sqrt(squares / count);
}

interface Line {
  readonly slope: number;
  readonly intercept: number;
  readonly r2: number;
}

function leastSquaresLine(x: Samples, y: Samples): Line {
  const meanX = x.reduce((sum, value) => sum + value, 0) / x.length;
  const meanY = y.reduce((sum, value) => sum + value, 0) / y.length;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  const n = x.length;
  for (let i = 0; i < n; i++) {
    const dx = x[i]! - meanX;
    const dy = y[i]! - meanY;
    xx += dx * dx;
    xy += dx * dy;
    yy += dy * dy;
  }
  const slope = xy / xx;
  return { slope, intercept: meanY - slope * meanX, r2: (xy * xy) / (xx * yy) };
}
