import { isAtLeastAsExtreme } from "../difference/labellings.ts";
import { type DrawOptions, drawnP } from "../difference/permutation.ts";
import { normalQuantile } from "../distributions/normal.ts";
import { root } from "../distributions/root.ts";
import {
  checkedLevel,
  type Estimate,
  type EstimateOptions,
  LEVEL_OF_ONE,
  ONE_LOOK,
  type Withheld,
} from "../estimate.ts";
import { binomial } from "../planning/plan-reach.ts";
import { type Values, validValues } from "../samples.ts";
import { midRanks } from "./mid-ranks.ts";

/** Least shots of each outcome (own choice). */
const LEAST_OF_EACH = 4;
/** Additions up to which all labellings are counted: a blink. */
const MOST_ADDITIONS = 1e8;

/** The chance that a shot of one outcome has the larger value than a shot of the other. */
export interface AreaUnderCurve extends Estimate {
  readonly kind: "area-under-curve";
  /** Two-sided, of the rank sum over labellings. */
  readonly p: number;
  readonly pMethod: "exact" | "drawn";
  readonly countMissing: readonly number[];
}

/**
 * Both limits of Newcombe's (2006) recommended interval of an area: the A on either side of Â with
 * |Â - A| = z √(A(1-A)[1 + (N-1)((1-A)/(2-A) + A/(1+A))]/(n₁n₀)), N = (n₁+n₀)/2.
 * At Â of 1 or 0 the estimate itself solves that; the limit there is 1 or 0, the other the root strictly inside.
 *
 * @param counts  shots of either outcome
 */
export function newcombeLimits(
  area: number,
  counts: readonly [number, number],
  levelOfOne: number = LEVEL_OF_ONE,
): readonly [number, number] {
  const z = normalQuantile((1 + checkedLevel(levelOfOne)) / 2);
  const half = (counts[0] + counts[1]) / 2;
  const spread = (a: number): number =>
    z * Math.sqrt((a * (1 - a) * (1 + (half - 1) * ((1 - a) / (2 - a) + a / (1 + a)))) / (counts[0] * counts[1]));
  const low = area <= 0 ? 0 : root((a) => spread(a) - (area - a), { low: 0, high: area, least: 0, most: area });
  const high = area >= 1 ? 1 : root((a) => a - area - spread(a), { low: area, high: 1, least: area, most: 1 });
  return [low, high];
}

/**
 * How many choices of `size` of the whole numbers have each sum, from 0 up (the shift algorithm of Streitberg & Röhmel 1986, from memory):
 * exact counts with ties, without visiting a single choice.
 */
function countsOfSums(numbers: readonly number[], size: number): Float64Array<ArrayBuffer> {
  const most = numbers
    .toSorted((a, b) => b - a)
    .slice(0, size)
    .reduce((sum, one) => sum + one, 0);
  const counts = Array.from({ length: size + 1 }, () => new Float64Array(most + 1));
  counts[0]![0] = 1;
  for (const number of numbers) {
    for (let taken = size; taken >= 1; taken--) {
      const into = counts[taken]!;
      const from = counts[taken - 1]!;
      for (let sum = most; sum >= number; sum--) into[sum]! += from[sum - number]!;
    }
  }
  return counts[size]!;
}

/** Two-sided p of a rank sum by |sum - its mean|: over all labellings where that is quick, else over drawn ones. */
function rankSumP(
  doubled: readonly number[],
  size: number,
  options: DrawOptions,
): { readonly p: number; readonly pMethod: "exact" | "drawn"; readonly countArrangements: number } {
  const n = doubled.length;
  const middle = (size * doubled.reduce((sum, one) => sum + one, 0)) / n;
  const observed = Math.abs(doubled.slice(0, size).reduce((sum, one) => sum + one, 0) - middle);
  const additions = n * size * size * 2 * n;
  if (additions <= MOST_ADDITIONS) {
    const counts = countsOfSums(doubled, size);
    let extreme = 0;
    for (let sum = 0; sum < counts.length; sum++)
      if (isAtLeastAsExtreme(Math.abs(sum - middle), observed)) extreme += counts[sum]!;
    const countArrangements = binomial(n, size);
    return { p: Math.min(1, extreme / countArrangements), pMethod: "exact", countArrangements };
  }
  const [p, countArrangements] = drawnP(
    (count, random) => {
      const shuffled = [...doubled];
      let extreme = 0;
      for (let b = 0; b < count; b++) {
        random.shuffle(shuffled, size);
        let sum = 0;
        for (let k = 0; k < size; k++) sum += shuffled[k]!;
        if (isAtLeastAsExtreme(Math.abs(sum - middle), observed)) extreme++;
      }
      return extreme;
    },
    options.streams(options.seed, options.label),
  );
  return { p, pMethod: "drawn", countArrangements };
}

/**
 * Area under the receiver operating characteristic, U/(n₁n₀) with ties half: of a shot with the outcome and one without, how often the first
 * has the larger value. Newcombe's (2006) interval; p from the exact permutation of labels.
 *
 * @param positive  values of the shots with the outcome (a mishit); NaN is left out
 * @param negative  values of the others
 * @returns         0 .. 1 without unit; `withheld` below 4 of either
 */
export function areaUnderCurve(
  positive: Values,
  negative: Values,
  options: EstimateOptions & DrawOptions,
): AreaUnderCurve | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK } = options;
  const groups = [validValues(positive), validValues(negative)] as const;
  const n = [groups[0].length, groups[1].length] as const;
  if (Math.min(...n) < LEAST_OF_EACH) return { kind: "withheld", reason: "too-few", n, needed: LEAST_OF_EACH };
  const ranks = midRanks([...groups[0], ...groups[1]]);
  const rankSum = ranks.slice(0, n[0]).reduce((sum, rank) => sum + rank, 0);
  const value = (rankSum - (n[0] * (n[0] + 1)) / 2) / (n[0] * n[1]);
  const [low, high] = newcombeLimits(value, n, levelOfOne);
  // Doubled mid-ranks are whole; both groups give the same p, the smaller one sooner.
  const doubled = Array.from(ranks, (rank) => 2 * rank);
  const isFirstSmaller = n[0] <= n[1];
  const made = rankSumP(isFirstSmaller ? doubled : doubled.toReversed(), Math.min(...n), options);
  return {
    kind: "area-under-curve",
    value,
    low,
    high,
    levelOfOne,
    n,
    method: "area-newcombe",
    looks,
    ...made,
    ...(made.pMethod === "drawn" ? { seed: options.seed } : {}),
    countMissing: [positive.length - n[0], negative.length - n[1]],
  };
}
