import { type Foot, type PlateCorners, random, type Sense, type Vector } from "@underfoot/domain";

/** C3D plate types that can be simulated. */
export type PlateType = 1 | 2 | 3 | 4;

/** One plate as it is built and laid. */
export interface OnePlate {
  readonly type: PlateType;
  /** From the target line to the plate's x axis, turned about the turf's normal toward `ahead`, degrees. */
  readonly yawDeg: number;
  readonly sense: Sense;
  /** Plate axes, m, from the plate's origin up to the surface; type 3: half the sensor spacings and the depth. */
  readonly originM: Vector;
}

/** Two plates side by side along the target line and the laboratory they are described in. */
export interface PlateSetup {
  readonly lead: OnePlate;
  readonly trail: OnePlate;
  /** Along each plate's x and y. */
  readonly sizeM: readonly [number, number];
  readonly gapM: number;
  /** A mat of this thickness lies on the plates. */
  readonly padM: number;
  readonly lab: {
    /** `level`: up is against gravity and the plates are tilted in it; `turf`: the laboratory is tied to the plates. */
    readonly tied: "level" | "turf";
    readonly upAxis: "y" | "z";
    /** Turns the target line about the laboratory's up axis, degrees. */
    readonly targetTurnDeg: number;
    /** Of the middle between the plates. */
    readonly placeM: Vector;
  };
  /** Which plate is number 1 of the recording. */
  readonly first: Foot;
}

const SENSOR_ORIGIN_M: Vector = { x: 0.12, y: 0.2, z: -0.047 };
const USUAL_ORIGIN_M: Vector = { x: 0.0006, y: -0.0011, z: -0.041 };

/** The origin a plate of this type usually has, m. */
export function usualOriginM(type: PlateType): Vector {
  return type === 3 ? SENSOR_ORIGIN_M : USUAL_ORIGIN_M;
}

const USUAL_PLATE: OnePlate = { type: 2, yawDeg: 90, sense: "on-player", originM: USUAL_ORIGIN_M };

/** Two plates of type 2, 0.6 m x 0.4 m, long side ahead, in a level laboratory. */
export const DEFAULT_PLATES: PlateSetup = {
  lead: USUAL_PLATE,
  trail: USUAL_PLATE,
  sizeM: [0.6, 0.4],
  gapM: 0.005,
  padM: 0,
  lab: { tied: "level", upAxis: "z", targetTurnDeg: 0, placeM: { x: 0, y: 0, z: 0 } },
  first: "lead",
};

const TYPES: readonly PlateType[] = [1, 2, 3, 4];

/**
 * Two plates drawn by a seed: any types and senses, laid in quarter turns and a few degrees more, in a laboratory that
 * is turned at random, with up along z or y, level or tied to the plates; in one of three a mat of 8 to 15 mm.
 */
export function randomPlates(seed: number, types: readonly PlateType[] = TYPES): PlateSetup {
  const draw = random(seed, "plates");
  const one = (): OnePlate => {
    const type = types[draw.below(types.length)]!;
    const yawDeg = 90 * draw.below(4) + 2 * draw.normal();
    return { type, yawDeg, sense: draw.unit() < 0.5 ? "on-player" : "on-plate", originM: usualOriginM(type) };
  };
  const between = (low: number, high: number): number => low + (high - low) * draw.unit();
  return {
    lead: one(),
    trail: one(),
    sizeM: [0.6, 0.4],
    gapM: between(0.002, 0.02),
    padM: draw.unit() < 1 / 3 ? between(0.008, 0.015) : 0,
    lab: {
      tied: draw.unit() < 0.5 ? "level" : "turf",
      upAxis: draw.unit() < 0.25 ? "y" : "z",
      targetTurnDeg: between(-180, 180),
      placeM: { x: between(-2, 2), y: between(-2, 2), z: between(-0.3, 0.3) },
    },
    first: draw.unit() < 0.5 ? "lead" : "trail",
  };
}

/** A plate in the laboratory: axes, true centre of the surface, corners. */
export interface LaidPlate {
  readonly foot: Foot;
  readonly plate: OnePlate;
  readonly x: Vector;
  readonly y: Vector;
  readonly z: Vector;
  /** Along target from the middle of the stance. */
  readonly offsetM: number;
  readonly centreM: Vector;
  readonly cornersM: PlateCorners;
}
