import type { PlayerVector } from "@underfoot/domain";
import { againstGravity, type LieAngles } from "./axes.ts";

const DEG = 180 / Math.PI;

/** What gravity alone explains on a lie: the same player motionless there, less the same on the flat. Turf axes. */
export interface StaticSlopeShare {
  /** Slope share of the total force: W (sin p, sin r, c - 1), N. One foot's: times its load share. */
  readonly forceN: PlayerVector;
  readonly leanTargetDeg: number;
  readonly leanAheadDeg: number;
  /** Required friction: sqrt(sin²p + sin²r) / c. */
  readonly friction: number;
}

/**
 * Static slope law. Standing still on a lie the ground pushes with W along the direction against gravity,
 * so in turf axes F = W (sin p, sin r, c). In level axes every slope share is 0.
 *
 * @throws UnderfootError `lie-too-steep`
 */
export function staticSlopeShare(lie: LieAngles, weightN: number): StaticSlopeShare {
  const k = againstGravity(lie);
  return {
    forceN: { target: weightN * k.target, ahead: weightN * k.ahead, up: weightN * (k.up - 1) },
    leanTargetDeg: Math.atan2(k.target, k.up) * DEG,
    leanAheadDeg: Math.atan2(k.ahead, k.up) * DEG,
    friction: Math.hypot(k.target, k.ahead) / k.up,
  };
}

/** Force of the ground on a motionless player in turf axes, N: W (sin p, sin r, c). */
export function staticForce(lie: LieAngles, weightN: number): PlayerVector {
  const k = againstGravity(lie);
  return { target: weightN * k.target, ahead: weightN * k.ahead, up: weightN * k.up };
}

/**
 * Friction a foot asks of the turf: sqrt(F_t² + F_a²) / F_u, turf axes.
 * The caller asks only where the foot carries more than 10 % of weight: below it the zero errors decide.
 */
export function requiredFriction(force: PlayerVector): number {
  return Math.hypot(force.target, force.ahead) / force.up;
}

/** The lean of a quiet stance against the inclinometer. */
export interface SlopeCheck {
  readonly pitchDeg: number;
  readonly rollDeg: number;
  readonly sigmaDeg: number;
  readonly allowedDeg: number;
  readonly agrees: boolean;
}

/**
 * Slope check: the mean force of a quiet stance lies along the direction against gravity.
 *
 *   p = asin(F_q·e_t / |F_q|), r likewise;  allowed max(0.5°, 2.5 sigma),
 *   sigma² = inclinometer² + (sigma of the horizontal part of F_q / |F_q|)²
 *
 * @param force             F_q, turf axes, N
 * @param horizontalSigmaN  one sigma of its target or ahead part, the larger
 * @param inclinometerSdDeg one sigma of the given lie
 */
export function slopeCheck(
  force: PlayerVector,
  lie: LieAngles,
  { horizontalSigmaN, inclinometerSdDeg }: { readonly horizontalSigmaN: number; readonly inclinometerSdDeg: number },
): SlopeCheck {
  const size = Math.hypot(force.target, force.ahead, force.up);
  const pitchDeg = Math.asin(force.target / size) * DEG;
  const rollDeg = Math.asin(force.ahead / size) * DEG;
  const sigmaDeg = Math.hypot(inclinometerSdDeg, (horizontalSigmaN / size) * DEG);
  const allowedDeg = Math.max(0.5, 2.5 * sigmaDeg);
  const agrees = Math.abs(pitchDeg - lie.pitchDeg) <= allowedDeg && Math.abs(rollDeg - lie.rollDeg) <= allowedDeg;
  return { pitchDeg, rollDeg, sigmaDeg, allowedDeg, agrees };
}
