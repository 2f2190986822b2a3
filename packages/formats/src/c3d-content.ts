import type { PlateCorners, Samples, Vector } from "@underfoot/domain";

/** What a plate's channels hold, in SI units; the order is that of C3D's FORCE_PLATFORM:TYPE. */
export interface C3dPlate {
  /**
   * 2 (as left out): Fx Fy Fz [N], Mx My Mz [N m] about the plate's origin.
   * 1: Fx Fy Fz [N], Px Py [m], free moment Mz [N m].
   * 3: Fx12 Fx34 Fy14 Fy23 Fz1 Fz2 Fz3 Fz4 [N].
   * 4: six signals in `unit`, calibrated by `matrix`.
   */
  readonly type?: 1 | 2 | 3 | 4;
  /** Top surface in the laboratory, m, in the order (+x+y), (-x+y), (-x-y), (+x-y) of plate axes, z into the ground. */
  readonly cornersM: PlateCorners;
  /** Plate axes, force of the ground on the player (standing: Fz < 0). Missing samples are NaN. */
  readonly columns: readonly Samples[];
  /** From the plate's origin up to the surface centre, plate axes, m. Left out: the origin is the surface centre. Type 3: half the sensor spacings, and the depth. */
  readonly originM?: Vector;
  /** Type 4 only: six rows Fx Fy Fz Mx My Mz in N and N m per unit of the signals. */
  readonly matrix?: readonly (readonly number[])[];
  /** Type 4 only: unit of the signals; volts as left out. */
  readonly unit?: string;
  /** 16-bit files: the physical value at each converter's end, in the columns' units. Left out: each channel's largest. */
  readonly fullScale?: readonly number[];
}

/** A channel that belongs to no plate: a trigger, the sound of impact. */
export interface C3dExtra {
  readonly label: string;
  readonly unit: string;
  readonly values: Samples;
  readonly fullScale?: number;
}

export interface C3dEvent {
  readonly label: string;
  readonly context?: string;
  /** From the first sample. */
  readonly timeS: number;
}

/** What the shot is, kept in the group UNDERFOOT. Never a name. */
export interface C3dFacts {
  readonly shot?: string;
  readonly pseudonym?: string;
  readonly handed?: "right" | "left";
  readonly pitchDeg?: number;
  readonly rollDeg?: number;
  /** Direction of the target in the laboratory. */
  readonly target?: Vector;
}

/** What is to be written. All columns have the same number of samples. */
export interface C3dContent {
  readonly rateHz: number;
  readonly plates: readonly C3dPlate[];
  readonly extras?: readonly C3dExtra[];
  readonly events?: readonly C3dEvent[];
  readonly facts?: C3dFacts;
  /** 32-bit real numbers as left out, or 16-bit integers with a scale for each channel. */
  readonly numbers?: "real" | "integer";
  /** Analog samples per frame. Left out: 1, or the power of two that keeps the frames within 65535. */
  readonly samplesPerFrame?: number;
}
