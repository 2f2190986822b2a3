import { type Column, resampledCubic, type Samples } from "@underfoot/signal";
import { type ClockFit, hostTimeSigmaS } from "./clock-fit.ts";
import type { PlateWrench, VectorSeries } from "./plate-wrench.ts";

/** Where a second stream lies against the lead plate's, first sample at 0 s in both: lead time = offsetS + (1 + drift) x own time. */
export interface ClockRelation {
  readonly offsetS: number;
  /** Seconds per second. */
  readonly drift: number;
}

/** The lead plate's samples: the grid that the other plate is put on. */
export interface LeadGrid {
  readonly sampleCount: number;
  readonly rateHz: number;
}

/** A stream as it came: the ticks of its first sample and from one sample to the next. */
export interface StreamTicks {
  readonly firstTicks: number;
  readonly ticksPerSample: number;
  readonly rateHz: number;
}

/**
 * How the second stream lies against the lead plate's, from both clock fits: both go to host time.
 * Own time counts at the stream's nominal rate, so a clock that runs fast shows as drift.
 */
export function clockRelation(
  lead: { readonly fit: ClockFit; readonly stream: StreamTicks },
  other: { readonly fit: ClockFit; readonly stream: StreamTicks },
): ClockRelation {
  // Host seconds that pass while a stream counts one second of its own.
  const hostPerOwn = ({ fit, stream }: typeof lead): number =>
    fit.secondsPerTick * stream.ticksPerSample * stream.rateHz;
  // Both first samples from the middle between the fits' centres: host times are large and would cost digits.
  const apartS = other.fit.hostS - lead.fit.hostS;
  const otherFirstS = other.fit.secondsPerTick * (other.stream.firstTicks - other.fit.centreTicks) + apartS;
  const leadFirstS = lead.fit.secondsPerTick * (lead.stream.firstTicks - lead.fit.centreTicks);
  return {
    offsetS: (otherFirstS - leadFirstS) / hostPerOwn(lead),
    drift: hostPerOwn(other) / hostPerOwn(lead) - 1,
  };
}

/** One sigma of the time between two plates, s: both fits at their tick, in quadrature. */
export function clockSigmaS(lead: ClockFit, leadTicks: number, other: ClockFit, otherTicks: number): number {
  return Math.hypot(hostTimeSigmaS(lead, leadTicks), hostTimeSigmaS(other, otherTicks));
}

/** Positions of the lead plate's samples in the other stream, in its samples from its first. */
export function leadPositions({ offsetS, drift }: ClockRelation, grid: LeadGrid, ownRateHz: number): Column {
  const step = ownRateHz / (grid.rateHz * (1 + drift));
  const first = (-offsetS * ownRateHz) / (1 + drift);
  return Float64Array.from({ length: grid.sampleCount }, (_, i) => first + step * i);
}

/**
 * Columns of the second stream on the lead plate's samples, by the cubic through four samples: largest error at 1000 Hz,
 * of the amplitude, 3e-7 at 10 Hz, 5e-6 at 20 Hz, 2e-4 at 50 Hz (a straight line: 5e-4, 2e-3, 1e-2).
 *
 * @param columns    of equal length, at ownRateHz
 * @param ownRateHz  nominal rate of the second stream; of two rates the grid should have the higher
 * @returns          grid.sampleCount samples each; NaN where the second stream has nothing
 */
export function onLeadClock(
  columns: readonly Samples[],
  relation: ClockRelation,
  { grid, ownRateHz }: { readonly grid: LeadGrid; readonly ownRateHz: number },
): Column[] {
  const positions = leadPositions(relation, grid, ownRateHz);
  return columns.map((column) => resampledCubic(column, positions));
}

/**
 * A plate's wrench on the lead plate's samples, of the same rate and count. Force and moment are interpolated in the
 * laboratory frame, which is linear; a sample counts as saturated where one of its neighbours is.
 */
export function wrenchOnLeadClock(wrench: PlateWrench, relation: ClockRelation, rateHz: number): PlateWrench {
  const sampleCount = wrench.isSaturated.length;
  const positions = leadPositions(relation, { sampleCount, rateHz }, rateHz);
  const moved = ({ x, y, z }: VectorSeries): VectorSeries => ({
    x: resampledCubic(x, positions),
    y: resampledCubic(y, positions),
    z: resampledCubic(z, positions),
  });
  const isSaturated = Uint8Array.from(positions, (at) => {
    const before = wrench.isSaturated[Math.floor(at)] ?? 0;
    const after = wrench.isSaturated[Math.ceil(at)] ?? 0;
    return before | after;
  });
  return { ...wrench, forceN: moved(wrench.forceN), momentNm: moved(wrench.momentNm), isSaturated };
}
