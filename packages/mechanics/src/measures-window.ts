import type { Column, PlayerAxes } from "@underfoot/domain";
import { butterworthLowPass, derivativeNoiseGainPerS, movingSlope, zeroPhaseMany } from "@underfoot/signal";
import type { CatalogueEntry } from "./catalogue.ts";
import { type Estimate, notValid, WHY } from "./estimate.ts";
import { extremum } from "./extremum.ts";
import { FORCE_SWAY_SHARE, swayVariance, varianceOfTime } from "./measures-at.ts";
import { type Curve, curveBetween, findExtremum, lostToFilter, windowVariance } from "./measures-peak.ts";
import { STATE, stateAt } from "./player-state.ts";
import type { Shot } from "./shot.ts";
import { jointErrorsAt, momentAt, type ShotMoments } from "./shot-moments.ts";
import { filteredNoiseShare, jointSpread, type StateErrors, spreadAt, stateErrors } from "./state-errors.ts";
import { type StateQuantity, stateQuantity } from "./state-quantities.ts";
import { whyNotFormed, whyUntrustedIn } from "./validity.ts";

/** The stretch of the least-squares line of a rise, s. */
const RISE_WINDOW_S = 0.05;
/** Low-pass of the CoP before its path is measured, Hz. */
const PATH_CUTOFF_HZ = 10;
/** Step of the states that carry errors through a stretch of time, s. */
const ERROR_STEP_S = 0.02;
const { size } = STATE;

type EventMoment = NonNullable<ReturnType<ShotMoments["events"]["get"]>>;

interface Stretch {
  readonly from: EventMoment;
  readonly to: EventMoment;
}

function stretch(moments: ShotMoments, first: "start" | "top", last: "impact"): Stretch | string {
  const from = moments.events.get(first);
  const to = moments.events.get(last);
  if (from === undefined) return `${first} not found`;
  if (to === undefined) return `${last} not found`;
  return { from, to };
}

/** Integral of rows of `values` between two positions in rows, trapezoid with parts of steps at the ends; unit times seconds. */
function integralBetween(values: Column, from: number, to: number, rateHz: number): number {
  const at = (position: number): number => {
    const i = Math.floor(position);
    const share = position - i;
    return share === 0 ? values[i]! : values[i]! * (1 - share) + values[i + 1]! * share;
  };
  const first = Math.ceil(from);
  const last = Math.floor(to);
  if (last < first) return ((to - from) * (at(from) + at(to))) / 2 / rateHz;
  let sum = ((first - from) * (at(from) + values[first]!)) / 2 + ((to - last) * (at(to) + values[last]!)) / 2;
  for (let i = first; i < last; i++) sum += (values[i]! + values[i + 1]!) / 2;
  return sum / rateHz;
}

/** Variance of an integral from both its ends. */
function variancesOfEnds(integral: (from: number, to: number) => number, { from, to }: Stretch): number {
  const here = integral(from.position, to.position);
  const early = from.sigmaSamples;
  const late = to.sigmaSamples;
  return (
    varianceOfTime(integral(from.position - early, to.position), here, integral(from.position + early, to.position)) +
    varianceOfTime(integral(from.position, to.position - late), here, integral(from.position, to.position + late))
  );
}

/** Impulse from top to impact: of force less the quiet stance (the change of momentum), or of turning torque. */
export function measureImpulse(entry: CatalogueEntry, axes: PlayerAxes | undefined, moments: ShotMoments): Estimate {
  const ends = stretch(moments, "top", "impact");
  if (typeof ends === "string") return notValid(ends);
  const curve = curveBetween(entry.quantity, axes, moments, ends.from.position, ends.to.position);
  if (typeof curve === "string") return notValid(curve);
  const { shot, rows } = moments;
  const isTurn = entry.quantity === "both.turn";
  const quietN = isTurn ? 0 : curve.quantity(moments.address.state, 0);
  const integral = (from: number, to: number): number =>
    integralBetween(curve.values, from - rows.first, to - rows.first, shot.rateHz) -
    (quietN * (to - from)) / shot.rateHz;
  const value = integral(ends.from.position, ends.to.position);
  if (!Number.isFinite(value)) return notValid(WHY.gap);
  const durationS = (ends.to.position - ends.from.position) / shot.rateHz;
  const spread = isTurn
    ? spreadOfMean(curve, moments, ends)
    : spreadOfForceImpulse(curve, moments, ends, durationS, driftSigma(entry, shot));
  return {
    value,
    ownVariance: variancesOfEnds(integral, ends) + spread.own,
    sharedVariance: spread.shared,
  };
}

