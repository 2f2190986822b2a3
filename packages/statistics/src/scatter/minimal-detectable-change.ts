import { studentQuantile } from "../distributions/student-t.ts";
import { checkedLevel, LEVEL_OF_ONE } from "../estimate.ts";

export interface ChangeOptions {
  /** Typical error: the scatter of single shots. */
  readonly sd: number;
  readonly nu: number;
  /** Shots in each of the two means; 1 and 1 by default: two single shots. */
  readonly nFirst?: number;
  readonly nSecond?: number;
  readonly levelOfOne?: number;
}

/**
 * What two means must differ by to leave the scatter: t_{ν} s √(1/n1 + 1/n2) (Weir 2005 with t in place of 1.96, since ν is small).
 *
 * Not what so many shots could have shown: that is the detectable difference of planning.
 *
 * @returns in the unit of sd
 */
export function minimalDetectableChange({
  sd,
  nu,
  nFirst = 1,
  nSecond = 1,
  levelOfOne = LEVEL_OF_ONE,
}: ChangeOptions): number {
  const t = studentQuantile((1 + checkedLevel(levelOfOne)) / 2, nu);
  return t * sd * Math.sqrt(1 / nFirst + 1 / nSecond);
}
