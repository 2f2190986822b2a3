import type { Column, PlayerAxes } from "@underfoot/domain";
import { cumulativeTrapezoid, valueAt } from "@underfoot/signal";
import type { CatalogueEntry } from "./catalogue.ts";
import { type Estimate, notValid, WHY } from "./estimate.ts";
import { extremum } from "./extremum.ts";
import { varianceOfTime } from "./measures-at.ts";
import { STATE } from "./player-state.ts";
import type { MotionSeries, Shot } from "./shot.ts";
import { jointErrorsAt, momentAt, type ShotMoments } from "./shot-moments.ts";
import { filteredNoiseShare, jointSpread, spreadAt, stateErrors } from "./state-errors.ts";
import { stateQuantity } from "./state-quantities.ts";
import { validMean } from "./valid-mean.ts";

/** Half the stretch over which the slope of force is taken where speed peaks, s. */
const SLOPE_HALF_S = 0.02;

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
  if (entry.statistic !== "at") return motionPeak(entry, axes, curve, moments);
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
  const isTravel = entry.quantity.startsWith("both.travel");
  const shared = Math.min(sigma ** 2, gainVariance(entry, moments, moment.position));
  const own = sigma ** 2 - shared + time + (isTravel ? placeVariance(entry, shot) : 0);
  return scaled(value, { own, shared }, curve.scale);
}

/** Way that a stance sways while it is averaged, as a part of sway speed times the window's length (sim). */
const PLACE_SHARE = 0.25;

/** Travel counts from where the body was at address, and that sways: variance of the mean place, m². */
function placeVariance(entry: CatalogueEntry, { address, rateHz, settings }: Shot): number {
  const swayMPerS = entry.quantity === "both.travelUp" ? settings.swaySpeedUpMPerS : settings.swaySpeedMPerS;
  return ((PLACE_SHARE * swayMPerS * (address.end - address.first)) / rateHz) ** 2;
}

/**
 * The part of a motion's variance that is the same in every shot of a session: plates that differ (gain for up, crosstalk
 * along the ground) when load moves from one to the other; e sqrt(2) g times the integral of the share's change, twice for
 * travel. SI.
 */
function gainVariance({ quantity }: CatalogueEntry, moments: ShotMoments, position: number): number {
  const { gravityMPerS2, sigmas, leadShare } = moments.shot;
  const { lead, trail } = sigmas;
  if (lead === undefined || trail === undefined) return 0;
  const [e1, e2] = quantity.endsWith("Up") ? [lead.gain, trail.gain] : [lead.crosstalk, trail.crosstalk];
  const shift = shareShift(moments, leadShare);
  const integral = valueAt(quantity.startsWith("both.travel") ? shift.twice : shift.once, position);
  const variance = (e1 * e1 + e2 * e2) * (gravityMPerS2 * integral) ** 2;
  return Number.isFinite(variance) ? variance : 0;
}

/** Integral from the quiet stance on of lead share less its mean there, s, and the integral of that, s²; a gap counts as none. */
function shareShift(
  { shot, curves }: ShotMoments,
  leadShare: Column,
): { readonly once: Column; readonly twice: Column } {
  const { first, end } = shot.address;
  const known = { once: curves.get("share shift"), twice: curves.get("share shift twice") };
  if (known.once !== undefined && known.twice !== undefined) return { once: known.once, twice: known.twice };
  const quiet = validMean(leadShare, first, end);
  const excess = leadShare.map((share, i) => (i < (first + end) / 2 || Number.isNaN(share) ? 0 : share - quiet));
  const once = cumulativeTrapezoid(excess, shot.rateHz);
  const twice = cumulativeTrapezoid(once, shot.rateHz);
  curves.set("share shift", once);
  curves.set("share shift twice", twice);
  return { once, twice };
}

function scaled(
  value: number,
  { own, shared }: { readonly own: number; readonly shared: number },
  scale: number,
): Estimate {
  return { value: scale * value, ownVariance: scale ** 2 * own, sharedVariance: scale ** 2 * shared };
}

function motionPeak(
  entry: CatalogueEntry,
  axes: PlayerAxes | undefined,
  curve: MotionCurve,
  moments: ShotMoments,
): Estimate {
  const { shot, events } = moments;
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
  if (entry.statistic === "peak") {
    const variance = valueAt(curve.sigmas, peak.position) ** 2;
    const shared = Math.min(variance, gainVariance(entry, moments, peak.position));
    return scaled(peak.value, { own: variance - shared, shared }, curve.scale);
  }
  if (impact === undefined) return notValid("impact not found");
  const spread = spreadOfSpeedPeak(entry, axes, peak.position, moments);
  if (!Number.isFinite(spread.own + spread.shared)) return notValid(WHY.noPeak);
  return {
    value: ((peak.position - impact.position) * 1000) / shot.rateHz,
    ownVariance: spread.own + impact.event.sigmaMs ** 2,
    sharedVariance: spread.shared,
  };
}

/**
 * Variances of the time of a peak of speed, ms². There net force crosses 0, so an error of net force moves it by that error
 * over the slope of force: the plates' errors as far as they differ from the quiet stance, what F_q is wrong by as zero
 * (sway), and white noise, which lets integrated speed wander: about (S / j²)^(1/3) s, S = (sigma_F / m)² / rate, j the
 * slope of acceleration.
 */
function spreadOfSpeedPeak(
  entry: CatalogueEntry,
  axes: PlayerAxes | undefined,
  position: number,
  { shot, rows, address }: ShotMoments,
): { readonly own: number; readonly shared: number } {
  const direction = entry.quantity === "both.speedTarget" ? "target" : "ahead";
  const force = stateQuantity(`both.${direction}`, axes, shot)!;
  const half = SLOPE_HALF_S * shot.rateHz;
  const [before, here, after] = [-half, 0, half].map((d) => jointErrorsAt(shot, rows, position + d));
  const slopeNPerMs = (force(after!.state, 0) - force(before!.state, 0)) / (2000 * SLOPE_HALF_S);
  const quiet = stateErrors(shot, address.state, { clockSlope: new Float64Array(STATE.size), noiseShare: 0 });
  const spread = jointSpread((states) => force(states, 0) - force(states, STATE.size), [here!, quiet]);
  const driftN = shot.massKg * shot.address.driftSigmaMPerS2[direction];
  const whiteN2 = spreadAt(force, momentAt(shot, rows, position).errors).noise / filteredNoiseShare(shot) ** 2;
  const wanderMs2 = ((1000 * whiteN2) / (shot.rateHz * slopeNPerMs ** 2)) ** (2 / 3);
  return {
    own: (driftN ** 2 + spread.clock) / slopeNPerMs ** 2 + wanderMs2,
    shared: spread.shared / slopeNPerMs ** 2,
  };
}
