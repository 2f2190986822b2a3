import type { EventName } from "@underfoot/domain";
import type { Shot, ShotEvent } from "@underfoot/mechanics";

/** The zero that people's times are counted from: impact, or the first sample where no impact is known. */
export interface TimeZero {
  readonly zeroS: number;
  readonly kind: "impact" | "first-sample";
  /** One sigma of the zero against the forces, ms; 0 for the first sample. */
  readonly sigmaMs: number;
  /** True where impact was only estimated: times then say "about". */
  readonly isEstimated: boolean;
}

export function eventOf(shot: Shot, event: EventName): ShotEvent | undefined {
  return shot.events.find((candidate) => candidate.event === event);
}

export function timeZero(shot: Shot): TimeZero {
  const impact = eventOf(shot, "impact");
  return impact === undefined
    ? { zeroS: 0, kind: "first-sample", sigmaMs: 0, isEstimated: false }
    : { zeroS: impact.timeS, kind: "impact", sigmaMs: impact.sigmaMs, isEstimated: impact.source === "estimated" };
}

/** ms from the zero of the shot's times. */
export function msFromS(zero: TimeZero, timeS: number): number {
  return 1000 * (timeS - zero.zeroS);
}

export function sFromMs(zero: TimeZero, timeMs: number): number {
  return zero.zeroS + timeMs / 1000;
}

/** Nearest sample, held inside the recording. */
export function sampleAt(shot: Shot, timeS: number): number {
  return Math.min(shot.sampleCount - 1, Math.max(0, Math.round(timeS * shot.rateHz)));
}

/** A column at a time between samples (straight line); NaN beside a gap or outside. */
export function valueAtS(shot: Shot, column: Readonly<Float64Array>, timeS: number): number {
  const place = timeS * shot.rateHz;
  const before = Math.floor(place);
  const share = place - before;
  if (share < 1e-9) return column[before] ?? NaN;
  return (1 - share) * (column[before] ?? NaN) + share * (column[before + 1] ?? NaN);
}
