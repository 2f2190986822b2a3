import { binomial } from "../planning/plan-reach.ts";
import type { Random } from "../random.ts";
import type { Values } from "../samples.ts";

/** Up to so many labellings all are counted; beyond, they are drawn. */
export const MOST_EXACT = 100_000;

/** Shots of two conditions, and the blocks within which their labels could have been drawn otherwise. */
export interface Labelled {
  /** 0 for A, 1 for B, one entry a shot. */
  readonly groups: Values;
  /** Block of each shot; left out when the order was drawn freely. */
  readonly blocks?: Values;
}

interface Block {
  readonly shots: readonly number[];
  readonly countA: number;
}

function blocksOf({ groups, blocks }: Labelled): readonly Block[] {
  const byBlock = new Map<number, number[]>();
  for (let k = 0; k < groups.length; k++) {
    const name = blocks?.[k] ?? 0;
    byBlock.set(name, [...(byBlock.get(name) ?? []), k]);
  }
  return [...byBlock.values()].map((shots) => ({
    shots,
    countA: shots.filter((k) => groups[k] === 0).length,
  }));
}

/** How many labellings the order allows: C(n, nA), or their product over blocks. */
export function countLabellings(labelled: Labelled): number {
  return blocksOf(labelled).reduce((product, { shots, countA }) => product * binomial(shots.length, countA), 1);
}

/** Visits every choice of `count` of `items`, in the order of rising indices. */
function eachChoice(items: readonly number[], count: number, visit: (chosen: readonly number[]) => void): void {
  const at = Array.from({ length: count }, (_, i) => i);
  for (;;) {
    visit(at.map((i) => items[i]!));
    let k = count - 1;
    while (k >= 0 && at[k] === items.length - count + k) k--;
    if (k < 0) return;
    at[k]!++;
    for (let later = k + 1; later < count; later++) at[later] = at[later - 1]! + 1;
  }
}

/**
 * Visits every labelling once, the observed one among them.
 *
 * @param visit  receives 1 for B, one entry a shot; the array is reused
 */
export function eachLabelling(labelled: Labelled, visit: (isB: Uint8Array) => void): void {
  const isB = new Uint8Array(labelled.groups.length);
  const blocks = blocksOf(labelled);
  const from = (b: number): void => {
    const block = blocks[b];
    if (block === undefined) {
      visit(isB);
      return;
    }
    eachChoice(block.shots, block.countA, (ofA) => {
      for (const k of block.shots) isB[k] = 1;
      for (const k of ofA) isB[k] = 0;
      from(b + 1);
    });
  };
  from(0);
}

/** Visits `count` drawn labellings: in each block the first shots of a shuffle are A. */
export function drawnLabellings(
  labelled: Labelled,
  { count, random }: { readonly count: number; readonly random: Random },
  visit: (isB: Uint8Array) => void,
): void {
  const isB = new Uint8Array(labelled.groups.length);
  const blocks = blocksOf(labelled);
  for (let b = 0; b < count; b++) {
    for (const { shots, countA } of blocks) {
      const order = random.shuffle([...shots], countA);
      order.forEach((k, place) => {
        isB[k] = place < countA ? 0 : 1;
      });
    }
    visit(isB);
  }
}

/** Equal arrangements must not be lost to rounding. */
export function isAtLeastAsExtreme(star: number, observed: number): boolean {
  if (observed === Number.POSITIVE_INFINITY) return star === Number.POSITIVE_INFINITY;
  return star >= observed - 1e-10 * Math.max(1, Math.abs(observed));
}
