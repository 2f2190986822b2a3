import { UnderfootError } from "@underfoot/domain";

/** A lie the simulator builds: its true angles. + pitch rises toward the target, + roll toward the ball. */
export interface SimulatedLie {
  readonly name: string;
  readonly pitchDeg: number;
  readonly rollDeg: number;
}

/** The lies of the demonstration. */
export const SIMULATED_LIES: Readonly<
  Record<"flat" | "upslope" | "downslope" | "ballAbove" | "ballBelow", SimulatedLie>
> = {
  flat: { name: "flat", pitchDeg: 0, rollDeg: 0 },
  upslope: { name: "upslope", pitchDeg: 5, rollDeg: 0 },
  downslope: { name: "downslope", pitchDeg: -4, rollDeg: 0 },
  ballAbove: { name: "ball above feet", pitchDeg: 0, rollDeg: 3 },
  ballBelow: { name: "ball below feet", pitchDeg: 0, rollDeg: -3 },
};

const STEEPEST_DEG = 30;

/** Rows: the level axes (target, ahead, up) in turf components. Unit vectors square to each other; the transpose goes back. */
export type LevelFromTurf = readonly [
  readonly [number, number, number],
  readonly [number, number, number],
  readonly [number, number, number],
];

/**
 * Level axes of a lie in turf components, the same for both hands. An inclinometer along the target line reads pitch p,
 * along ahead roll r; so the direction against gravity is (sin p, sin r, c), c = sqrt(1 - sin² p - sin² r).
 * Throws `simulator/lie-too-steep` beyond 30 degrees.
 */
export function levelFromTurf({ name, pitchDeg, rollDeg }: SimulatedLie): LevelFromTurf {
  if (!(Math.abs(pitchDeg) <= STEEPEST_DEG && Math.abs(rollDeg) <= STEEPEST_DEG)) {
    throw new UnderfootError({
      code: "simulator/lie-too-steep",
      sentence: `The lie "${name}" has pitch ${pitchDeg}° and roll ${rollDeg}°; at most ${STEEPEST_DEG}° can be stood on.`,
      remedy: `Give two angles between -${STEEPEST_DEG}° and ${STEEPEST_DEG}°.`,
    });
  }
  const sinP = Math.sin((pitchDeg * Math.PI) / 180);
  const sinR = Math.sin((rollDeg * Math.PI) / 180);
  const cosP = Math.sqrt(1 - sinP * sinP);
  const c = Math.sqrt(1 - sinP * sinP - sinR * sinR);
  return [
    [cosP, (-sinP * sinR) / cosP, (-c * sinP) / cosP],
    [0, c / cosP, -sinR / cosP],
    [sinP, sinR, c],
  ];
}
