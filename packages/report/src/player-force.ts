import type { PlayerAxes, PlayerVector } from "@underfoot/domain";
import {
  type FootSeries,
  type LevelFromTurf,
  levelFromTurf,
  type PlateSigmas,
  playerDot,
  type Shot,
  staticSlopeShare,
} from "@underfoot/mechanics";

const RAD = Math.PI / 180;

export type Direction = "target" | "ahead" | "up";

const TURF_AXES: LevelFromTurf = {
  target: { target: 1, ahead: 0, up: 0 },
  ahead: { target: 0, ahead: 1, up: 0 },
  up: { target: 0, ahead: 0, up: 1 },
};

/** One axis of the asked version, written in turf axes: a force along it is the scalar product with this. */
export function axisInTurf(shot: Shot, axes: PlayerAxes, direction: Direction): PlayerVector {
  return (axes === "turf" ? TURF_AXES : levelFromTurf(shot.lie))[direction];
}

/** Force of one foot or both along one axis, N; n samples, NaN where the recording has a gap. */
export function forceColumn(
  shot: Shot,
  foot: FootSeries,
  axes: PlayerAxes,
  direction: Direction,
): Float64Array<ArrayBuffer> {
  const axis = axisInTurf(shot, axes, direction);
  const { targetN, aheadN, upN } = foot.wrench;
  const out = new Float64Array(shot.sampleCount);
  for (let i = 0; i < out.length; i++) {
    out[i] = axis.target * targetN[i]! + axis.ahead * aheadN[i]! + axis.up * upN[i]!;
  }
  return out;
}

/** The same at one sample. */
export function forceAt(foot: FootSeries, axis: PlayerVector, i: number): number {
  const { targetN, aheadN, upN } = foot.wrench;
  return axis.target * (targetN[i] ?? NaN) + axis.ahead * (aheadN[i] ?? NaN) + axis.up * (upN[i] ?? NaN);
}

/**
 * Slope share of the total force, N: W (sin p, sin r, c - 1) on turf axes, 0 on level axes.
 * One foot's is this times its load share.
 */
export function slopeShareN(shot: Shot, axes: PlayerAxes): PlayerVector {
  return axes === "level" ? { target: 0, ahead: 0, up: 0 } : staticSlopeShare(shot.lie, shot.weightN).forceN;
}

/** How wrong the slope share toward the target may be, N: W cos p times the inclinometer's sd; 0 on level axes. */
export function slopeShareSigmaN(shot: Shot, axes: PlayerAxes): number {
  return axes === "level" ? 0 : shot.weightN * Math.cos(shot.lie.pitchDeg * RAD) * shot.lie.sdDeg * RAD;
}

/** Total force along an axis in the quiet window before the shot, N: what the motion is counted from. */
export function quietForceN(shot: Shot, axis: PlayerVector): number {
  return playerDot(axis, shot.address.forceN);
}

/**
 * One sigma of the total force along an axis, N, as a function of the sample.
 * `"absolute"`: noise, zero, gain of each plate's force, crosstalk of its load, and on level axes the lie's angle.
 * `"net"`: of the force less the quiet stance, where zero errors cancel: noise, gain and crosstalk of the change, drift.
 */
export function forceSigmaN(
  shot: Shot,
  axes: PlayerAxes,
  direction: Direction,
  kind: "absolute" | "net",
): (i: number) => number {
  const axis = axisInTurf(shot, axes, direction);
  const load: PlayerVector = { target: 0, ahead: 0, up: 1 };
  const isNet = kind === "net";
  const parts = plates(shot).map(({ foot, sigmas }) => ({
    foot,
    gain: sigmas.gain,
    crosstalk: direction === "up" ? 0 : sigmas.crosstalk,
    fixed: (isNet ? 0 : sigmas.zeroN ** 2) + (sigmas.noiseN[direction] * noiseLeft(shot)) ** 2,
    restN: isNet ? meanAtAddress(shot, foot, axis) : 0,
    restLoadN: isNet ? meanAtAddress(shot, foot, load) : 0,
  }));
  const driftN = isNet ? shot.massKg * shot.address.driftSigmaMPerS2[direction] : 0;
  const angleRad = !isNet && axes === "level" && direction !== "up" ? shot.lie.sdDeg * RAD : 0;
  return (i) => {
    let variance = driftN * driftN + ((shot.both.wrench.upN[i] ?? NaN) * angleRad) ** 2;
    for (const { foot, gain, crosstalk, fixed, restN, restLoadN } of parts) {
      const gainN = gain * (forceAt(foot, axis, i) - restN);
      const crossN = crosstalk * ((foot.wrench.upN[i] ?? NaN) - restLoadN);
      variance += fixed + gainN * gainN + crossN * crossN;
    }
    return Math.sqrt(variance);
  };
}

function plates(shot: Shot): readonly { readonly foot: FootSeries; readonly sigmas: PlateSigmas }[] {
  const pairs = [
    { foot: shot.lead, sigmas: shot.sigmas.lead },
    { foot: shot.trail, sigmas: shot.sigmas.trail },
  ].flatMap(({ foot, sigmas }) => (foot !== undefined && sigmas !== undefined ? [{ foot, sigmas }] : []));
  if (pairs.length > 0) return pairs;
  return shot.sigmas.both === undefined ? [] : [{ foot: shot.both, sigmas: shot.sigmas.both }];
}

function meanAtAddress(shot: Shot, foot: FootSeries, axis: PlayerVector): number {
  const { first, end } = shot.address;
  let total = 0;
  for (let i = first; i < end; i++) total += forceAt(foot, axis, i);
  return total / (end - first);
}

/** Share of white noise that two passes of the low-pass leave: h / sqrt(1 - h), h² = 2 · 0.83304 f_c / (0.802243 f_s). */
function noiseLeft(shot: Shot): number {
  if (shot.cutoffHz === undefined) return 1;
  const h = Math.sqrt((2 * 0.83304 * shot.cutoffHz) / (0.802243 * shot.rateHz));
  return h < 0.5 ? h / Math.sqrt(1 - h) : 1;
}
