import type { Finding } from "@underfoot/domain";
import { mean, parabolicPeak, type Samples } from "@underfoot/signal";
import { clockFindings } from "./clock-findings.ts";

/** What a check that both plates feel says about their clocks. */
export interface ClockCheck {
  /** How much later the trail plate feels the same thing, s; undefined: nothing to go by. */
  readonly lagS: number | undefined;
  readonly findings: readonly Finding[];
}

export interface ClockCheckOptions {
  readonly rateHz: number;
  /** One sigma of the time between the plates, s, as the clock fits state it. */
  readonly clockSigmaS: number;
}

const LONGEST_TAP_LAG_S = 0.05;
/** sd of the tap's lag with a perfect clock (sim). */
const TAP_SIGMA_S = 0.0001;
/** Below this correlation the two plates did not feel one tap (ours). */
const LEAST_TAP_CORRELATION = 0.5;

/**
 * Tap check: a board across both plates is struck once. Lag of the largest cross-correlation of the sample differences of
 * both loads within ±50 ms, between samples by a parabola; sd 0.1 ms (sim). Beyond 3 sigma: `clocks-disagree`.
 *
 * @param leadLoadN   load of the lead plate on the common grid, n samples, no more than the tap and its surroundings
 * @param trailLoadN  load of the trail plate, n samples
 */
export function tapCheck(leadLoadN: Samples, trailLoadN: Samples, options: ClockCheckOptions): ClockCheck {
  const longest = Math.round(LONGEST_TAP_LAG_S * options.rateHz);
  const lead = differences(leadLoadN);
  const trail = differences(trailLoadN);
  const correlations = Float64Array.from({ length: 2 * longest + 1 }, (_, k) => correlation(lead, trail, k - longest));
  let best = 0;
  for (let k = 1; k < correlations.length; k++) if (correlations[k]! > correlations[best]!) best = k;
  if (!(correlations[best]! >= LEAST_TAP_CORRELATION) || best === 0 || best === 2 * longest) {
    return { lagS: undefined, findings: [clockFindings.noTap()] };
  }
  const lagS = (best - longest + parabolicPeak(correlations, best).offset) / options.rateHz;
  return judged("tap", lagS, options.clockSigmaS, TAP_SIGMA_S);
}

const LOWEST_ROCKING_HZ = 0.3;
const HIGHEST_ROCKING_HZ = 2;
const ROCKING_STEP_HZ = 0.01;
const SHORTEST_ROCKING_S = 6;
/** How much a body may bob while it rocks, N, in any phase; three sigmas are never under the 10 ms that the check can tell (sim). */
const BOB_N = 5;
const LEAST_ROCKING_SIGMA_S = 0.01 / 3;
/** Less than this swing of load, N, is no rocking (ours). */
const LEAST_ROCKING_N = 20;

/**
 * Rocking check: 8 s from foot to foot. Phase of minus the trail load against the lead load at the strongest frequency in
 * 0.3-2 Hz (Hann window). It only tells errors above 10 ms; no correlation of the loads' slopes does better (sim).
 *
 * @param leadLoadN   load of the lead plate on the common grid, n samples
 * @param trailLoadN  load of the trail plate, n samples
 */
export function rockingCheck(leadLoadN: Samples, trailLoadN: Samples, options: ClockCheckOptions): ClockCheck {
  const nothing: ClockCheck = { lagS: undefined, findings: [clockFindings.noRocking()] };
  if (leadLoadN.length < SHORTEST_ROCKING_S * options.rateHz) return nothing;
  let strongest = { power: 0, frequencyHz: 0, phaseRad: 0, amplitudeN: 0 };
  const steps = Math.round((HIGHEST_ROCKING_HZ - LOWEST_ROCKING_HZ) / ROCKING_STEP_HZ);
  for (let k = 0; k <= steps; k++) {
    const frequencyHz = LOWEST_ROCKING_HZ + k * ROCKING_STEP_HZ;
    const lead = tone(leadLoadN, frequencyHz / options.rateHz);
    const trail = tone(trailLoadN, frequencyHz / options.rateHz);
    const power = Math.hypot(...lead) * Math.hypot(...trail);
    if (!(power > strongest.power)) continue;
    // Phase by which minus the trail load runs behind the lead load: the angle of lead times the conjugate of -trail.
    const real = -(lead[0] * trail[0] + lead[1] * trail[1]);
    const imaginary = -(lead[1] * trail[0] - lead[0] * trail[1]);
    strongest = {
      power,
      frequencyHz,
      phaseRad: Math.atan2(imaginary, real),
      amplitudeN: Math.min(Math.hypot(...lead), Math.hypot(...trail)),
    };
  }
  if (!(strongest.amplitudeN >= LEAST_ROCKING_N)) return nothing;
  const lagS = strongest.phaseRad / (2 * Math.PI * strongest.frequencyHz);
  // A bob b cos beside a rocking A sin turns the two loads' phases apart by b / A; its phase is anyone's guess.
  const bobSigmaS = BOB_N / (Math.SQRT2 * strongest.amplitudeN * 2 * Math.PI * strongest.frequencyHz);
  return judged("rocking", lagS, options.clockSigmaS, Math.max(bobSigmaS, LEAST_ROCKING_SIGMA_S));
}

function judged(check: "tap" | "rocking", lagS: number, clockSigmaS: number, checkSigmaS: number): ClockCheck {
  const sigmaS = Math.hypot(clockSigmaS, checkSigmaS);
  const disagrees = Math.abs(lagS) > 3 * sigmaS;
  return { lagS, findings: disagrees ? [clockFindings.disagree(check, 1000 * lagS, 1000 * sigmaS)] : [] };
}

/** Differences of neighbours; 0 beside a missing sample, so that it takes no part. */
function differences(x: Samples): Float64Array {
  const result = new Float64Array(Math.max(0, x.length - 1));
  for (let i = 0; i < result.length; i++) {
    const difference = x[i + 1]! - x[i]!;
    result[i] = Number.isNaN(difference) ? 0 : difference;
  }
  return result;
}

/** Correlation coefficient, means taken as 0, of x[i] with y[i + lag] where both exist. */
function correlation(x: Samples, y: Samples, lag: number): number {
  let xy = 0;
  let xx = 0;
  let yy = 0;
  const end = Math.min(x.length, y.length - lag);
  for (let i = Math.max(0, -lag); i < end; i++) {
    const a = x[i]!;
    const b = y[i + lag]!;
    xy += a * b;
    xx += a * a;
    yy += b * b;
  }
  return xx > 0 && yy > 0 ? xy / Math.sqrt(xx * yy) : Number.NaN;
}

/** Complex amplitude (real, imaginary) of a frequency, in cycles a sample, under a Hann window. */
function tone(x: Samples, cyclesPerSample: number): readonly [number, number] {
  const middle = mean(x);
  let real = 0;
  let imaginary = 0;
  const n = x.length;
  for (let i = 0; i < n; i++) {
    const hann = 1 - Math.cos((2 * Math.PI * (i + 0.5)) / n);
    const angle = 2 * Math.PI * cyclesPerSample * i;
    real += hann * (x[i]! - middle) * Math.cos(angle);
    imaginary -= hann * (x[i]! - middle) * Math.sin(angle);
  }
  return [(2 * real) / n, (2 * imaginary) / n];
}
