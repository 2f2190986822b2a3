import type { Column, PlayerAxes } from "@underfoot/domain";
import { derivativeNoiseGainPerS, noiseGain } from "@underfoot/signal";
import type { CatalogueEntry } from "./catalogue.ts";
import type { QuantityName } from "./catalogue-words.ts";
import { type Estimate, notValid, WHY } from "./estimate.ts";
import { type Extremum, extremum, hasTwoPeaks, type Side, type WindowOfSamples } from "./extremum.ts";
import { varianceOfTime, whyNotFinite } from "./measures-at.ts";
import { STATE } from "./player-state.ts";
import { jointErrorsAt, type Moment, momentAt, type ShotMoments } from "./shot-moments.ts";
import { slopeShareOf } from "./slope-share.ts";
import { jointSpread, type Spread, spreadAt } from "./state-errors.ts";
import { FRICTION_LEAST_LOAD_SHARE, type StateQuantity, stateQuantity } from "./state-quantities.ts";
import { whyNotFormed } from "./validity.ts";

/** How far a saturated sample reaches through the filter, s. */
const SATURATED_REACH_S = 0.02;
/** Step for the curvature at a peak, s: at half of it noise decides and the sigma is a fifth too small (sim). */
const CURVATURE_STEP_S = 0.025;

/** A curve of the catalogue over the rows of a shot. */
export interface Curve {
  readonly quantity: StateQuantity;
  readonly values: Column;
  /** In rows. */
  readonly window: WindowOfSamples;
}

/** An extremum of a curve with the moment it lies at. */
export interface FoundExtremum {
  readonly curve: Curve;
  readonly side: Side;
  readonly peak: Extremum;
  readonly moment: Moment;
}

/** Peak, time of peak, smallest value or its time, start to finish. */
export function measurePeak(entry: CatalogueEntry, axes: PlayerAxes | undefined, moments: ShotMoments): Estimate {
  const start = moments.events.get("start");
  const finish = moments.events.get("finish");
  if (start === undefined) return notValid("start not found");
  if (finish === undefined) return notValid("finish not found");
  const side: Side = entry.statistic === "min" || entry.statistic === "minTime" ? -1 : 1;
  const found = findExtremum(entry.quantity, axes, moments, start.position, finish.position, side);
  if (typeof found === "string") return notValid(found);
  return entry.statistic === "peakTime" || entry.statistic === "minTime"
    ? timeOfExtremum(entry, found, moments)
    : valueOfExtremum(entry, axes, found, moments, windowVariance(found, moments, start, finish));
}

/** The extremum between two positions of the recording, or why there is none. */
export function findExtremum(
  quantityName: QuantityName,
  axes: PlayerAxes | undefined,
  moments: ShotMoments,
  firstPosition: number,
  lastPosition: number,
  side: Side,
): FoundExtremum | string {
  const curve = curveBetween(quantityName, axes, moments, firstPosition, lastPosition);
  if (typeof curve === "string") return curve;
  const peak = extremum(curve.values, curve.window, side);
  if (peak === undefined) return quantityName.endsWith(".friction") ? WHY.light : WHY.gap;
  return { curve, side, peak, moment: momentAt(moments.shot, moments.rows, peak.position + moments.rows.first) };
}

/** A quantity over the rows, its window between two positions; or why it cannot be formed there. NaN where it cannot elsewhere. */
export function curveBetween(
  quantityName: QuantityName,
  axes: PlayerAxes | undefined,
  moments: ShotMoments,
  firstPosition: number,
  lastPosition: number,
): Curve | string {
  const { shot, rows } = moments;
  const why = whyNotFormed(quantityName, shot);
  const quantity = stateQuantity(quantityName, axes, shot);
  if (why !== undefined || quantity === undefined) return why ?? WHY.notTraced;
  const first = Math.ceil(firstPosition) - rows.first;
  const end = Math.floor(lastPosition) - rows.first + 1;
  if (first < 0 || end > rows.count) return WHY.outside;
  const values = curveValues(quantityName, axes, moments, quantity);
  for (let row = first; row < end; row++) {
    if (Number.isNaN(values[row]) && !isTooLightForFriction(quantityName, moments, row)) {
      return whyNotFinite(rows.rows, row * STATE.size);
    }
  }
  return { quantity, values, window: { first, end } };
}

