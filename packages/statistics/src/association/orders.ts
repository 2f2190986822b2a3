import { MOST_EXACT } from "../difference/labellings.ts";
import { drawnP } from "../difference/permutation.ts";
import type { Random } from "../random.ts";
import type { Values } from "../samples.ts";
import { eachOrder } from "../trend/kendall.ts";

/** Which shots belong together: the outcome may have come in any order within a condition, never across. */
export type Strata = readonly (readonly number[])[];

/** The shots of each condition, in the order in which conditions first appear; one stratum when none are given. */
export function strataOf(count: number, conditions?: Values): Strata {
  const byCondition = new Map<number, number[]>();
  for (let k = 0; k < count; k++) {
    const name = conditions?.[k] ?? 0;
    const shots = byCondition.get(name);
    if (shots === undefined) byCondition.set(name, [k]);
    else shots.push(k);
  }
  return [...byCondition.values()];
}

/** Orders within strata, Π n_c!; Infinity where that is no number any more. */
export function countOrders(strata: Strata): number {
  let product = 1;
  for (const { length } of strata) for (let k = 2; k <= length; k++) product *= k;
  return product;
}

/** Visits every order: `order[k]` is the shot whose outcome shot k takes; the array is reused. */
export function eachOrderWithin(strata: Strata, visit: (order: Int32Array) => void): void {
  const order = new Int32Array(strata.reduce((sum, shots) => sum + shots.length, 0));
  const from = (s: number): void => {
    const shots = strata[s];
    if (shots === undefined) {
      visit(order);
      return;
    }
    eachOrder([...shots], (taken) => {
      for (let k = 0; k < shots.length; k++) order[shots[k]!] = taken[k]!;
      from(s + 1);
    });
  };
  from(0);
}

/** Visits `count` drawn orders. */
export function drawnOrdersWithin(
  strata: Strata,
  { count, random }: { readonly count: number; readonly random: Random },
  visit: (order: Int32Array) => void,
): void {
  const order = new Int32Array(strata.reduce((sum, shots) => sum + shots.length, 0));
  for (let b = 0; b < count; b++) {
    for (const shots of strata) {
      const taken = random.shuffle([...shots]);
      for (let k = 0; k < shots.length; k++) order[shots[k]!] = taken[k]!;
    }
    visit(order);
  }
}

export interface OrderP {
  readonly p: number;
  readonly pMethod: "exact" | "drawn";
  readonly countArrangements: number;
}

/**
 * Two-sided p over orders within strata: all of them up to 100,000, else 10,000 drawn, and 100,000 more where p lies close to the level.
 *
 * @param isExtreme  whether an order's statistic is at least as extreme as the observed one
 * @param open       opens the stream; called only where orders are drawn
 */
export function orderP(strata: Strata, isExtreme: (order: Int32Array) => boolean, open: () => Random): OrderP {
  let extreme = 0;
  const count = (order: Int32Array): void => {
    if (isExtreme(order)) extreme++;
  };
  const total = countOrders(strata);
  if (total <= MOST_EXACT) {
    eachOrderWithin(strata, count);
    return { p: extreme / total, pMethod: "exact", countArrangements: total };
  }
  const [p, countArrangements] = drawnP((drawn, random) => {
    extreme = 0;
    drawnOrdersWithin(strata, { count: drawn, random }, count);
    return extreme;
  }, open());
  return { p, pMethod: "drawn", countArrangements };
}
