import { cross, dot, scaled, sum, type Vector } from "@underfoot/domain";

/** A wrench in the laboratory: force on the player, N, and moment about `centreM`, N m. */
export interface Wrench {
  readonly forceN: Vector;
  readonly momentNm: Vector;
  readonly centreM: Vector;
}

/**
 * Centre of pressure in the plate's surface, or on a pad of thickness h lying on it.
 *
 *   O' = O + h n,  M' = M - h n × F,  r = O' + (n × M') / (n·F)
 *
 * @param normal  outward unit normal n of the surface
 * @param padM    thickness of the pad, m
 * @returns       laboratory, m; not finite where n·F = 0 (the caller asks only where the foot is loaded)
 */
export function centreOfPressure(wrench: Wrench, normal: Vector, padM = 0): Vector {
  const lifted = scaled(normal, padM);
  const moment = sum(wrench.momentNm, scaled(cross(lifted, wrench.forceN), -1));
  const arm = scaled(cross(normal, moment), 1 / dot(normal, wrench.forceN));
  return sum(sum(wrench.centreM, lifted), arm);
}

/**
 * Free moment: what is left of the moment about the normal at the centre of pressure (Holden and Cavanagh 1991, from memory).
 *
 *   T = n·M - n·((r - O) × F)       N m, right-handed about n; + toward the target is hand x T
 */
export function freeMoment(wrench: Wrench, normal: Vector): number {
  const cop = centreOfPressure(wrench, normal);
  const arm = sum(cop, scaled(wrench.centreM, -1));
  return dot(normal, wrench.momentNm) - dot(normal, cross(arm, wrench.forceN));
}
