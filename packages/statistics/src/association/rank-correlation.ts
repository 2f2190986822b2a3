import { isAtLeastAsExtreme } from "../difference/labellings.ts";
import type { DrawOptions } from "../difference/permutation.ts";
import { normalQuantile } from "../distributions/normal.ts";
import {
  checkedLevel,
  type Estimate,
  type EstimateOptions,
  LEVEL_OF_ONE,
  ONE_LOOK,
  type Withheld,
} from "../estimate.ts";
import type { Values } from "../samples.ts";
import { kendallTest } from "../trend/kendall.ts";
import { midRanks } from "./mid-ranks.ts";
import { orderP, type Strata, strataOf } from "./orders.ts";

/** Least shots for a coefficient (own choice). */
const LEAST_FOR_COEFFICIENT = 8;
/** Least shots for an interval and for words (own choice). */
const LEAST_FOR_WORDS = 10;
/** Below this many shots the variance 1/(n - 3) of one condition does not exist. */
const LEAST_FOR_FISHER = 4;

/** How far one thing goes with another in the shots of one player. Not a cause, and no rule for other players. */
export interface RankCorrelation extends Estimate {
  readonly kind: "rank-correlation";
  /** Two-sided. */
  readonly p: number;
  readonly pMethod: string;
  /** Enough shots for a sentence. */
  readonly isEnoughForWords: boolean;
  /** Pairs without a number on one side. */
  readonly countMissing: number;
}

export interface SpearmanCorrelation extends RankCorrelation {
  /** Σ (n_c - 1) ρ_c: what was permuted. */
  readonly statistic: number;
  /** Coefficient of each condition; NaN where one side does not vary in it. */
  readonly perCondition: readonly { readonly n: number; readonly rho: number }[];
}

export interface AssociationOptions extends EstimateOptions, DrawOptions {
  /** Condition of each shot: permuted within only, so that the intent asked for does not pose as a cause. */
  readonly conditions?: Values;
  /** Least pairs; 8 by default. */
  readonly least?: number;
}

/** Mid-ranks of one stratum less their mean, scaled to length 1; all 0 where nothing varies. */
function unitRanks(values: Values, strata: Strata): Float64Array<ArrayBuffer> {
  const unit = new Float64Array(values.length);
  for (const shots of strata) {
    const ranks = midRanks(shots.map((k) => values[k]!));
    const centre = (shots.length + 1) / 2;
    const length = Math.sqrt(ranks.reduce((sum, rank) => sum + (rank - centre) ** 2, 0));
    shots.forEach((k, place) => {
      unit[k] = length === 0 ? 0 : (ranks[place]! - centre) / length;
    });
  }
  return unit;
}

/** Two vectors whose product over any order of the second is Σ_c (n_c - 1) ρ_c. */
export interface RankVectors {
  readonly weighted: Float64Array<ArrayBuffer>;
  readonly unit: Float64Array<ArrayBuffer>;
}

export function rankVectors(x: Values, y: Values, strata: Strata): RankVectors {
  const weighted = unitRanks(x, strata);
  for (const shots of strata) for (const k of shots) weighted[k]! *= shots.length - 1;
  return { weighted, unit: unitRanks(y, strata) };
}

export function statisticOf({ weighted, unit }: RankVectors, order?: Int32Array): number {
  let sum = 0;
  for (let k = 0; k < weighted.length; k++) sum += weighted[k]! * unit[order === undefined ? k : order[k]!]!;
  return sum;
}

function conditionsOfKept(x: Values, y: Values, conditions?: Values): { x: number[]; y: number[]; strata: Strata } {
  if (x.length !== y.length || (conditions !== undefined && conditions.length !== x.length))
    throw new RangeError(`${x.length} values, ${y.length} outcomes and ${conditions?.length ?? x.length} conditions`);
  const kept = Array.from(x, (_, k) => k).filter((k) => !Number.isNaN(x[k]!) && !Number.isNaN(y[k]!));
  return {
    x: kept.map((k) => x[k]!),
    y: kept.map((k) => y[k]!),
    strata: strataOf(kept.length, conditions && kept.map((k) => conditions[k]!)),
  };
}

/** tanh(atanh ρ ± z √((1 + ρ²/2)/Σ(n_c - 3))); Bonett & Wright 2000 for one condition, its sum over conditions an own extension. */
function limits(rho: number, strata: Strata, levelOfOne: number): [number, number] {
  const counted = strata.filter(({ length }) => length >= LEAST_FOR_FISHER);
  const information = counted.reduce((sum, { length }) => sum + length - 3, 0);
  const total = strata.reduce((sum, { length }) => sum + length, 0);
  if (total < LEAST_FOR_WORDS || information === 0) return [Number.NaN, Number.NaN];
  const half = normalQuantile((1 + levelOfOne) / 2) * Math.sqrt((1 + rho ** 2 / 2) / information);
  const centre = Math.atanh(Math.max(-1, Math.min(1, rho)));
  return [Math.tanh(centre - half), Math.tanh(centre + half)];
}

