import type { Random, Streams } from "../random.ts";
import { checkedPlan, type Plan } from "./plan.ts";
import { williamsRows } from "./williams.ts";

/** One shot of a drawn order. */
export interface DrawnShot<C> {
  readonly condition: C;
  readonly conditionIndex: number;
  /** Block, row or visit, 0, 1, ...: the unit within which labels may be exchanged, and to whose end a repeat goes. */
  readonly block: number;
}

export interface DrawnOrder<C> {
  readonly plan: Plan;
  readonly seed: number;
  /** Label of the stream the order was drawn from. */
  readonly label: string;
  readonly shots: readonly DrawnShot<C>[];
}

const repeated = (count: number, items: readonly number[]): number[] =>
  Array.from({ length: count }, () => items).flat();
const upTo = (count: number): number[] => Array.from({ length: count }, (_, i) => i);

/** From here on visits are permuted against each other, so their order is drawn freely. */
export const VISITS_TO_PERMUTE = 4;

/**
 * The lies in the order they are visited. Two or three visits each: a shuffled pass and its mirror (A B B A), which cancels a steady drift.
 * Four or more: all visits shuffled freely, so that the labellings of the test are the orders that could have been drawn.
 */
function visitedLies(lies: readonly number[], countVisits: number, random: Random): number[] {
  if (countVisits >= VISITS_TO_PERMUTE) return random.shuffle(repeated(countVisits, lies));
  const passes: number[][] = [];
  for (let pass = 0; pass < countVisits; pass++) {
    const before = passes[pass - 1];
    passes.push(pass % 2 === 1 && before ? before.toReversed() : random.shuffle([...lies]));
  }
  return passes.flat();
}

/** Conditions by index, block after block. */
function drawnBlocks(plan: Plan, countConditions: number, random: Random): readonly (readonly number[])[] {
  const all = upTo(countConditions);
  switch (plan.kind) {
    case "free":
      return [random.shuffle(all.flatMap((condition) => repeated(plan.countEach[condition]!, [condition])))];
    case "blocked":
      // No redrawing where a block starts with what the last one ended on: with two conditions only A B A B would be left.
      return upTo(plan.countBlocks).map(() => random.shuffle(repeated(plan.countEachPerBlock, all)));
    case "williams":
      return upTo(plan.countSets).flatMap(() => random.shuffle([...williamsRows(countConditions)]));
    case "split": {
      const lies = [...new Set(plan.lieOfCondition)].sort((a, b) => a - b);
      return visitedLies(lies, plan.countVisits, random).map((lie) => {
        const here = all.filter((condition) => plan.lieOfCondition[condition] === lie);
        return random.shuffle(repeated(plan.countEachPerVisit, here));
      });
    }
  }
}

/**
 * The order of the shots of a session, drawn before it from a stored seed. The same plan, conditions and seed give the same order.
 *
 * In `split`, two visits to one lie may follow each other: the player still leaves the plates, the lie is laid and the zero taken again.
 *
 * @param asked    plan, conditions in a fixed order, and the seed that is stored with the session
 * @param streams  opens the stream of a seed and a label
 * @throws RangeError where the plan does not fit the conditions
 */
export function drawnOrder<C>(
  asked: { readonly plan: Plan; readonly conditions: readonly C[]; readonly seed: number },
  streams: Streams,
): DrawnOrder<C> {
  const { plan, conditions, seed } = asked;
  checkedPlan(plan, conditions.length);
  const label = `order/${plan.kind}`;
  const blocks = drawnBlocks(plan, conditions.length, streams(seed, label));
  const shots = blocks.flatMap((block, at) =>
    block.map((conditionIndex) => ({ condition: conditions[conditionIndex]!, conditionIndex, block: at })),
  );
  return { plan, seed, label, shots };
}

/**
 * The order with one shot to be hit once more: the repeat goes to the end of its block.
 *
 * @param at  index of the shot that was mishit
 */
export function withRepeat<C>(order: DrawnOrder<C>, at: number): DrawnOrder<C> {
  const again = order.shots[at];
  if (again === undefined) throw new RangeError(`there is no shot ${at} among ${order.shots.length}`);
  const end = order.shots.findLastIndex((shot) => shot.block === again.block) + 1;
  return { ...order, shots: [...order.shots.slice(0, end), again, ...order.shots.slice(end)] };
}
