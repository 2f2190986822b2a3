import { VISITS_TO_PERMUTE } from "./drawn-order.ts";
import { checkedPlan, type Plan } from "./plan.ts";
import { williamsRows } from "./williams.ts";

/** What a plan can show at best. */
export interface PlanReach {
  /** Shots of the condition that has fewest. */
  readonly countShotsLeast: number;
  /** Smallest two-sided p between two conditions (in `split`: of one lie); undefined where there are no two. */
  readonly smallestP: number | undefined;
  /** Smallest p between two lies by permuting visits; undefined below four visits, where the visits' own scatter decides. */
  readonly smallestPOfLies: number | undefined;
  /** `lie-once`: lie and time cannot be told apart. `too-few-for-words`: below 5 shots a condition, a difference is given without a verdict. */
  readonly findings: readonly ("lie-once" | "too-few-for-words")[];
}

const LEAST_FOR_WORDS = 5;
const LEAST_VISITS = 2;

/** C(n, k) as a floating-point number. */
export function binomial(n: number, k: number): number {
  let value = 1;
  for (let i = 1; i <= k; i++) value = (value * (n - k + i)) / i;
  return Math.round(value) < Number.MAX_SAFE_INTEGER ? Math.round(value) : value;
}

/**
 * Smallest two-sided p of an exact test with so many shots in two conditions labelled freely: 1/C(nA+nB, nA), twice that for equal counts,
 * where the mirrored labelling is as extreme. 3 and 3: 0.100; 5 and 5: 0.0079.
 */
export function smallestFreeP(nA: number, nB: number): number {
  return (nA === nB ? 2 : 1) / binomial(nA + nB, nA);
}

/** The same within blocks that hold each of two conditions `countEach` times: 2/C(2e, e)^blocks. Pairs (e = 1): 2/2^n. */
export function smallestBlockedP(countBlocks: number, countEach: number): number {
  return 2 / binomial(2 * countEach, countEach) ** countBlocks;
}

function smallestPOf(plan: Plan, countConditions: number): number | undefined {
  switch (plan.kind) {
    case "free": {
      const [fewest, next] = plan.countEach.toSorted((a, b) => a - b);
      return fewest === undefined || next === undefined ? undefined : smallestFreeP(fewest, next);
    }
    case "blocked":
      return countConditions < 2 ? undefined : smallestBlockedP(plan.countBlocks, plan.countEachPerBlock);
    case "williams":
      return smallestBlockedP(plan.countSets * williamsRows(countConditions).length, 1);
    case "split": {
      const lies = plan.lieOfCondition;
      const isShared = lies.some((lie, i) => lies.indexOf(lie) !== i);
      return isShared ? smallestBlockedP(plan.countVisits, plan.countEachPerVisit) : undefined;
    }
  }
}

function countShotsLeast(plan: Plan, countConditions: number): number {
  switch (plan.kind) {
    case "free":
      return Math.min(...plan.countEach);
    case "blocked":
      return plan.countBlocks * plan.countEachPerBlock;
    case "williams":
      return plan.countSets * williamsRows(countConditions).length;
    case "split":
      return plan.countVisits * plan.countEachPerVisit;
  }
}

/**
 * What a plan can show at best: its smallest p and what its order cannot tell apart.
 *
 * @param countConditions  conditions of the plan
 */
export function planReach(plan: Plan, countConditions: number): PlanReach {
  checkedPlan(plan, countConditions);
  const least = countShotsLeast(plan, countConditions);
  const hasLies = plan.kind === "split" && new Set(plan.lieOfCondition).size > 1;
  const findings: PlanReach["findings"][number][] = [];
  if (hasLies && plan.countVisits < LEAST_VISITS) findings.push("lie-once");
  if (least < LEAST_FOR_WORDS) findings.push("too-few-for-words");
  return {
    countShotsLeast: least,
    smallestP: smallestPOf(plan, countConditions),
    smallestPOfLies:
      hasLies && plan.countVisits >= VISITS_TO_PERMUTE ? smallestFreeP(plan.countVisits, plan.countVisits) : undefined,
    findings,
  };
}

export type PlanVerdict =
  | { readonly kind: "accepted"; readonly reach: PlanReach }
  /** "These counts cannot show it, however large", and the next larger plan of the same kind that can. */
  | { readonly kind: "refused"; readonly reach: PlanReach; readonly next: Plan; readonly nextReach: PlanReach };

function larger(plan: Plan): Plan {
  switch (plan.kind) {
    case "free": {
      const fewest = Math.min(...plan.countEach);
      return { ...plan, countEach: plan.countEach.map((count) => Math.max(count, fewest + 1)) };
    }
    case "blocked":
      return { ...plan, countBlocks: plan.countBlocks + 1 };
    case "williams":
      return { ...plan, countSets: plan.countSets + 1 };
    case "split":
      return { ...plan, countVisits: plan.countVisits + 1 };
  }
}

/**
 * Whether a plan can reach a level at all. One whose smallest p exceeds it is refused, with the next plan that works: two conditions once a
 * block stop at 0.0625 after 5 blocks and can show nothing at 0.05; 6 reach 0.031.
 *
 * @param alphaOfOne  the level that a single comparison must reach, after any correction; 0.05 by default
 */
export function planVerdict(o: {
  readonly plan: Plan;
  readonly countConditions: number;
  readonly alphaOfOne?: number;
}): PlanVerdict {
  const alphaOfOne = o.alphaOfOne ?? 0.05;
  if (!(alphaOfOne > 0)) throw new RangeError(`a level lies above 0, not at ${alphaOfOne}`);
  const isEnough = (reach: PlanReach): boolean =>
    (reach.smallestP ?? 0) <= alphaOfOne && (reach.smallestPOfLies ?? 0) <= alphaOfOne;
  const reach = planReach(o.plan, o.countConditions);
  if (isEnough(reach)) return { kind: "accepted", reach };
  let next = larger(o.plan);
  let nextReach = planReach(next, o.countConditions);
  while (!isEnough(nextReach)) {
    next = larger(next);
    nextReach = planReach(next, o.countConditions);
  }
  return { kind: "refused", reach, next, nextReach };
}
