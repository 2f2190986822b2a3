import type { Column, Samples } from "@underfoot/domain";
import { mean } from "@underfoot/signal";
import type { LevelFromTurf } from "./axes.ts";
import type { Window } from "./quiet-window.ts";
import type { FootSeries, MotionSeries } from "./shot.ts";

/**
 * Spin torque about the vertical through the centre of mass, + toward the target, N m, n samples:
 *
 *   tau = c turn + (A_ahead F_target - A_target F_ahead)  in level axes,  A = P - X
 *
 * P the combined CoP, X the centre of mass's horizontal place: mean of P over the quiet window plus its travel since.
 * Less its own mean over the quiet window, so that zero errors of the moments do not hide the reversal.
 *
 * @param both   total wrench, its CoP and turning torque
 * @param level  rows of the level axes; c is their up·up
 */
export function spinTorque(both: FootSeries, motion: MotionSeries, level: LevelFromTurf, window: Window): Column {
  const sampleCount = both.isLoaded.length;
  const placeTarget = new Float64Array(sampleCount);
  const placeAhead = new Float64Array(sampleCount);
  const { target: lT, ahead: lA } = level;
  for (let i = 0; i < sampleCount; i++) {
    const rT = both.copTargetM[i]!;
    const rA = both.copAheadM[i]!;
    placeTarget[i] = lT.target * rT + lT.ahead * rA;
    placeAhead[i] = lA.target * rT + lA.ahead * rA;
  }
  const meanOf = (x: Samples): number => mean(x, window.first, window.end);
  const offsetTarget = meanOf(placeTarget) - meanOf(motion.travelTargetM);
  const offsetAhead = meanOf(placeAhead) - meanOf(motion.travelAheadM);
  const torque = new Float64Array(sampleCount);
  const { targetN, aheadN, upN } = both.wrench;
  for (let i = 0; i < sampleCount; i++) {
    const armTarget = placeTarget[i]! - offsetTarget - motion.travelTargetM[i]!;
    const armAhead = placeAhead[i]! - offsetAhead - motion.travelAheadM[i]!;
    const forceTarget = lT.target * targetN[i]! + lT.ahead * aheadN[i]! + lT.up * upN[i]!;
    const forceAhead = lA.target * targetN[i]! + lA.ahead * aheadN[i]! + lA.up * upN[i]!;
    torque[i] = level.up.up * both.freeMomentNm[i]! + armAhead * forceTarget - armTarget * forceAhead;
  }
  const quiet = meanOf(torque);
  for (let i = 0; i < sampleCount; i++) torque[i] = torque[i]! - quiet;
  return torque;
}

/**
 * Top of the backswing: where the body's spin, built up away from the target since `start`, has gone back to nothing.
 * H = ∫ tau from start; from its minimum before impact on, the first H >= 0, between samples on a straight line.
 *
 * @returns position in samples, or undefined where H is never negative or not back before impact
 */
export function spinReversal(
  torqueNm: Samples,
  { rateHz, start, impact }: { readonly rateHz: number; readonly start: number; readonly impact: number },
): number | undefined {
  const end = Math.min(torqueNm.length, Math.floor(impact) + 1);
  const first = Math.max(0, Math.round(start));
  const spin = new Float64Array(Math.max(0, end - first));
  const halfStep = 0.5 / rateHz;
  let lowest = 0;
  let at = -1;
  for (let i = 1; i < spin.length; i++) {
    spin[i] = spin[i - 1]! + (torqueNm[first + i - 1]! + torqueNm[first + i]!) * halfStep;
    if (spin[i]! < lowest) {
      lowest = spin[i]!;
      at = i;
    }
  }
  if (at < 0) return undefined;
  for (let i = at + 1; i < spin.length; i++) {
    if (spin[i]! >= 0) return first + i - spin[i]! / (spin[i]! - spin[i - 1]!);
  }
  return undefined;
}

/** Where a speed last turns from away (negative) to toward between two samples; undefined where it does not. */
export function lastTurn(speed: Samples, from: number, until: number): number | undefined {
  for (let i = Math.min(speed.length - 1, Math.floor(until)); i > Math.max(0, from); i--) {
    const before = speed[i - 1]!;
    const now = speed[i]!;
    if (before < 0 && now >= 0) return i - now / (now - before);
  }
  return undefined;
}
