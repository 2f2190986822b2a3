import { cross, dot, type Handed, norm, type PlayerVector, scaled, sum, unit, type Vector } from "@underfoot/domain";
import { shotFaults } from "./faults.ts";

/** Steepest lie that is accepted, degrees, either way. */
const STEEPEST_LIE_DEG = 30;

/** The turf player axes as unit vectors of the laboratory, and hand = +1 for right-handed, -1 for left-handed players. */
export interface TurfAxes {
  readonly target: Vector;
  readonly ahead: Vector;
  readonly up: Vector;
  readonly hand: 1 | -1;
}

/** The level axes written in turf player axes: rows of the matrix that turns turf components into level ones. */
export interface LevelFromTurf {
  readonly target: PlayerVector;
  readonly ahead: PlayerVector;
  readonly up: PlayerVector;
}

/** Slope under the player, degrees: pitch + rises toward the target, roll + rises toward the ball. */
export interface LieAngles {
  readonly pitchDeg: number;
  readonly rollDeg: number;
}

/**
 * Turf player axes in the laboratory.
 *
 *   e_t = unit(d - (d·n) n),   e_a = e_t × n (right-handed), n × e_t (left-handed),   e_u = n
 *
 * (target, ahead, up) is a left-handed triad for right-handed players and a right-handed one for left-handed players.
 *
 * @param normal  outward normal of the turf, laboratory axes, any length
 * @param target  direction of the target, laboratory axes, any length; its part along the normal is dropped
 * @throws UnderfootError `target-along-normal` where nothing is left along the turf
 */
export function turfAxes(normal: Vector, target: Vector, handed: Handed): TurfAxes {
  const up = unit(normal);
  const along = sum(target, scaled(up, -dot(target, up)));
  if (!(norm(along) > 1e-3 * norm(target))) throw shotFaults.targetAlongNormal();
  const ahead = unit(along);
  return handed === "right"
    ? { target: ahead, ahead: cross(ahead, up), up, hand: 1 }
    : { target: ahead, ahead: cross(up, ahead), up, hand: -1 };
}

/** A laboratory vector along the turf player axes. */
export function turfFromLab(axes: TurfAxes, vector: Vector): PlayerVector {
  return { target: dot(vector, axes.target), ahead: dot(vector, axes.ahead), up: dot(vector, axes.up) };
}

/**
 * The direction against gravity in turf player axes, the same for both hands.
 *
 *   k = (sin p, sin r, c),   c = sqrt(1 - sin²p - sin²r)
 *
 * An inclinometer laid along target reads p, along ahead r.
 * @throws UnderfootError `lie-too-steep` beyond 30° either way, or not a number
 */
export function againstGravity(lie: LieAngles): PlayerVector {
  if (!(Math.abs(lie.pitchDeg) <= STEEPEST_LIE_DEG && Math.abs(lie.rollDeg) <= STEEPEST_LIE_DEG)) {
    throw shotFaults.lieTooSteep(lie.pitchDeg, lie.rollDeg);
  }
  const target = Math.sin((lie.pitchDeg * Math.PI) / 180);
  const ahead = Math.sin((lie.rollDeg * Math.PI) / 180);
  return { target, ahead, up: Math.sqrt(1 - target * target - ahead * ahead) };
}

/**
 * Level axes in turf player axes; with `levelVector` it turns turf components into level ones.
 *
 *   l_t = (cos p, -sin p sin r / cos p, -c sin p / cos p),   l_a = (0, c / cos p, -sin r / cos p),   l_u = (sin p, sin r, c)
 *
 * @throws UnderfootError `lie-too-steep`
 */
export function levelFromTurf(lie: LieAngles): LevelFromTurf {
  const up = againstGravity(lie);
  const cosPitch = Math.sqrt(1 - up.target * up.target);
  return {
    target: { target: cosPitch, ahead: (-up.target * up.ahead) / cosPitch, up: (-up.up * up.target) / cosPitch },
    ahead: { target: 0, ahead: up.up / cosPitch, up: -up.ahead / cosPitch },
    up,
  };
}

/** A player vector given in turf axes, along the level axes. */
export function levelVector(level: LevelFromTurf, turf: PlayerVector): PlayerVector {
  return {
    target: playerDot(level.target, turf),
    ahead: playerDot(level.ahead, turf),
    up: playerDot(level.up, turf),
  };
}

/** Scalar product of two vectors in the same player axes (there is no cross product of these). */
export function playerDot(a: PlayerVector, b: PlayerVector): number {
  return a.target * b.target + a.ahead * b.ahead + a.up * b.up;
}

/** The lie of plates in a level laboratory: pitch and roll from the direction against gravity. */
export function lieFromUp(axes: TurfAxes, up: Vector): LieAngles {
  const k = turfFromLab(axes, unit(up));
  return { pitchDeg: (Math.asin(k.target) * 180) / Math.PI, rollDeg: (Math.asin(k.ahead) * 180) / Math.PI };
}

/** Grade of a slope in percent: 100 tan(angle). 5° is 8.75 %, 6° is 10.51 %; "nine to ten percent" is common practice, no source. */
export function gradePercent(angleDeg: number): number {
  return 100 * Math.tan((angleDeg * Math.PI) / 180);
}
