import { meanOfKnown } from "./column-values.ts";
import type { ComparedShot } from "./compared-shot.ts";
import { lieOf } from "./shots-in-order.ts";

/** A lie this near to level stands for the flat (own choice). */
const FLAT_WITHIN_DEG = 0.75;

/** A column of the board. */
export interface BoardLie {
  /** Two shots are in one column where this is the same. */
  readonly key: string;
  readonly name: string;
  /** Means over the shots; absent where nobody measured them. */
  readonly pitchDeg?: number;
  readonly rollDeg?: number;
  readonly isFlat: boolean;
}

/**
 * The column a shot belongs to: the name its lie was given, so that the same lie set up again on another day stays one column although the
 * inclinometer reads a tenth of a degree more; without a name its angles.
 */
export function boardLieOf(shot: ComparedShot): string {
  return shot.lieName ?? lieOf(shot);
}

/** Columns from down to up, then from ball below to ball above. Lies that a plan asks for and nobody stood on yet are among them. */
export function boardLies(
  shots: readonly ComparedShot[],
  planned: readonly { readonly lieName: string }[] = [],
): readonly BoardLie[] {
  const keys = new Set([...shots.map(boardLieOf), ...planned.map(({ lieName }) => lieName)]);
  const lies = [...keys].map((key): BoardLie => {
    const own = shots.filter((shot) => boardLieOf(shot) === key);
    const pitchDeg = meanOfKnown(own.map((shot) => shot.pitchDeg ?? Number.NaN));
    const rollDeg = meanOfKnown(own.map((shot) => shot.rollDeg ?? Number.NaN));
    const isMeasured = !(Number.isNaN(pitchDeg) && Number.isNaN(rollDeg));
    return {
      ...{ key, name: key },
      isFlat: isMeasured ? Math.max(Math.abs(pitchDeg || 0), Math.abs(rollDeg || 0)) < FLAT_WITHIN_DEG : key === "flat",
      ...(Number.isNaN(pitchDeg) ? {} : { pitchDeg }),
      ...(Number.isNaN(rollDeg) ? {} : { rollDeg }),
    };
  });
  return lies.toSorted(
    (one, other) =>
      (one.pitchDeg ?? 0) - (other.pitchDeg ?? 0) ||
      (one.rollDeg ?? 0) - (other.rollDeg ?? 0) ||
      (one.name < other.name ? -1 : 1),
  );
}
