import type { Withheld } from "../estimate.ts";
import type { Equivalence } from "./equivalence.ts";
import { isAtLeastAsExtreme } from "./labellings.ts";
import type { Difference } from "./welch.ts";

const ALPHA_OF_ONE = 0.05;
/** Least values a condition for words (own choice). */
const LEAST_FOR_WORDS = 5;

/**
 * What may be said of one measure.
 *
 * - `beyondScatter`: beyond, after allowing for all that was looked at.
 * - `beyondAlone`: beyond if it had been the only thing looked at, not after allowing for looks. Never called beyond.
 * - `withinScatter`: not beyond. Says nothing of being the same.
 * - `equivalent`: within a margin that was set before.
 * - `unreachable`: these counts cannot show a difference, however large.
 * - `tooFew`: below 5 values in a condition.
 * - `withheld`: the plan or the data forbid an answer; `reasons` says which.
 */
export type Verdict =
  | "beyondScatter"
  | "beyondAlone"
  | "withinScatter"
  | "equivalent"
  | "unreachable"
  | "tooFew"
  | "withheld";

/** Why a difference is not beyond scatter, or no verdict is given. */
export type VerdictReason =
  | "labels"
  | "interval"
  | "shared-error"
  | "visits"
  | "lie-once"
  | "order-confounded"
  | Withheld["reason"];

export interface VerdictResult {
  readonly verdict: Verdict;
  readonly reasons: readonly VerdictReason[];
}

export interface VerdictInput {
  readonly difference: Difference | Withheld;
  /** Of this measure alone, and after allowing for its family. */
  readonly p: number;
  readonly adjustedP: number;
  /** Smallest p the counts can give, in the family; above the level nothing can be shown. */
  readonly smallestP: number;
  /** Level of this look (`levelOfLook`); 0.05 by default. */
  readonly alphaOfOne?: number;
  /** Error of the difference that all shots share, unit of the measure: the difference must exceed twice it. 0 by default. */
  readonly sigmaShared?: number;
  /** Largest difference between visits to one lie (`visitScatter`): a difference between lies must exceed it too. */
  readonly visitDifference?: number;
  readonly equivalence?: Equivalence;
  /** What forbids a verdict: a lie visited once, or all of one condition before all of the other. */
  readonly withheldFor?: readonly ("lie-once" | "order-confounded")[];
}

function isWithinLevel(p: number, alphaOfOne: number): boolean {
  // p is at most the level, equal ones included.
  return isAtLeastAsExtreme(alphaOfOne, p);
}

/** What keeps the difference from being beyond, p of the labels apart. */
function obstacles(difference: Difference, input: VerdictInput, alphaOfOne: number): VerdictReason[] {
  const { sigmaShared = 0, visitDifference } = input;
  const excess = Math.abs(difference.value - difference.nullDifference);
  return [
    // The interval at this level leaves out the null difference where p of its t is below the level.
    ...(difference.p < alphaOfOne ? [] : (["interval"] as const)),
    ...(sigmaShared > 0 && !(excess > 2 * sigmaShared) ? (["shared-error"] as const) : []),
    ...(visitDifference !== undefined && !(excess > visitDifference) ? (["visits"] as const) : []),
  ];
}

/**
 * The verdict on one measure, from all its parts: labels after allowing for the family, the interval (labels alone claim too much where the
 * conditions scatter differently), the error that all shots share, and visits.
 */
export function verdictOf(input: VerdictInput): VerdictResult {
  const { difference, alphaOfOne = ALPHA_OF_ONE, withheldFor = [] } = input;
  if (difference.kind === "withheld") {
    const verdict = difference.reason === "too-few" ? "tooFew" : "withheld";
    return { verdict, reasons: [difference.reason] };
  }
  if (Math.min(...difference.n) < LEAST_FOR_WORDS) return { verdict: "tooFew", reasons: ["too-few"] };
  if (withheldFor.length > 0) return { verdict: "withheld", reasons: withheldFor };
  const isEquivalent = input.equivalence?.isEquivalent === true;
  if (!isWithinLevel(input.smallestP, alphaOfOne))
    return { verdict: isEquivalent ? "equivalent" : "unreachable", reasons: ["labels"] };
  const reasons = obstacles(difference, input, alphaOfOne);
  const isBeyond = isWithinLevel(input.adjustedP, alphaOfOne);
  if (isBeyond && reasons.length === 0) return { verdict: "beyondScatter", reasons: [] };
  const all = isBeyond ? reasons : (["labels", ...reasons] as const);
  if (isEquivalent) return { verdict: "equivalent", reasons: all };
  const isAlone = isWithinLevel(input.p, alphaOfOne) && reasons.length === 0;
  return { verdict: isAlone ? "beyondAlone" : "withinScatter", reasons: all };
}

/** One comparison without and with the mishits. */
export interface BothWays<T> {
  readonly without: T;
  readonly with: T;
  /** The verdict differs: leaving mishits out decides it, and both are to be said. */
  readonly mishitsDecide: boolean;
}

/**
 * A comparison made without and with the mishits: leaving them out selects on the outcome. Shots set aside or invalid are in neither.
 *
 * @param isMishit  1 for a mishit, one entry a shot
 * @param judge     the comparison of the shots with these numbers
 */
export function bothWays<T extends { readonly verdict: string }>(
  isMishit: ArrayLike<number>,
  judge: (shots: readonly number[]) => T,
): BothWays<T> {
  const all = Array.from(isMishit, (_, k) => k);
  const kept = all.filter((k) => isMishit[k] !== 1);
  const without = judge(kept);
  // Without any mishit the two are one.
  const withThem = kept.length === all.length ? without : judge(all);
  return { without, with: withThem, mishitsDecide: without.verdict !== withThem.verdict };
}
