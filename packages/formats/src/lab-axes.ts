import { cross, dot, type PlateCorners, plateFrame, scaled, sum, type Vector } from "@underfoot/domain";
import type { LabAxis } from "./column-mapping-type.ts";

export type LabLetter = "x" | "y" | "z";
export const LAB_LETTERS = ["x", "y", "z"] as const;

export const letterOf = (axis: LabAxis): LabLetter => axis[1] as LabLetter;
export const signOf = (axis: LabAxis): 1 | -1 => (axis[0] === "-" ? -1 : 1);

const UNITS: Readonly<Record<LabLetter, Vector>> = {
  x: { x: 1, y: 0, z: 0 },
  y: { x: 0, y: 1, z: 0 },
  z: { x: 0, y: 0, z: 1 },
};
export const vectorOfAxis = (axis: LabAxis): Vector => scaled(UNITS[letterOf(axis)], signOf(axis));

/** The two laboratory axes that lie in the ground, in the order x y z. */
export const horizontalsOf = (up: LabAxis): readonly LabLetter[] =>
  LAB_LETTERS.filter((letter) => letter !== letterOf(up));

/**
 * Corners of a plate whose sides lie along the two horizontal laboratory axes. Plate x points along the first of them,
 * plate z into the ground.
 */
export function squareCorners(up: LabAxis, sizeM: readonly [number, number], centreM: Vector): PlateCorners {
  const x = UNITS[horizontalsOf(up)[0] ?? "x"];
  const y = cross(scaled(vectorOfAxis(up), -1), x);
  const corner = (along: number, across: number): Vector =>
    sum(centreM, sum(scaled(x, (along * sizeM[0]) / 2), scaled(y, (across * sizeM[1]) / 2)));
  return [corner(1, 1), corner(-1, 1), corner(-1, -1), corner(1, -1)];
}

/** The same corners, the other way round where plate z would point away from the ground. */
export function groundedCorners(corners: PlateCorners, up: LabAxis): PlateCorners {
  const [c1, c2, c3, c4] = corners;
  return dot(plateFrame(corners).z, vectorOfAxis(up)) > 0 ? [c1, c4, c3, c2] : corners;
}

/** R, rows x y z of the laboratory, columns x y z of the plate; what rounding leaves of 0 and 1 is made whole again. */
export function plateAxes(corners: PlateCorners): readonly [Vector, Vector, Vector] {
  const { x, y, z } = plateFrame(corners);
  const whole = (value: number): number => (Math.abs(value - Math.round(value)) < 1e-9 ? Math.round(value) + 0 : value);
  const clean = (axis: Vector): Vector => ({ x: whole(axis.x), y: whole(axis.y), z: whole(axis.z) });
  return [clean(x), clean(y), clean(z)];
}