function driftSigma(entry: CatalogueEntry, shot: Shot): number {
  return shot.address.driftSigmaMPerS2[entry.quantity.slice("both.".length) as "target" | "ahead" | "up"];
}

/** States every 20 ms of a stretch, with the errors they have in common. */
function errorsAlong({ shot, rows }: ShotMoments, { from, to }: Stretch): StateErrors[] {
  const steps = stepsAlong(shot, { from, to });
  return Array.from({ length: steps + 1 }, (_, i) =>
    jointErrorsAt(shot, rows, from.position + ((to.position - from.position) * i) / steps),
  );
}

function stepsAlong({ rateHz }: Shot, { from, to }: Stretch): number {
  return Math.max(2, Math.ceil((to.position - from.position) / (ERROR_STEP_S * rateHz)));
}

/** Own and shared variance of a curve's integral over a stretch: its mean over states on equal steps. */
function spreadOfMean(curve: Curve, moments: ShotMoments, ends: Stretch) {
  const errors = errorsAlong(moments, ends);
  const durationS = (ends.to.position - ends.from.position) / moments.shot.rateHz;
  const spread = jointSpread((states) => {
    let sum = 0;
    for (let s = 0; s < errors.length; s++) {
      sum += curve.quantity(states, s * size) * (s === 0 || s === errors.length - 1 ? 0.5 : 1);
    }
    return (sum / (errors.length - 1)) * durationS;
  }, errors);
  return { own: spread.clock, shared: spread.shared };
}

/**
 * Own and shared variance of a force impulse. What the plates do wrong counts only as far as it differs between the swing
 * and the quiet stance that is taken off; what F_q is wrong by as zero of acceleration (sway) counts for the whole time.
 */
function spreadOfForceImpulse(
  curve: Curve,
  moments: ShotMoments,
  ends: Stretch,
  durationS: number,
  driftMPerS2: number,
) {
  const { shot, rows, address } = moments;
  const steps = stepsAlong(shot, ends);
  const mean = new Float64Array(size);
  const state = new Float64Array(size);
  for (let i = 0; i <= steps; i++) {
    stateAt(rows, ends.from.position + ((ends.to.position - ends.from.position) * i) / steps, state);
    for (let j = 0; j < size; j++) mean[j]! += state[j]! / (steps + 1);
  }
  // A clock that is off by sigma moves the trail plate's integral by sigma times its change from end to end.
  const clockSlope = stateAt(rows, ends.to.position, new Float64Array(size));
  stateAt(rows, ends.from.position, state);
  const clockShare = shot.clockSigmaMs / 1000 / durationS;
  for (let j = 0; j < size; j++) clockSlope[j] = (clockSlope[j]! - state[j]!) * clockShare;
  const errors = [
    stateErrors(shot, mean, { clockSlope, noiseShare: 0 }),
    stateErrors(shot, address.state, { clockSlope: new Float64Array(size), noiseShare: 0 }),
  ];
  const spread = jointSpread(
    (states) => durationS * (curve.quantity(states, 0) - curve.quantity(states, size)),
    errors,
  );
  return { own: (shot.massKg * driftMPerS2 * durationS) ** 2 + spread.clock, shared: spread.shared };
}

