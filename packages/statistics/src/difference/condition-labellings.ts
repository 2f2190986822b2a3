import type { Random } from "../random.ts";
import type { Values } from "../samples.ts";
import type { Labelled } from "./labellings.ts";

interface Block {
  readonly shots: readonly number[];
  /** Condition of each of its shots. */
  readonly conditions: readonly number[];
}

function blocksOf({ groups, blocks }: Labelled): readonly Block[] {
  const names = Array.from(groups, (_, k) => blocks?.[k] ?? 0);
  return [...new Set(names)].map((name) => {
    const shots = names.flatMap((one, k) => (one === name ? [k] : []));
    return { shots, conditions: shots.map((k) => groups[k]!) };
  });
}

/** Orders of the shots of a block that differ in their conditions: n! / Π n_g!. */
function countOrders({ conditions }: Block): number {
  const seen = new Map<number, number>();
  // Placing the shots one by one keeps every partial product whole.
  return conditions.reduce((product, condition, placed) => {
    const count = (seen.get(condition) ?? 0) + 1;
    seen.set(condition, count);
    return (product * (placed + 1)) / count;
  }, 1);
}

/** How many labellings with any number of conditions the order allows, over the blocks of the plan. */
export function countConditionLabellings(labelled: Labelled): number {
  return blocksOf(labelled).reduce((product, block) => product * countOrders(block), 1);
}

/** Visits every labelling once. @param visit  receives the condition of each shot; the array is reused */
export function eachConditionLabelling(labelled: Labelled, visit: (groups: Values) => void): void {
  const blocks = blocksOf(labelled);
  const groups = Array.from(labelled.groups);
  const left = blocks.map(({ conditions }) => {
    const counts = new Map<number, number>();
    for (const one of conditions) counts.set(one, (counts.get(one) ?? 0) + 1);
    return counts;
  });
  const place = (b: number, at: number): void => {
    const block = blocks[b];
    if (block === undefined) {
      visit(groups);
      return;
    }
    const shot = block.shots[at];
    if (shot === undefined) {
      place(b + 1, 0);
      return;
    }
    const counts = left[b]!;
    for (const [condition, count] of counts) {
      if (count === 0) continue;
      counts.set(condition, count - 1);
      groups[shot] = condition;
      place(b, at + 1);
      counts.set(condition, count);
    }
  };
  place(0, 0);
}

/** Visits `count` drawn labellings: in each block the conditions shuffled. */
export function drawnConditionLabellings(
  labelled: Labelled,
  { count, random }: { readonly count: number; readonly random: Random },
  visit: (groups: Values) => void,
): void {
  const blocks = blocksOf(labelled);
  const groups = Array.from(labelled.groups);
  for (let b = 0; b < count; b++) {
    for (const { shots, conditions } of blocks) {
      const shuffled = random.shuffle([...conditions]);
      shots.forEach((shot, place) => {
        groups[shot] = shuffled[place]!;
      });
    }
    visit(groups);
  }
}
