import { studentTails } from "../distributions/student-t.ts";
import { type Difference, differenceFrom } from "./welch.ts";

export interface Equivalence {
  readonly kind: "equivalence";
  readonly margin: number;
  /** The larger of the two one-sided p. */
  readonly p: number;
  /** The 90 % interval; equivalent where it lies within ± margin. */
  readonly low90: number;
  readonly high90: number;
  readonly isEquivalent: boolean;
}

const ALPHA_OF_ONE = 0.05;

/**
 * Two one-sided tests that a difference lies within a margin that was set before (Schuirmann 1987; Lakens 2017).
 *
 * @param difference  Welch's or a paired one
 * @param margin      above 0, unit of the measure; there is no default
 */
export function equivalence(difference: Difference, margin: number): Equivalence {
  if (!(margin > 0)) throw new RangeError(`an equivalence margin lies above 0, not at ${margin}`);
  const { value, se, nu } = difference;
  const p = Math.max(studentTails((value + margin) / se, nu).upper, studentTails((value - margin) / se, nu).lower);
  const { low, high } = differenceFrom(difference, { levelOfOne: 1 - 2 * ALPHA_OF_ONE });
  return { kind: "equivalence", margin, p, low90: low, high90: high, isEquivalent: p <= ALPHA_OF_ONE };
}
