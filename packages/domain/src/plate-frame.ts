import { cross, dot, norm, scaled, sum, unit, type Vector } from "./vector.ts";

/** Corners of a plate's top surface in the laboratory, m, in the order of plate axes (+x+y), (-x+y), (-x-y), (+x-y). */
export type PlateCorners = readonly [Vector, Vector, Vector, Vector];

/** Where a plate lies: unit plate axes in the laboratory (z into the ground), centre of the top surface, size along x and y. */
export interface PlateFrame {
  readonly x: Vector;
  readonly y: Vector;
  readonly z: Vector;
  readonly centreM: Vector;
  readonly sizeM: readonly [number, number];
  /** Outward normal: -z, or +z where the corners were written in the other order and `isTurned`. */
  readonly normal: Vector;
}

/**
 * Plate axes from the four corners (the C3D user guide's order).
 *
 *   x = unit(c1 + c4 - c2 - c3),  y0 = c1 + c2 - c3 - c4,  z = unit(x × y0),  y = z × x,  centre = mean of the four
 *
 * z points into the ground, so the outward normal is -z. Not finite where corners coincide: the caller checks.
 */
export function plateFrame(corners: PlateCorners): PlateFrame {
  const [c1, c2, c3, c4] = corners;
  const along = sum(sum(c1, c4), scaled(sum(c2, c3), -1));
  const across = sum(sum(c1, c2), scaled(sum(c3, c4), -1));
  const x = unit(along);
  const z = unit(cross(x, across));
  const y = cross(z, x);
  const centreM = scaled(sum(sum(c1, c2), sum(c3, c4)), 0.25);
  return { x, y, z, centreM, sizeM: [norm(along) / 2, Math.abs(dot(across, y)) / 2], normal: scaled(z, -1) };
}
