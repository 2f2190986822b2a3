import type { Column, PlayerAxes } from "@underfoot/domain";
import { valueAt } from "@underfoot/signal";
import type { CatalogueEntry } from "./catalogue.ts";
import { type Estimate, notValid, WHY } from "./estimate.ts";
import { extremum } from "./extremum.ts";
import { varianceOfTime } from "./measures-at.ts";
import type { MotionSeries, Shot } from "./shot.ts";
import type { ShotMoments } from "./shot-moments.ts";

/** A flat peak of speed: its time is good to half the stretch over which speed stays within this of the peak, m/s (sim). */
const FLAT_SPEED_MPER_S = 0.0004;

interface MotionCurve {
  readonly values: Column;
  readonly sigmas: Column;
  /** From the curve's unit, m or m/s, to the catalogue's. */
  readonly scale: number;
}

const CURVES: Readonly<Record<string, (motion: MotionSeries) => MotionCurve>> = {
  speedTarget: (m) => ({ values: m.speedTargetMPerS, sigmas: m.speedTargetSigmaMPerS, scale: 1 }),
  speedAhead: (m) => ({ values: m.speedAheadMPerS, sigmas: m.speedAheadSigmaMPerS, scale: 1 }),
  speedUp: (m) => ({ values: m.speedUpMPerS, sigmas: m.speedUpSigmaMPerS, scale: 1 }),
  travelTarget: (m) => ({ values: m.travelTargetM, sigmas: m.travelTargetSigmaM, scale: 1000 }),
  travelAhead: (m) => ({ values: m.travelAheadM, sigmas: m.travelAheadSigmaM, scale: 1000 }),
  travelUp: (m) => ({ values: m.travelUpM, sigmas: m.travelUpSigmaM, scale: 1000 }),
};

/** Whether a quantity is the centre of mass's. */
export function isMotion(entry: CatalogueEntry): boolean {
  return entry.family === "centre-of-mass";
}

/** Speed or travel of the centre of mass at an event, or its largest value from start to finish and when that is. */
export function measureMotion(entry: CatalogueEntry, axes: PlayerAxes | undefined, moments: ShotMoments): Estimate {
  const { shot, events } = moments;
  const curve = CURVES[entry.quantity.slice("both.".length)]!(axes === "level" ? shot.level : shot.turf);
  if (entry.statistic !== "at") return motionPeak(entry, curve, moments);
  const moment = events.get(entry.event!);
  if (moment === undefined) return notValid(`${entry.event} not found`);
  const at = (position: number): number => valueAt(curve.values, position);
  const value = at(moment.position);
  const sigma = valueAt(curve.sigmas, moment.position);
  if (!Number.isFinite(value + sigma)) return notValid(WHY.gap);
  const time = varianceOfTime(
    at(moment.position - moment.sigmaSamples),
    value,
    at(moment.position + moment.sigmaSamples),
  );
  return scaled(value, sigma ** 2 + time, curve.scale);
}

function scaled(value: number, ownVariance: number, scale: number): Estimate {
  return { value: scale * value, ownVariance: scale ** 2 * ownVariance, sharedVariance: 0 };
}

function motionPeak(entry: CatalogueEntry, curve: MotionCurve, { shot, events }: ShotMoments): Estimate {
  const start = events.get("start");
  const finish = events.get("finish");
  const impact = events.get("impact");
  if (start === undefined) return notValid("start not found");
  if (finish === undefined) return notValid("finish not found");
  const window = { first: Math.ceil(start.position), end: Math.floor(finish.position) + 1 };
  if (window.first < 0 || window.end > shot.sampleCount) return notValid(WHY.outside);
  for (let i = window.first; i < window.end; i++) if (Number.isNaN(curve.values[i])) return notValid(WHY.gap);
  const peak = extremum(curve.values, window, 1);
  if (peak === undefined) return notValid(WHY.gap);
  if (entry.statistic === "peak") return scaled(peak.value, valueAt(curve.sigmas, peak.position) ** 2, curve.scale);
  if (impact === undefined) return notValid("impact not found");
  const flatMs = flatHalfWidthMs(curve.values, peak.sample, peak.value - FLAT_SPEED_MPER_S, shot);
  return {
    value: ((peak.position - impact.position) * 1000) / shot.rateHz,
    ownVariance: flatMs ** 2 + impact.event.sigmaMs ** 2,
    sharedVariance: 0,
  };
}

function flatHalfWidthMs(values: Column, peak: number, least: number, { rateHz }: Shot): number {
  let first = peak;
  let last = peak;
  while (values[first - 1]! >= least) first -= 1;
  while (values[last + 1]! >= least) last += 1;
  return (500 * Math.max(1, last - first)) / rateHz;
}
