import type { Random } from "../random.ts";
import { median, type Values } from "../samples.ts";

/** Up to here all orders are counted when there are ties: 8! = 40,320. */
const MOST_FOR_ALL_ORDERS = 8;
const COUNT_SHUFFLES = 10_000;

/**
 * Kendall's score S = Σ_{i<j} sign(x_j - x_i) sign(y_j - y_i): pairs in the same order minus pairs in the opposite one.
 * With x the days it is the score of Mann (1945) and Kendall.
 */
export function kendallScore(x: Values, y: Values): number {
  let score = 0;
  for (let i = 0; i < x.length; i++) {
    for (let j = i + 1; j < x.length; j++) score += Math.sign(x[j]! - x[i]!) * Math.sign(y[j]! - y[i]!);
  }
  return score;
}

/**
 * Chance of each number of inversions 0 .. n(n-1)/2 in a random order of n: c_n(k) = c_n(k-1) + c_{n-1}(k) - c_{n-1}(k-n), each row
 * divided by n (Kendall; from memory). Formed as sums of non-negative terms over a sliding window, so nothing cancels badly.
 */
export function inversionChances(n: number): Float64Array<ArrayBuffer> {
  let chances = Float64Array.of(1);
  for (let size = 2; size <= n; size++) {
    const next = new Float64Array((size * (size - 1)) / 2 + 1);
    for (let k = 0; k < next.length; k++) {
      let sum = 0;
      for (let back = Math.max(0, k - chances.length + 1); back <= Math.min(k, size - 1); back++)
        sum += chances[k - back]!;
      next[k] = sum / size;
    }
    chances = next;
  }
  return chances;
}

/** P(|S| >= |score|) over all orders of n values without ties, S = n(n-1)/2 - 2 × inversions. */
export function exactScoreP(score: number, n: number): number {
  const chances = inversionChances(n);
  const pairs = (n * (n - 1)) / 2;
  let p = 0;
  for (let k = 0; k < chances.length; k++) if (Math.abs(pairs - 2 * k) >= Math.abs(score)) p += chances[k]!;
  return Math.min(1, p);
}

/** Visits every order of `items` in place (Heap's algorithm). */
export function eachOrder(items: number[], visit: (order: readonly number[]) => void): void {
  const turns = new Array<number>(items.length).fill(0);
  const swap = (i: number, j: number): void => {
    const held = items[i]!;
    items[i] = items[j]!;
    items[j] = held;
  };
  visit(items);
  for (let i = 1; i < items.length; ) {
    if (turns[i]! < i) {
      swap(i % 2 === 0 ? 0 : turns[i]!, i);
      visit(items);
      turns[i]!++;
      i = 1;
    } else turns[i++] = 0;
  }
}

export interface ScoreTest {
  readonly score: number;
  /** Two-sided. */
  readonly p: number;
  readonly method: "kendall-exact" | "kendall-all-orders" | "kendall-shuffles";
  readonly countArrangements?: number;
}

const hasTies = (values: Values): boolean => new Set(Array.from(values)).size < values.length;

/**
 * Two-sided p of Kendall's score: exact from the number of orders with k inversions when nothing is tied; with ties all orders up to 8 values,
 * else 10,000 shuffles with p = (1 + count)/(B + 1).
 *
 * @param random  used only for ties among more than 8 values
 */
export function kendallTest(x: Values, y: Values, random: Random): ScoreTest {
  const n = x.length;
  const score = kendallScore(x, y);
  if (!hasTies(x) && !hasTies(y)) return { score, p: exactScoreP(score, n), method: "kendall-exact" };
  const isAsExtreme = (order: Values): boolean => Math.abs(kendallScore(x, order)) >= Math.abs(score);
  if (n <= MOST_FOR_ALL_ORDERS) {
    let total = 0;
    let count = 0;
    eachOrder(Array.from(y), (order) => {
      total++;
      if (isAsExtreme(order)) count++;
    });
    return { score, p: count / total, method: "kendall-all-orders", countArrangements: total };
  }
  const shuffled = Array.from(y);
  let count = 0;
  for (let b = 0; b < COUNT_SHUFFLES; b++) if (isAsExtreme(random.shuffle(shuffled))) count++;
  return {
    score,
    p: (1 + count) / (COUNT_SHUFFLES + 1),
    method: "kendall-shuffles",
    countArrangements: COUNT_SHUFFLES,
  };
}

/** Slopes of all pairs of points with different x, rising. */
export function pairwiseSlopes(x: Values, y: Values): Float64Array<ArrayBuffer> {
  const slopes: number[] = [];
  for (let i = 0; i < x.length; i++) {
    for (let j = i + 1; j < x.length; j++) if (x[j] !== x[i]) slopes.push((y[j]! - y[i]!) / (x[j]! - x[i]!));
  }
  return Float64Array.from(slopes).sort();
}

/**
 * Theil-Sen slope, the median of all pairwise slopes, with the interval of Sen (1968): ordered slopes number (N - C)/2 + 1 and (N + C)/2,
 * rounded outwards, C the smallest whole number with P(|S| < C) >= level.
 *
 * @param x  all different
 * @returns  unit of y per unit of x. Limits are -Infinity and Infinity where so few points cannot reach the level
 */
export function theilSen(
  x: Values,
  y: Values,
  levelOfOne: number,
): { readonly value: number; readonly low: number; readonly high: number } {
  const slopes = pairwiseSlopes(x, y);
  const count = slopes.length;
  let c = 1;
  // P(|S| >= C) falls as C grows; beyond `count` it is 0 and no pair of slopes is far enough out.
  while (1 - exactScoreP(c, x.length) < levelOfOne - 1e-12) c++;
  const lowRank = Math.floor((count - c) / 2 + 1);
  const highRank = Math.ceil((count + c) / 2);
  return {
    value: median(slopes),
    low: slopes[lowRank - 1] ?? Number.NEGATIVE_INFINITY,
    high: slopes[highRank - 1] ?? Number.POSITIVE_INFINITY,
  };
}