/** Rate of force development: steepest 50 ms least-squares line of the filtered force, its middle from top to impact. */
export function measureRise(entry: CatalogueEntry, axes: PlayerAxes | undefined, moments: ShotMoments): Estimate {
  const ends = stretch(moments, "top", "impact");
  if (typeof ends === "string") return notValid(ends);
  const { shot, rows, wideRows } = moments;
  const half = Math.max(1, Math.round((RISE_WINDOW_S * shot.rateHz) / 2));
  const windowSamples = 2 * half + 1;
  const curve = curveBetween(entry.quantity, axes, moments, ends.from.position - half, ends.to.position + half);
  if (typeof curve === "string") return notValid(curve);
  const slopes = movingSlope(curve.values, { windowSamples, rateHz: shot.rateHz });
  const first = Math.ceil(ends.from.position) - rows.first;
  const end = Math.floor(ends.to.position) - rows.first + 1;
  const steepest = extremum(slopes, { first, end }, 1);
  if (steepest === undefined) return notValid(WHY.gap);
  const value = slopes[steepest.sample]!;
  const arm = (RISE_WINDOW_S * shot.rateHz) / Math.sqrt(12);
  const position = steepest.sample + rows.first;
  const errors = [-arm, arm].map((side) => jointErrorsAt(shot, rows, position + side));
  const perS = shot.rateHz / (2 * arm);
  const spread = jointSpread((states) => perS * (curve.quantity(states, size) - curve.quantity(states, 0)), errors);
  const wide =
    wideRows === undefined ? value : slopeOf(wideRows.rows, curve, steepest.sample, { half, rateHz: shot.rateHz });
  return {
    value,
    ownVariance: noiseOfSlope(entry, shot, windowSamples) ** 2 + spread.clock + ((wide - value) / 2) ** 2,
    sharedVariance: spread.shared,
  };
}

function slopeOf(
  rows: Column,
  { quantity }: Curve,
  middle: number,
  { half, rateHz }: { readonly half: number; readonly rateHz: number },
): number {
  const around = new Float64Array(2 * half + 1);
  for (let j = -half; j <= half; j++) around[j + half] = quantity(rows, (middle + j) * size);
  return movingSlope(around, { windowSamples: 2 * half + 1, rateHz })[half]!;
}

/** Sd of the slope of a least-squares line through n samples of white noise: sigma rate sqrt(12 / (n (n² - 1))). */
function noiseOfSlope(entry: CatalogueEntry, { sigmas, rateHz }: Shot, n: number): number {
  const plates = entry.quantity === "lead.up" ? [sigmas.lead] : [sigmas.lead, sigmas.trail, sigmas.both];
  const sigmaN = Math.hypot(...plates.map((plate) => plate?.noiseN.up ?? 0));
  return sigmaN * rateHz * Math.sqrt(12 / (n * (n * n - 1)));
}

/** Unweighting: how far up force falls below the quiet stance between start and impact, %. */
export function measureDip(entry: CatalogueEntry, axes: PlayerAxes | undefined, moments: ShotMoments): Estimate {
  const ends = stretch(moments, "start", "impact");
  if (typeof ends === "string") return notValid(ends);
  const found = findExtremum(entry.quantity, axes, moments, ends.from.position, ends.to.position, -1);
  if (typeof found === "string") return notValid(found);
  const { shot, address, rows } = moments;
  const { quantity } = found.curve;
  const quietN = quantity(address.state, 0);
  const percent = 100 / quietN;
  const errors = [
    jointErrorsAt(shot, rows, found.moment.position),
    stateErrors(shot, address.state, { clockSlope: new Float64Array(size), noiseShare: 0 }),
  ];
  const spread = jointSpread((states) => 100 * (1 - quantity(states, 0) / quantity(states, size)), errors);
  const noise = spreadAt(quantity, found.moment.errors).noise;
  const own =
    noise +
    swayVariance(quantity, moments, FORCE_SWAY_SHARE) +
    lostToFilter(found, moments) ** 2 +
    windowVariance(found, moments, ends.from, ends.to);
  return {
    value: 100 * (1 - found.peak.value / quietN),
    ownVariance: percent ** 2 * own + spread.clock,
    sharedVariance: spread.shared,
  };
}

/** Range of the combined CoP from start to impact, mm. */
export function measureRange(entry: CatalogueEntry, axes: PlayerAxes | undefined, moments: ShotMoments): Estimate {
  const ends = stretch(moments, "start", "impact");
  if (typeof ends === "string") return notValid(ends);
  const why = whyUntrustedIn(entry.quantity, moments.shot, Math.ceil(ends.from.position), Math.floor(ends.to.position));
  if (why !== undefined) return notValid(why);
  const high = findExtremum(entry.quantity, axes, moments, ends.from.position, ends.to.position, 1);
  if (typeof high === "string") return notValid(high);
  const low = findExtremum(entry.quantity, axes, moments, ends.from.position, ends.to.position, -1);
  if (typeof low === "string") return notValid(low);
  const { quantity } = high.curve;
  const errors = [high, low].map(({ moment }) => jointErrorsAt(moments.shot, moments.rows, moment.position));
  const spread = jointSpread((states) => quantity(states, 0) - quantity(states, size), errors);
  let own = spread.clock;
  for (const found of [high, low]) {
    own += spreadAt(quantity, found.moment.errors).noise + lostToFilter(found, moments) ** 2;
    own += windowVariance(found, moments, ends.from, ends.to);
  }
  return { value: high.peak.value - low.peak.value, ownVariance: own, sharedVariance: spread.shared };
}