/** The quantity over all rows; NaN where it cannot be formed, friction also where the foot carries too little. */
function curveValues(
  quantityName: QuantityName,
  axes: PlayerAxes | undefined,
  moments: ShotMoments,
  quantity: StateQuantity,
): Column {
  const key = `${quantityName} ${axes ?? ""}`;
  const known = moments.curves.get(key);
  if (known !== undefined) return known;
  const { rows, count } = moments.rows;
  const values = new Float64Array(count).fill(Number.NaN);
  for (let row = 0; row < count; row++) {
    if (isTooLightForFriction(quantityName, moments, row)) continue;
    const value = quantity(rows, row * STATE.size);
    if (Number.isFinite(value)) values[row] = value;
  }
  moments.curves.set(key, values);
  return values;
}

function isTooLightForFriction(quantityName: QuantityName, { rows, shot }: ShotMoments, row: number): boolean {
  if (quantityName !== "lead.friction" && quantityName !== "trail.friction") return false;
  const foot = quantityName === "lead.friction" ? STATE.lead : STATE.trail;
  return rows.rows[row * STATE.size + foot + STATE.up]! <= FRICTION_LEAST_LOAD_SHARE * shot.weightN;
}

/**
 * Variance of an extremum from not knowing when its window begins and ends: looked for again with each end one sigma
 * earlier and later.
 */
export function windowVariance(
  { curve, side, peak }: FoundExtremum,
  { rows }: ShotMoments,
  from: Moment,
  to: Moment,
): number {
  const within = (firstPosition: number, lastPosition: number): number =>
    extremum(
      curve.values,
      {
        first: Math.max(0, Math.ceil(firstPosition) - rows.first),
        end: Math.min(rows.count, Math.floor(lastPosition) - rows.first + 1),
      },
      side,
    )?.value ?? Number.NaN;
  const early = from.sigmaSamples;
  const late = to.sigmaSamples;
  return (
    varianceOfTime(within(from.position - early, to.position), peak.value, within(from.position + early, to.position)) +
    varianceOfTime(within(from.position, to.position - late), peak.value, within(from.position, to.position + late))
  );
}

function valueOfExtremum(
  entry: CatalogueEntry,
  axes: PlayerAxes | undefined,
  found: FoundExtremum,
  moments: ShotMoments,
  windowOwnVariance: number,
): Estimate {
  const { shot } = moments;
  const { curve, moment, peak, side } = found;
  const isSaturated = isSaturatedNear(moments, moment.position);
  if (isSaturated && side === -1) return notValid(WHY.saturated);
  const spread = spreadAt(curve.quantity, moment.errors);
  const slopeShare = slopeShareOf(entry, axes, shot, moment.state);
  return {
    value: peak.value,
    ownVariance: spread.noise + spread.clock + windowOwnVariance + lostToFilter(found, moments) ** 2,
    sharedVariance: spread.shared,
    ...(slopeShare === undefined ? {} : { slopeShare }),
    ...(isSaturated ? { isAtLeast: true } : {}),
  };
}

/** Half the change of an extremum between the cut-off and twice the cut-off, looked for within 15 ms of it. */
export function lostToFilter({ curve, peak, side }: FoundExtremum, { wideRows, shot }: ShotMoments): number {
  if (wideRows === undefined) return 0;
  const reach = Math.round(0.015 * shot.rateHz);
  const first = Math.max(curve.window.first, peak.sample - reach);
  const end = Math.min(curve.window.end, peak.sample + reach + 1);
  let best = Number.NEGATIVE_INFINITY;
  for (let row = first; row < end; row++) best = Math.max(best, side * curve.quantity(wideRows.rows, row * STATE.size));
  return Number.isFinite(best) ? (best - side * peak.value) / 2 : 0;
}

