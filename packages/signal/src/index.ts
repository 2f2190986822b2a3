// Arrays and a rate: filters, integrals, slopes, peaks, gaps and spikes. Knows no golf, no plate and no axis.
export { type Bridged, bridgedGaps } from "./bridged-gaps.ts";
export { cumulativeTrapezoid } from "./cumulative-trapezoid.ts";
export { exactSum } from "./exact-sum.ts";
export { type Despiked, hampelSpikes, withoutSpikes } from "./hampel.ts";
export {
  butterworthLowPass,
  type Cutoff,
  designCutoffK,
  type LowPass,
  lowPassFromDesignFrequency,
  lowPassFromK,
} from "./low-pass.ts";
export { mean, standardDeviation } from "./mean.ts";
export { type MovingSlopeOptions, movingSlope } from "./moving-slope.ts";
export { derivativeNoiseGainPerS, noiseGain } from "./noise-gain.ts";
export { type Peak, parabolicPeak } from "./parabolic-peak.ts";
export { resampledCubic } from "./resampled-cubic.ts";
export { type ResidualCutoff, residualCutoffHz } from "./residual-cutoff.ts";
export type { Column, Samples } from "./samples.ts";
export { type Run, validRuns } from "./valid-runs.ts";
export { valueAt } from "./value-at.ts";
export { zeroPhase, zeroPhaseMany } from "./zero-phase.ts";
