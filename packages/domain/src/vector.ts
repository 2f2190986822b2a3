/** A vector in laboratory or plate axes (right-handed). Only these can be crossed. */
export interface Vector {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** Which version of the player axes: `turf` has up along the plates' normal, `level` against gravity. */
export type PlayerAxes = "turf" | "level";

/**
 * A vector along the player axes: target toward the target, ahead from heels to toes, up away from the ground.
 * Left-handed for right-handed players, so there is no cross product of these.
 */
export interface PlayerVector {
  readonly target: number;
  readonly ahead: number;
  readonly up: number;
}

/** A point of the turf plane in metres from the reference point, along target and ahead. */
export interface TurfPoint {
  readonly targetM: number;
  readonly aheadM: number;
}

export function sum(a: Vector, b: Vector): Vector {
  return { x: a.x + b.x, y: a.y + b.y, z: a.z + b.z };
}

export function scaled(a: Vector, factor: number): Vector {
  return { x: a.x * factor, y: a.y * factor, z: a.z * factor };
}

export function dot(a: Vector, b: Vector): number {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}

/** a × b, right-handed axes. */
export function cross(a: Vector, b: Vector): Vector {
  return { x: a.y * b.z - a.z * b.y, y: a.z * b.x - a.x * b.z, z: a.x * b.y - a.y * b.x };
}

export function norm(a: Vector): number {
  return Math.hypot(a.x, a.y, a.z);
}

/** a / |a|; not finite components where |a| is 0. */
export function unit(a: Vector): Vector {
  return scaled(a, 1 / norm(a));
}