function isSaturatedNear({ shot }: ShotMoments, position: number): boolean {
  const reach = SATURATED_REACH_S * shot.rateHz;
  const end = Math.min(shot.sampleCount, Math.ceil(position + reach) + 1);
  for (let i = Math.max(0, Math.floor(position - reach)); i < end; i++) if (shot.isSaturated[i] === 1) return true;
  return false;
}

function timeOfExtremum(entry: CatalogueEntry, found: FoundExtremum, moments: ShotMoments): Estimate {
  const { shot, rows } = moments;
  const impact = moments.events.get("impact");
  if (impact === undefined) return notValid("impact not found");
  const { curve, peak, side, moment } = found;
  const tolerance = toleranceOfTwoPeaks(entry.quantity, shot.weightN);
  if (hasTwoPeaks(curve.values, curve.window, peak, { side, tolerance, rateHz: shot.rateHz })) {
    return notValid(WHY.twoPeaks);
  }
  if (isSaturatedNear(moments, moment.position)) return notValid(WHY.saturated);
  const spread = spreadOfTime(found, moments);
  if (spread.noise === Number.POSITIVE_INFINITY) return notValid(WHY.noPeak);
  return {
    value: ((peak.position + rows.first - impact.position) * 1000) / shot.rateHz,
    ownVariance: spread.noise + spread.clock + impact.event.sigmaMs ** 2,
    sharedVariance: spread.shared,
  };
}

/** How near a second peak may come: 0.5 % W for forces, 0.5 points for share, 1 N m for torques. */
function toleranceOfTwoPeaks(quantity: QuantityName, weightN: number): number {
  if (quantity === "lead.share") return 0.5;
  return quantity === "both.turn" ? 1 : 0.005 * weightN;
}

/**
 * Variances of the time of an extremum, ms²: an error of the slope there over the curvature. Noise gives the slope
 * 2 pi (f_c / 0.802243) sqrt(1/3) times the filtered noise (mechanics 12); the other sources are put into the state as far
 * before and after. At least half a sample; infinite where the curve is flat or
 * bends the other way.
 */
export function spreadOfTime({ curve, moment, side }: FoundExtremum, { shot, rows }: ShotMoments): Spread {
  const stepSamples = Math.max(1, CURVATURE_STEP_S * shot.rateHz);
  const errors = [-1, 0, 1].map((step) => jointErrorsAt(shot, rows, moment.position + step * stepSamples));
  const stepMs = (1000 * stepSamples) / shot.rateHz;
  const [before, here, after] = errors.map(({ state }) => curve.quantity(state, 0)) as [number, number, number];
  const curvature = (after - 2 * here + before) / stepMs ** 2;
  if (!(side * curvature < 0)) return { noise: Number.POSITIVE_INFINITY, clock: 0, shared: 0 };
  const slope = (states: Column): number =>
    (curve.quantity(states, STATE.size) - curve.quantity(states, 0)) / (2 * stepMs);
  const joint = jointSpread(slope, [errors[0]!, errors[2]!]);
  const noise = spreadAt(curve.quantity, moment.errors).noise * slopeOfNoisePerMs(shot.cutoffHz, shot.rateHz) ** 2;
  return {
    noise: Math.max((500 / shot.rateHz) ** 2, noise / curvature ** 2),
    clock: joint.clock / curvature ** 2,
    shared: joint.shared / curvature ** 2,
  };
}

/** Sd of the slope of filtered white noise over its sd, per ms; unfiltered: of the difference across two samples. */
function slopeOfNoisePerMs(cutoffHz: number | undefined, rateHz: number): number {
  if (cutoffHz === undefined) return rateHz / Math.SQRT2 / 1000;
  return derivativeNoiseGainPerS({ cutoffHz, rateHz }) / noiseGain({ cutoffHz, rateHz }) / 1000;
}
