import type { Column, Samples } from "@underfoot/domain";
import { noiseGain } from "@underfoot/signal";
import { STATE } from "./player-state.ts";
import type { PlateSigmas, Shot } from "./shot.ts";
import type { StateQuantity } from "./state-quantities.ts";

/**
 * Variances of a measure by where they come from. `shared` (zero, gain, crosstalk, place, pitch, roll) is the same in every
 * shot of a session, so it neither averages out nor tells two shots of one lie apart; the rest is new in every shot.
 */
export interface Spread {
  readonly noise: number;
  readonly clock: number;
  readonly shared: number;
}

/** What may be wrong with a state, one sigma each: rows of the state's shape, in the order noise, clock, shared. */
export interface StateErrors {
  readonly state: Column;
  readonly rows: Column;
  readonly count: number;
  /** Rows before this are noise, the next `clockCount` the clock, the rest shared. */
  readonly noiseCount: number;
  readonly clockCount: number;
}

const { size, trail, target, ahead, up, bTarget, bAhead, turn, pitch, roll } = STATE;

/** Independent sources a plate: 6 of noise, 6 of zero, 4 of gain, 2 of crosstalk, 2 of place. */
const NOISE_SOURCES = 6;
const SHARED_SOURCES = 14;

/** Plates in the places of a state: lead and trail, or one that carries both. */
function platesOf(shot: Shot): readonly { readonly at: number; readonly plate: PlateSigmas }[] {
  const { lead, trail: trailPlate, both } = shot.sigmas;
  if (lead === undefined && trailPlate === undefined) return both === undefined ? [] : [{ at: 0, plate: both }];
  return [
    ...(lead === undefined ? [] : [{ at: 0, plate: lead }]),
    ...(trailPlate === undefined ? [] : [{ at: trail, plate: trailPlate }]),
  ];
}

/** Noise left after the shot's filter, as a share of the channel's own. */
export function filteredNoiseShare(shot: Shot): number {
  return shot.cutoffHz === undefined ? 1 : noiseGain({ cutoffHz: shot.cutoffHz, rateHz: shot.rateHz });
}

/**
 * One-sigma errors of a state from every independent source (mechanics 12).
 *
 * Force and moment errors belong to F and to M about the plate's centre c. Carried to the reference point, an error d of F_u
 * adds c d to B; of F_t adds c_a d to N and takes c_u d from B_t; of F_a takes c_t d from N and c_u d from B_a.
 *
 * @param clockSlope  state at + less state at - one sigma of the clock between the plates, halved; undefined: none
 * @param noiseShare  how much of the channels' white noise is in this state (a mean over a window: 0)
 */
export function stateErrors(
  shot: Shot,
  state: Column,
  { clockSlope, noiseShare }: { readonly clockSlope: Samples | undefined; readonly noiseShare: number },
): StateErrors {
  const plates = platesOf(shot);
  const noiseCount = noiseShare === 0 ? 0 : NOISE_SOURCES * plates.length;
  const clockCount = clockSlope === undefined ? 0 : 1;
  const count = noiseCount + clockCount + SHARED_SOURCES * plates.length + 2;
  const rows = new Float64Array(count * size);
  let row = 0;
  for (const { at, plate } of noiseCount === 0 ? [] : plates) {
    addChannelErrors(rows, row, at, plate, noiseOf(plate, noiseShare));
    row += NOISE_SOURCES;
  }
  if (clockSlope !== undefined) {
    for (let j = trail; j < pitch; j++) rows[row * size + j] = clockSlope[j]!;
    row += 1;
  }
  for (const { at, plate } of plates) {
    addChannelErrors(rows, row, at, plate, zeroOf(plate));
    addGainErrors(rows, row + 6, at, plate, state);
    addCrosstalkErrors(rows, row + 10, at, plate, state);
    addPlaceErrors(rows, row + 12, at, plate, state);
    row += SHARED_SOURCES;
  }
  const angleRad = (shot.lie.sdDeg * Math.PI) / 180;
  rows[row * size + pitch] = angleRad;
  rows[(row + 1) * size + roll] = angleRad;
  return { state, rows, count, noiseCount, clockCount };
}

/** Sigmas of the six channels F_t F_a F_u M_t M_a M_n about the plate's centre. */
type ChannelSigmas = readonly [number, number, number, number, number, number];

function noiseOf({ noiseN, noiseNm }: PlateSigmas, share: number): ChannelSigmas {
  return [
    share * noiseN.target,
    share * noiseN.ahead,
    share * noiseN.up,
    share * noiseNm.target,
    share * noiseNm.ahead,
    share * noiseNm.up,
  ];
}

function zeroOf({ zeroN, zeroNm }: PlateSigmas): ChannelSigmas {
  return [zeroN, zeroN, zeroN, zeroNm, zeroNm, zeroNm];
}