/**
 * Spearman's ρ, Pearson's coefficient of mid-ranks, of a measure with an outcome; over several conditions Σ (n_c - 1) ρ_c, each condition ranked
 * and permuted by itself, reported as its share of the largest possible. Two-sided p over all orders up to 100,000 (8 shots), ties kept,
 * else over drawn ones.
 *
 * @param x  measure, one value a shot; a pair with NaN is left out
 * @param y  outcome of the same shots, an ordered scale is enough
 * @returns  ρ without unit. `low` and `high` are NaN below 10 shots. `withheld`: fewer than 8 pairs, or one side never varies
 */
export function spearman(x: Values, y: Values, options: AssociationOptions): SpearmanCorrelation | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK, least = LEAST_FOR_COEFFICIENT } = options;
  checkedLevel(levelOfOne);
  const kept = conditionsOfKept(x, y, options.conditions);
  const n = kept.strata.map(({ length }) => length);
  if (kept.x.length < least) return { kind: "withheld", reason: "too-few", n, needed: least };
  const vectors = rankVectors(kept.x, kept.y, kept.strata);
  const varies = (shots: readonly number[]): boolean =>
    shots.some((k) => vectors.weighted[k] !== 0) && shots.some((k) => vectors.unit[k] !== 0);
  const counted = kept.strata.filter(varies);
  if (counted.length === 0) return { kind: "withheld", reason: "no-scatter", n };
  const statistic = statisticOf(vectors);
  const value = statistic / counted.reduce((sum, { length }) => sum + length - 1, 0);
  const [low, high] = limits(value, counted, levelOfOne);
  const isExtreme = (order: Int32Array): boolean =>
    isAtLeastAsExtreme(Math.abs(statisticOf(vectors, order)), Math.abs(statistic));
  const made = orderP(kept.strata, isExtreme, () => options.streams(options.seed, options.label));
  return {
    kind: "rank-correlation",
    value,
    low,
    high,
    levelOfOne,
    n,
    method: kept.strata.length > 1 ? "spearman-stratified" : "spearman",
    looks,
    ...made,
    ...(made.pMethod === "drawn" ? { seed: options.seed } : {}),
    isEnoughForWords: kept.x.length >= LEAST_FOR_WORDS,
    countMissing: x.length - kept.x.length,
    statistic,
    perCondition: kept.strata.map((shots) => ({
      n: shots.length,
      rho: varies(shots)
        ? shots.reduce((sum, k) => sum + vectors.weighted[k]! * vectors.unit[k]!, 0) / (shots.length - 1)
        : Number.NaN,
    })),
  };
}

/** Pairs tied in one variable, Σ t (t - 1)/2. */
function countTiedPairs(values: Values): number {
  const counts = new Map<number, number>();
  for (let k = 0; k < values.length; k++) counts.set(values[k]!, (counts.get(values[k]!) ?? 0) + 1);
  return [...counts.values()].reduce((sum, t) => sum + (t * (t - 1)) / 2, 0);
}

/**
 * Kendall's τ_b = (C - D)/√((n0 - n1)(n0 - n2)), n0 pairs, n1 and n2 of them tied. p of the score: exact without ties, with ties over all
 * orders up to 8 shots, else over 10,000 drawn ones.
 *
 * @param x  measure, one value a shot; a pair with NaN is left out
 * @param y  outcome of the same shots
 * @returns  τ_b without unit and without an interval (NaN). `withheld`: fewer than 8 pairs, or one side never varies
 */
export function kendall(
  x: Values,
  y: Values,
  options: Omit<AssociationOptions, "conditions">,
): RankCorrelation | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK, least = LEAST_FOR_COEFFICIENT } = options;
  const kept = conditionsOfKept(x, y);
  const n = [kept.x.length];
  if (kept.x.length < least) return { kind: "withheld", reason: "too-few", n, needed: least };
  const pairs = (kept.x.length * (kept.x.length - 1)) / 2;
  const scale = Math.sqrt((pairs - countTiedPairs(kept.x)) * (pairs - countTiedPairs(kept.y)));
  if (scale === 0) return { kind: "withheld", reason: "no-scatter", n };
  const test = kendallTest(kept.x, kept.y, options.streams(options.seed, options.label));
  const isDrawn = test.method === "kendall-shuffles";
  return {
    kind: "rank-correlation",
    value: test.score / scale,
    low: Number.NaN,
    high: Number.NaN,
    levelOfOne,
    n,
    method: "kendall-tau-b",
    looks,
    p: test.p,
    pMethod: test.method,
    ...(test.countArrangements === undefined ? {} : { countArrangements: test.countArrangements }),
    ...(isDrawn ? { seed: options.seed } : {}),
    isEnoughForWords: kept.x.length >= LEAST_FOR_WORDS,
    countMissing: x.length - kept.x.length,
  };
}
