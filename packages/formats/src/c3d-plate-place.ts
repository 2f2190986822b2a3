import { dot, norm, type PlateCorners, plateFrame, scaled, sum, type Vector, type Where } from "@underfoot/domain";
import { c3dFindings, type Said } from "./c3d-findings.ts";
import { type C3dParameters, numbersOf, textsOf } from "./c3d-parameters.ts";
import { lengthUnitM } from "./c3d-units.ts";

const SMALLEST_SIDE_M = 0.05;
const LARGEST_SIDE_M = 6;
/** Beyond these the corners are no rectangle worth the name (ours). */
const DIAGONAL_MISS_M = 0.01;
const SKEW_COSINE = 0.05;

const NOWHERE: Vector = { x: Number.NaN, y: Number.NaN, z: Number.NaN };

/** Corners of the k-th plate (from 0), times `factor`; NaN where the file has none. */
function cornersAt(values: readonly number[], k: number, factor: number): PlateCorners {
  const corner = (c: number): Vector => {
    const [x, y, z] = values.slice(12 * k + 3 * c, 12 * k + 3 * c + 3);
    return x === undefined || y === undefined || z === undefined ? NOWHERE : scaled({ x, y, z }, factor);
  };
  return [corner(0), corner(1), corner(2), corner(3)];
}

const between = (a: Vector, b: Vector): number => norm(sum(a, scaled(b, -1)));
const sidesM = ([a, b, c, d]: PlateCorners): number[] => [between(a, b), between(b, c), between(c, d), between(d, a)];
const isPlate = (corners: PlateCorners): boolean =>
  sidesM(corners).every((side) => side >= SMALLEST_SIDE_M && side <= LARGEST_SIDE_M);

/** Metres per unit of POINT:UNITS. Unknown: the one of m and mm in which the plates are of a sensible size. */
export function lengthToMFrom(parameters: C3dParameters, where: Where, out: Said): number {
  const written = textsOf(parameters, "POINT:UNITS")[0] ?? "";
  const known = lengthUnitM(written);
  if (known !== undefined) return known;
  const corners = numbersOf(parameters, "FORCE_PLATFORM:CORNERS") ?? [];
  const isMetres = corners.length >= 12 && isPlate(cornersAt(corners, 0, 1));
  if (corners.length >= 12) out.guess(c3dFindings.lengthUnit(where, written, isMetres ? "m" : "mm"));
  return isMetres ? 1 : 1e-3;
}

export interface PlatePlace {
  readonly corners: PlateCorners;
  readonly sizeM: readonly [number, number];
  /** The corners' z axis points away from the ground: its outside is +z. */
  readonly isTurned: boolean;
  /** Why the corners make no plate. */
  readonly sides?: string;
}

function midpointMissM([a, b, c, d]: PlateCorners): number {
  return norm(scaled(sum(sum(a, c), scaled(sum(b, d), -1)), 0.5));
}

function skewCosine([c1, c2, c3, c4]: PlateCorners): number {
  const along = sum(sum(c1, c4), scaled(sum(c2, c3), -1));
  const across = sum(sum(c1, c2), scaled(sum(c3, c4), -1));
  return Math.abs(dot(along, across)) / (norm(along) * norm(across));
}

/** Where the k-th plate (from 0) lies, m, laboratory; checked for size, flatness and the order of the corners. */
export function platePlace(
  values: readonly number[],
  k: number,
  lengthToM: number,
  where: Where,
  out: Said,
): PlatePlace {
  const corners = cornersAt(values, k, lengthToM);
  if (!isPlate(corners)) {
    const sides = sidesM(corners).map((side) =>
      Number.isFinite(side) ? `${Number((1000 * side).toPrecision(4))} mm` : "no number",
    );
    return { corners, sizeM: [Number.NaN, Number.NaN], isTurned: false, sides: `its sides are ${sides.join(", ")}` };
  }
  const missM = midpointMissM(corners);
  const cosine = skewCosine(corners);
  if (missM > DIAGONAL_MISS_M || cosine > SKEW_COSINE) out.say(c3dFindings.plateSkew(where, 1000 * missM, cosine));
  const frame = plateFrame(corners);
  const { x, y, z } = frame.normal;
  const largest = [x, y, z].reduce((most, part) => (Math.abs(part) > Math.abs(most) ? part : most));
  if (largest < 0) out.guess(c3dFindings.cornerOrder(where));
  return { corners, sizeM: frame.sizeM, isTurned: largest < 0 };
}