/** Six rows: an error of each force channel and of each moment channel. */
function addChannelErrors(rows: Column, row: number, at: number, plate: PlateSigmas, sigmas: ChannelSigmas): void {
  addForceError(rows, row, at, plate, target, sigmas[0]);
  addForceError(rows, row + 1, at, plate, ahead, sigmas[1]);
  addForceError(rows, row + 2, at, plate, up, sigmas[2]);
  // The moment about the ahead axis makes B_t and about the target axis B_a.
  rows[(row + 3) * size + at + bAhead] = sigmas[3];
  rows[(row + 4) * size + at + bTarget] = sigmas[4];
  rows[(row + 5) * size + at + turn] = sigmas[5];
}

/** An error d of one force component at the plate's centre, as it shows about the reference point. */
function addForceError(rows: Column, row: number, at: number, { centre }: PlateSigmas, axis: number, d: number): void {
  const o = row * size + at;
  rows[o + axis]! += d;
  if (axis === target) {
    rows[o + bTarget]! -= centre.up * d;
    rows[o + turn]! += centre.ahead * d;
  } else if (axis === ahead) {
    rows[o + bAhead]! -= centre.up * d;
    rows[o + turn]! -= centre.target * d;
  } else {
    rows[o + bTarget]! += centre.target * d;
    rows[o + bAhead]! += centre.ahead * d;
  }
}

/** Gain of target force, of ahead force, of load together with its moments, and of the moment about the normal. */
function addGainErrors(rows: Column, row: number, at: number, plate: PlateSigmas, w: Samples): void {
  const { gain, centre } = plate;
  addForceError(rows, row, at, plate, target, gain * w[at + target]!);
  addForceError(rows, row + 1, at, plate, ahead, gain * w[at + ahead]!);
  const load = (row + 2) * size + at;
  rows[load + up] = gain * w[at + up]!;
  rows[load + bTarget] = gain * (w[at + bTarget]! + centre.up * w[at + target]!);
  rows[load + bAhead] = gain * (w[at + bAhead]! + centre.up * w[at + ahead]!);
  const momentNm = w[at + turn]! - (centre.ahead * w[at + target]! - centre.target * w[at + ahead]!);
  rows[(row + 3) * size + at + turn] = gain * momentNm;
}

/** Load that shows as target force and as ahead force. */
function addCrosstalkErrors(rows: Column, row: number, at: number, plate: PlateSigmas, w: Samples): void {
  addForceError(rows, row, at, plate, target, plate.crosstalk * w[at + up]!);
  addForceError(rows, row + 1, at, plate, ahead, plate.crosstalk * w[at + up]!);
}

/** The plate lies elsewhere, along target and along ahead; what it measures about its own centre stays. */
function addPlaceErrors(rows: Column, row: number, at: number, { placeM }: PlateSigmas, w: Samples): void {
  const along = row * size + at;
  rows[along + bTarget] = placeM * w[at + up]!;
  rows[along + turn] = -placeM * w[at + ahead]!;
  rows[along + size + bAhead] = placeM * w[at + up]!;
  rows[along + size + turn] = placeM * w[at + target]!;
}

/** Half the sum of the squares of the two one-sided changes: the central difference where smooth, right at a kink. */
function twoSided(value: number, plus: number, minus: number): number {
  return ((plus - value) ** 2 + (minus - value) ** 2) / 2;
}

/** Variance from each kind of source by changing all states at once; `value` is the quantity of the unchanged ones. */
function spreadOver(quantity: (states: Column) => number, errors: readonly StateErrors[]): Spread {
  const { count, noiseCount, clockCount } = errors[0]!;
  const states = new Float64Array(errors.length * size);
  const shifted = (row: number, sign: -1 | 0 | 1): number => {
    for (let s = 0; s < errors.length; s++) {
      const { state, rows } = errors[s]!;
      for (let j = 0; j < size; j++) states[s * size + j] = state[j]! + sign * rows[row * size + j]!;
    }
    return quantity(states);
  };
  const value = shifted(0, 0);
  let noise = 0;
  let clock = 0;
  let shared = 0;
  for (let row = 0; row < count; row++) {
    const variance = twoSided(value, shifted(row, 1), shifted(row, -1));
    if (row < noiseCount) noise += variance;
    else if (row < noiseCount + clockCount) clock += variance;
    else shared += variance;
  }
  return { noise, clock, shared };
}

/** Variances of a measure at one instant, by source. */
export function spreadAt(quantity: StateQuantity, errors: StateErrors): Spread {
  return spreadOver((states) => quantity(states, 0), [errors]);
}

/**
 * Variances of a measure that is a function of several states at once (an extremum's two ends, the means of two stretches,
 * a curve), from the sources that are wrong in all of them together: clock and shared. Noise, new in each, is not in it.
 *
 * @param quantity  the measure; is given all states, one after the other in rows of `STATE.size`
 * @param errors    made with `noiseShare: 0`, all with a clock slope or all without
 */
export function jointSpread(quantity: (states: Column) => number, errors: readonly StateErrors[]): Spread {
  return spreadOver(quantity, errors);
}
