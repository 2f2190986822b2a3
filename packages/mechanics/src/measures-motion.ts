import type { Column, PlayerAxes } from "@underfoot/domain";
import { cumulativeTrapezoid, valueAt } from "@underfoot/signal";
import type { CatalogueEntry } from "./catalogue.ts";
import { type Estimate, notValid, WHY } from "./estimate.ts";
import { extremum } from "./extremum.ts";
import { varianceOfTime } from "./measures-at.ts";
import { STATE, type StateRows } from "./player-state.ts";
import type { MotionSeries, Shot } from "./shot.ts";
import { jointErrorsAt, type Moment, momentAt, type ShotMoments } from "./shot-moments.ts";
import { filteredNoiseShare, jointSpread, spreadAt, stateErrors } from "./state-errors.ts";
import { type StateQuantity, stateQuantity } from "./state-quantities.ts";
import { validMean } from "./valid-mean.ts";

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
  const place = isTravel ? placeVariance(entry, shot) : clockVariance(entry, axes, moments, moment);
  const own = sigma ** 2 - shared + time + place;
  return scaled(value, { own, shared }, curve.scale);
}

/** Way that a stance sways while it is averaged, as a part of sway speed times the window's length (sim). */
const PLACE_SHARE = 0.33;

/** Travel counts from where the body was at address, and that sways: variance of the mean place, m². */
function placeVariance(entry: CatalogueEntry, { address, rateHz, settings }: Shot): number {
  const swayMPerS = entry.quantity === "both.travelUp" ? settings.swaySpeedUpMPerS : settings.swaySpeedMPerS;
  return ((PLACE_SHARE * swayMPerS * (address.end - address.first)) / rateHz) ** 2;
}

/** A trail plate whose clock is off by sigma gives speed sigma times the change of its force since address, over mass. */
function clockVariance(
  { quantity }: CatalogueEntry,
  axes: PlayerAxes | undefined,
  { shot, address }: ShotMoments,
  { state }: Moment,
): number {
  if (shot.clockSigmaMs === 0) return 0;
  const direction = quantity.slice("both.speed".length).toLowerCase() as "target" | "ahead" | "up";
  const force = stateQuantity(`trail.${direction}`, axes, shot)!;
  const changeN = force(state, 0) - force(address.state, 0);
  return ((shot.clockSigmaMs / 1000) * (changeN / shot.massKg)) ** 2;
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
 * Variances of the time of a peak of speed, ms². There net force crosses 0, so the time is uncertain over the stretch in
 * which force stays within its own error of its value there: error over slope where force crosses steadily, more where it
 * lingers. The error: the plates' as far as they differ from the quiet stance, and what F_q is wrong by as zero (sway).
 * White noise lets integrated speed wander: about (S / j²)^(1/3) s, S = (sigma_F / m)² / rate, j the slope of acceleration.
 */
function spreadOfSpeedPeak(
  entry: CatalogueEntry,
  axes: PlayerAxes | undefined,
  position: number,
  { shot, rows, address }: ShotMoments,
): { readonly own: number; readonly shared: number } {
  const direction = entry.quantity === "both.speedTarget" ? "target" : "ahead";
  const force = stateQuantity(`both.${direction}`, axes, shot)!;
  const here = jointErrorsAt(shot, rows, position);
  const quiet = stateErrors(shot, address.state, { clockSlope: new Float64Array(STATE.size), noiseShare: 0 });
  const spread = jointSpread((states) => force(states, 0) - force(states, STATE.size), [here, quiet]);
  const ownN2 = (shot.massKg * shot.address.driftSigmaMPerS2[direction]) ** 2 + spread.clock;
  const sigmaN = Math.sqrt(ownN2 + spread.shared);
  const reach = [-1, 1].map((side) => (1000 * reachOf(force, rows, { position, side, sigmaN })) / shot.rateHz);
  const reachMs2 = (reach[0]! ** 2 + reach[1]! ** 2) / 2;
  const msPerN2 = reachMs2 / sigmaN ** 2;
  const whiteN2 = spreadAt(force, momentAt(shot, rows, position).errors).noise / filteredNoiseShare(shot) ** 2;
  const wanderMs2 = ((1000 * whiteN2 * msPerN2) / shot.rateHz) ** (2 / 3);
  return { own: ownN2 * msPerN2 + wanderMs2, shared: spread.shared * msPerN2 };
}

/** Samples from a position to where force has changed by sigmaN, on a straight line in the last step; endless if never. */
function reachOf(
  force: StateQuantity,
  { first, count, rows }: StateRows,
  { position, side, sigmaN }: { readonly position: number; readonly side: number; readonly sigmaN: number },
): number {
  const middle = Math.round(position) - first;
  const here = force(rows, middle * STATE.size);
  let before = 0;
  for (let row = middle + side; row >= 0 && row < count; row += side) {
    const change = Math.abs(force(rows, row * STATE.size) - here);
    if (!(change < sigmaN)) return Math.abs(row - middle) - 1 + (sigmaN - before) / (change - before);
    before = change;
  }
  return Number.POSITIVE_INFINITY;
}