/** Length of the way of the combined CoP from start to impact, low-passed again at 10 Hz, mm. */
export function measurePath(moments: ShotMoments): Estimate {
  const ends = stretch(moments, "start", "impact");
  if (typeof ends === "string") return notValid(ends);
  const { shot, rows } = moments;
  const why =
    whyNotFormed("both.cop", shot) ??
    whyUntrustedIn("both.cop", shot, Math.ceil(ends.from.position), Math.floor(ends.to.position));
  if (why !== undefined) return notValid(why);
  const target = stateQuantity("both.copTarget", undefined, shot)!;
  const ahead = stateQuantity("both.copAhead", undefined, shot)!;
  const raw = [target, ahead].map((quantity) =>
    Float64Array.from({ length: rows.count }, (_, row) => quantity(rows.rows, row * size)),
  );
  const filter = butterworthLowPass({ cutoffHz: Math.min(PATH_CUTOFF_HZ, 0.4 * shot.rateHz), rateHz: shot.rateHz });
  const [t, a] = zeroPhaseMany(raw, filter) as [Column, Column];
  const length = new Float64Array(rows.count);
  for (let i = 1; i < rows.count; i++) length[i] = Math.hypot(t[i]! - t[i - 1]!, a[i]! - a[i - 1]!);
  const way = (from: number, to: number): number => wayBetween(length, from - rows.first, to - rows.first);
  const value = way(ends.from.position, ends.to.position);
  if (!Number.isFinite(value)) return notValid(WHY.gap);
  const errors = errorsAlong(moments, ends);
  const spread = jointSpread((states) => {
    let sum = 0;
    for (let s = 1; s < errors.length; s++) {
      const o = s * size;
      sum += Math.hypot(target(states, o) - target(states, o - size), ahead(states, o) - ahead(states, o - size));
    }
    return sum;
  }, errors);
  const noiseMm = wayOfNoise(length, ends, moments, [target, ahead]);
  return {
    value,
    ownVariance: variancesOfEnds(way, ends) + spread.clock + noiseMm ** 2,
    sharedVariance: spread.shared,
  };
}

/**
 * How much longer noise makes a way: each step is sqrt(step² + noise²). Noise of a step: that of the channels in the CoP,
 * through the 10 Hz filter, differentiated.
 */
function wayOfNoise(
  steps: Column,
  { from, to }: Stretch,
  { shot, rows }: ShotMoments,
  quantities: readonly StateQuantity[],
): number {
  const middle = momentAt(shot, rows, (from.position + to.position) / 2);
  const white = quantities.map((quantity) => spreadAt(quantity, middle.errors).noise / filteredNoiseShare(shot) ** 2);
  const perStep = derivativeNoiseGainPerS({ cutoffHz: PATH_CUTOFF_HZ, rateHz: shot.rateHz }) / shot.rateHz;
  const noise2 = (white[0]! + white[1]!) * perStep ** 2;
  let longer = 0;
  for (let i = Math.ceil(from.position) - rows.first; i <= Math.floor(to.position) - rows.first; i++) {
    const step = steps[i]!;
    longer += step - Math.sqrt(Math.max(0, step * step - noise2));
  }
  return longer;
}

/** Sum of the steps of a way between two positions; step i leads from i - 1 to i and counts by its part inside. */
function wayBetween(steps: Column, from: number, to: number): number {
  let sum = 0;
  for (let i = Math.floor(from) + 1; i <= Math.ceil(to); i++) {
    sum += steps[i]! * (Math.min(i, to) - Math.max(i - 1, from));
  }
  return sum;
}
