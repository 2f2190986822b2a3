import { isAtLeastAsExtreme, MOST_EXACT } from "../difference/labellings.ts";
import type { DrawOptions } from "../difference/permutation.ts";
import type { Values } from "../samples.ts";
import { countOrders, drawnOrdersWithin, eachOrderWithin, strataOf } from "./orders.ts";
import { rankVectors, statisticOf } from "./rank-correlation.ts";

const COUNT_DRAWN = 10_000;

export interface AssociationFamily {
  /** Raw and adjusted two-sided p, in the order of the measures; NaN for measures that left the family. */
  readonly p: Float64Array<ArrayBuffer>;
  readonly adjusted: Float64Array<ArrayBuffer>;
  /** Σ (n_c - 1) ρ_c of each measure: over n - 1 it is ρ where there is one condition. NaN for measures that left the family. */
  readonly statistic: Float64Array<ArrayBuffer>;
  readonly countArrangements: number;
  readonly method: "exact" | "drawn";
  readonly seed?: number;
  /** Measures with a missing value where the outcome is known: they share no orders with the others. */
  readonly leftOut: readonly number[];
}

/**
 * Step-down maximum over measures looked at against one outcome, with common orders of the outcome (Westfall & Young 1993): statistic
 * |Σ (n_c - 1) ρ_c|, permuted within conditions.
 *
 * @param measures  one array of all shots a measure, the same shots in the same order
 * @param outcome   one value a shot; shots with NaN are left out of all measures
 * @param options   `conditions`: condition of each shot; seed, streams and label of the family
 */
export function associationFamily(
  measures: readonly Values[],
  outcome: Values,
  options: DrawOptions & { readonly conditions?: Values },
): AssociationFamily {
  const { conditions } = options;
  const shots = Array.from(outcome, (_, k) => k).filter((k) => !Number.isNaN(outcome[k]!));
  const of = (values: Values): number[] => shots.map((k) => values[k]!);
  const strata = strataOf(shots.length, conditions && of(conditions));
  const kept = measures.map(of);
  const leftOut = kept.flatMap((values, m) => (values.some(Number.isNaN) ? [m] : []));
  const vectors = kept.map((values) => rankVectors(values, of(outcome), strata));
  const observed = vectors.map((one) => Math.abs(statisticOf(one)));
  const falling = kept
    .flatMap((_, m) => (leftOut.includes(m) ? [] : [m]))
    .sort((i, j) => observed[j]! - observed[i]! || i - j);
  const raw = new Float64Array(measures.length).fill(Number.NaN);
  const adjusted = new Float64Array(measures.length).fill(Number.NaN);
  const countRaw = new Float64Array(measures.length);
  const countMax = new Float64Array(measures.length);
  const count = (order: Int32Array): void => {
    let largest = 0;
    for (let r = falling.length - 1; r >= 0; r--) {
      const m = falling[r]!;
      const statistic = Math.abs(statisticOf(vectors[m]!, order));
      largest = Math.max(largest, statistic);
      if (isAtLeastAsExtreme(statistic, observed[m]!)) countRaw[m]!++;
      if (isAtLeastAsExtreme(largest, observed[m]!)) countMax[m]!++;
    }
  };
  const total = countOrders(strata);
  const isExact = total <= MOST_EXACT;
  if (isExact) eachOrderWithin(strata, count);
  else drawnOrdersWithin(strata, { count: COUNT_DRAWN, random: options.streams(options.seed, options.label) }, count);
  const share = (found: number): number => (isExact ? found / total : (1 + found) / (COUNT_DRAWN + 1));
  let reached = 0;
  for (const m of falling) {
    raw[m] = share(countRaw[m]!);
    reached = Math.max(reached, share(countMax[m]!));
    adjusted[m] = reached;
  }
  return {
    p: raw,
    adjusted,
    statistic: Float64Array.from(vectors, (one, m) => (leftOut.includes(m) ? Number.NaN : statisticOf(one))),
    countArrangements: isExact ? total : COUNT_DRAWN,
    method: isExact ? "exact" : "drawn",
    ...(isExact ? {} : { seed: options.seed }),
    leftOut,
  };
}
