import type { PlayerAxes } from "@underfoot/domain";
import type { Shot } from "@underfoot/mechanics";
import { axisInTurf, forceAt, forceSigmaN, quietForceN } from "./player-force.ts";
import { eventOf, sampleAt } from "./shot-time.ts";

/** Sigmas that a speed or a force must lie from zero before its direction is named (mechanics, "What a falling force means"). */
const SURE_SIGMAS = 2;
/** A stretch shorter than this is not put into words. Ours. */
const SHORTEST_STRETCH_S = 0.05;

/** Where the body goes, from its speed alone, and what the push does to that speed. */
export interface MotionWords {
  readonly motion: "to-target" | "going-back" | "about-still" | "not-known";
  readonly trend: "gaining" | "slowing" | "steady";
  readonly speedMPerS: number;
  readonly speedSigmaMPerS: number;
  /** Push less the quiet stance: mass times acceleration, N. */
  readonly netN: number;
  readonly netSigmaN: number;
}

/**
 * What the body does, as a function of the sample. Direction comes from the speed and never from the force:
 * to the target if v > 2 sigma_v, going back if v < -2 sigma_v, else about still;
 * gaining if the net push f > 2 sigma_f, slowing if f < -2 sigma_f.
 */
export function motionWords(shot: Shot, axes: PlayerAxes): (i: number) => MotionWords {
  const series = shot[axes];
  const axis = axisInTurf(shot, axes, "target");
  const quietN = quietForceN(shot, axis);
  const sigmaN = forceSigmaN(shot, axes, "target", "net");
  return (i) => {
    const speedMPerS = series.speedTargetMPerS[i] ?? NaN;
    const speedSigmaMPerS = series.speedTargetSigmaMPerS[i] ?? NaN;
    const netN = forceAt(shot.both, axis, i) - quietN;
    const netSigmaN = sigmaN(i);
    return {
      motion: motionFromSpeed(speedMPerS, speedSigmaMPerS),
      trend: netN > SURE_SIGMAS * netSigmaN ? "gaining" : netN < -SURE_SIGMAS * netSigmaN ? "slowing" : "steady",
      speedMPerS,
      speedSigmaMPerS,
      netN,
      netSigmaN,
    };
  };
}

function motionFromSpeed(speedMPerS: number, sigmaMPerS: number): MotionWords["motion"] {
  if (!Number.isFinite(speedMPerS) || !Number.isFinite(sigmaMPerS)) return "not-known";
  if (speedMPerS > SURE_SIGMAS * sigmaMPerS) return "to-target";
  return speedMPerS < -SURE_SIGMAS * sigmaMPerS ? "going-back" : "about-still";
}

/** A stretch of samples [first, end). */
export interface Stretch {
  readonly first: number;
  readonly end: number;
}

/** Stretches of at least 50 ms between two samples in which `isSo` holds throughout. */
function stretches(first: number, end: number, least: number, isSo: (i: number) => boolean): readonly Stretch[] {
  const found: Stretch[] = [];
  let from = -1;
  for (let i = first; i <= end; i++) {
    const holds = i < end && isSo(i);
    if (holds && from < 0) from = i;
    if (!holds && from >= 0) {
      if (i - from >= least) found.push({ first: from, end: i });
      from = -1;
    }
  }
  return found;
}

function downswingOn(shot: Shot): Stretch | undefined {
  const from = eventOf(shot, "top") ?? eventOf(shot, "delivery") ?? eventOf(shot, "impact");
  if (from === undefined) return undefined;
  const finish = eventOf(shot, "finish");
  return { first: sampleAt(shot, from.timeS), end: finish ? sampleAt(shot, finish.timeS) : shot.sampleCount };
}

/** From the top on: while the body moves to the target but the push takes speed from it. Nobody goes back there. */
export function slowingStretches(shot: Shot, axes: PlayerAxes): readonly Stretch[] {
  const span = downswingOn(shot);
  if (span === undefined) return [];
  const wordsAt = motionWords(shot, axes);
  return stretches(span.first, span.end, SHORTEST_STRETCH_S * shot.rateHz, (i) => {
    const words = wordsAt(i);
    return words.motion === "to-target" && words.trend === "slowing";
  });
}

/** From impact on: while the body goes back beyond the uncertainty of its speed. */
export function goingBackStretches(shot: Shot, axes: PlayerAxes): readonly Stretch[] {
  const span = downswingOn(shot);
  const impact = eventOf(shot, "impact");
  if (span === undefined || impact === undefined) return [];
  const wordsAt = motionWords(shot, axes);
  const first = sampleAt(shot, impact.timeS);
  return stretches(first, span.end, SHORTEST_STRETCH_S * shot.rateHz, (i) => wordsAt(i).motion === "going-back");
}

/** The one state of motion that holds at every sample between two times, ends included; `not-known` where it changes. */
export function motionThroughout(shot: Shot, axes: PlayerAxes, fromS: number, toS: number): MotionWords["motion"] {
  const { speedTargetMPerS, speedTargetSigmaMPerS } = shot[axes];
  const stateAt = (i: number): MotionWords["motion"] =>
    motionFromSpeed(speedTargetMPerS[i] ?? Number.NaN, speedTargetSigmaMPerS[i] ?? Number.NaN);
  const first = sampleAt(shot, fromS);
  const state = stateAt(first);
  for (let i = first + 1; i <= sampleAt(shot, toS); i++) if (stateAt(i) !== state) return "not-known";
  return state;
}
