import type { Values } from "../samples.ts";
import { isScatterUnequal } from "./effect-size.ts";
import {
  countLabellings,
  drawnLabellings,
  eachLabelling,
  isAtLeastAsExtreme,
  type Labelled,
  MOST_EXACT,
} from "./labellings.ts";
import { absoluteWelch, type DrawOptions } from "./permutation.ts";
import { welch } from "./welch.ts";

const COUNT_DRAWN = 10_000;

const risingOrder = (p: Values): number[] => Array.from(p, (_, i) => i).sort((i, j) => p[i]! - p[j]! || i - j);

/** Holm's adjusted p, max over smaller ones of min(1, (M - s + 1) p_(s)) (Holm 1979): holds under any dependence. Input order. */
export function holm(p: Values): Float64Array<ArrayBuffer> {
  const adjusted = new Float64Array(p.length);
  let largest = 0;
  risingOrder(p).forEach((i, place) => {
    largest = Math.max(largest, Math.min(1, (p.length - place) * p[i]!));
    adjusted[i] = largest;
  });
  return adjusted;
}

/**
 * Benjamini & Hochberg's q, min over larger ones of min(1, M p_(s)/s) (1995). Of those named at 0.05 about 1 in 20 is expected to be false:
 * a hint what to test, never a verdict. Input order.
 */
export function benjaminiHochberg(p: Values): Float64Array<ArrayBuffer> {
  const adjusted = new Float64Array(p.length);
  let smallest = 1;
  risingOrder(p)
    .toReversed()
    .forEach((i, place) => {
      smallest = Math.min(smallest, (p.length * p[i]!) / (p.length - place));
      adjusted[i] = smallest;
    });
  return adjusted;
}

/** Pocock's nominal two-sided levels for 2 to 6 planned looks at equal steps, 0.05 in all (Pocock 1977; recomputed by recursive quadrature). */
const POCOCK: readonly number[] = [0.0293857858663, 0.0220515911846, 0.0182110954916, 0.0158141715635, 0.0141587329158];

/**
 * Level of one look when a difference is looked at several times.
 *
 * @param looks  planned looks at equal steps (1 to 6 by Pocock, more by Bonferroni), or times it was looked at unplanned (Bonferroni)
 */
export function levelOfLook(looks: { readonly kind: "planned" | "unplanned"; readonly times: number }): number {
  if (!(looks.times >= 1)) throw new RangeError(`a result is looked at once or more, not ${looks.times} times`);
  const pocock = looks.kind === "planned" ? POCOCK[looks.times - 2] : undefined;
  return pocock ?? 0.05 / looks.times;
}

export interface MaxTFamily {
  /** Raw and adjusted two-sided p, in the order of the measures; NaN for measures that left the family. */
  readonly p: Float64Array<ArrayBuffer>;
  readonly adjusted: Float64Array<ArrayBuffer>;
  readonly countArrangements: number;
  readonly method: "exact" | "drawn";
  readonly seed?: number;
  /** Measures with a missing value: their counts differ, so they share no labellings with the others. */
  readonly leftOut: readonly number[];
  /** Measures whose conditions scatter too differently: they have the larger of max-T and Holm of Welch's p. */
  readonly unequal: readonly number[];
}

/**
 * Step-down max-T over measures that share one set of labellings (Westfall & Young 1993): |Welch's t| falling, adjusted p of the r-th the share
 * of labellings in which any of measures r .. M is at least as extreme, then made monotone. Honours that measures hang together.
 *
 * @param measures  one array of all shots a measure, the same shots in the same order
 * @param labelled  which shots are B, and the blocks of the plan
 * @param options   `isScatterUnequal`: the conditions are known to scatter differently, so every measure takes the larger p, not only those whose
 *                  own sds differ by more than twice
 */
export function maxTFamily(
  measures: readonly Values[],
  labelled: Labelled,
  options: DrawOptions & { readonly isScatterUnequal?: boolean },
): MaxTFamily {
  const leftOut = measures.flatMap((values, m) => (Array.from(values).some(Number.isNaN) ? [m] : []));
  const kept = measures.flatMap((_, m) => (leftOut.includes(m) ? [] : [m]));
  const groups = Uint8Array.from(labelled.groups);
  const observed = measures.map((values) => absoluteWelch(values, groups));
  // Falling |t|, the first named first among equals.
  const order = kept.toSorted((i, j) => observed[j]! - observed[i]! || i - j);
  const raw = new Float64Array(measures.length).fill(Number.NaN);
  const adjusted = new Float64Array(measures.length).fill(Number.NaN);
  const countRaw = new Float64Array(measures.length);
  const countMax = new Float64Array(measures.length);
  const count = (isB: Uint8Array): void => {
    let largest = 0;
    for (let r = order.length - 1; r >= 0; r--) {
      const m = order[r]!;
      const t = absoluteWelch(measures[m]!, isB);
      largest = Math.max(largest, t);
      if (isAtLeastAsExtreme(t, observed[m]!)) countRaw[m]!++;
      if (isAtLeastAsExtreme(largest, observed[m]!)) countMax[m]!++;
    }
  };
  const total = countLabellings(labelled);
  const isExact = total <= MOST_EXACT;
  if (isExact) eachLabelling(labelled, count);
  else drawnLabellings(labelled, { count: COUNT_DRAWN, random: options.streams(options.seed, options.label) }, count);
  const share = (found: number): number => (isExact ? found / total : (1 + found) / (COUNT_DRAWN + 1));
  let reached = 0;
  for (const m of order) {
    raw[m] = share(countRaw[m]!);
    reached = Math.max(reached, share(countMax[m]!));
    adjusted[m] = reached;
  }
  const { isScatterUnequal: isForAll = false } = options;
  const unequal = raisedForUnequalScatter(measures, { kept, groups, isForAll }, adjusted);
  return {
    p: raw,
    adjusted,
    countArrangements: isExact ? total : COUNT_DRAWN,
    method: isExact ? "exact" : "drawn",
    ...(isExact ? {} : { seed: options.seed }),
    leftOut,
    unequal,
  };
}

/** Raises the adjusted p of measures with unequal scatter to Holm's of Welch's p, where relabelling alone claims too much. */
function raisedForUnequalScatter(
  measures: readonly Values[],
  o: { readonly kept: readonly number[]; readonly groups: Uint8Array; readonly isForAll: boolean },
  out: Float64Array,
): readonly number[] {
  const split = o.kept.map((m) => ({
    m,
    a: Float64Array.from(measures[m]!).filter((_, k) => o.groups[k] === 0),
    b: Float64Array.from(measures[m]!).filter((_, k) => o.groups[k] === 1),
  }));
  const ofWelch = holm(
    split.map(({ a, b }) => {
      const difference = welch(a, b, { least: 2 });
      return difference.kind === "withheld" ? 1 : difference.p;
    }),
  );
  return split.flatMap(({ m, a, b }, place) => {
    if (!o.isForAll && !isScatterUnequal(a, b)) return [];
    out[m] = Math.max(out[m]!, ofWelch[place]!);
    return [m];
  });
}
