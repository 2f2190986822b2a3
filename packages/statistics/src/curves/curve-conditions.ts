import type { Labelled } from "../difference/labellings.ts";
import { holm } from "../difference/multiplicity.ts";
import { checkedLevel, type EstimateOptions, LEVEL_OF_ONE, type Looks, ONE_LOOK, type Withheld } from "../estimate.ts";
import type { Values } from "../samples.ts";
import { curveScatter } from "../scatter/t-field.ts";
import { type CurveComparison, curveDifference } from "./curve-difference.ts";
import { conditionRows, type DrawnRows } from "./label-rows.ts";
import { adjustedP, permutationSample, permutationThreshold } from "./permutation-sample.ts";
import { type ComparedCurve, curvesOf } from "./pointwise-t.ts";
import { conditionSums, leastShare, raiseLargestF } from "./scaled-sums.ts";

const LEAST_CURVES = 4;

/** Two of the conditions, judged by their own labellings. */
export interface ConditionPair {
  readonly a: number;
  readonly b: number;
  readonly comparison: CurveComparison;
  /** p of the pair's largest |t| after Holm over all pairs. */
  readonly adjustedP: number;
}

/** Whether curves of several conditions differ anywhere, then which pairs do. */
export interface CurveConditions {
  readonly kind: "curve-conditions";
  /** F at each point of each curve, with the measurement noise in its denominator; NaN where a shot lacks the point. */
  readonly f: readonly Float64Array<ArrayBuffer>[];
  readonly adjustedP: readonly Float64Array<ArrayBuffer>[];
  /** p of the largest F of all points and curves. */
  readonly p: number;
  readonly threshold: number;
  /** Every pair, one family. Read only where `p` reaches the level. */
  readonly pairs: readonly ConditionPair[];
  readonly n: readonly number[];
  readonly arrangements: "exact" | "drawn";
  readonly countArrangements: number;
  readonly seed?: number;
  readonly levelOfOne: number;
  readonly looks: Looks;
  readonly method: "max-f";
}

/** F = (Σ n_g (x̄_g - x̄)²/(k-1)) / (Σ SS_g/(N-k) + sigma²) at each point. */
function fAtPoints(curve: ComparedCurve, groups: Values, counts: readonly number[]): Float64Array<ArrayBuffer> {
  const k = counts.length;
  const scatters = counts.map((_, g) => curveScatter(curvesOf(curve, groups, g)));
  const N = groups.length;
  return Float64Array.from({ length: curve.countPoints }, (_, q) => {
    const centre = scatters.reduce((sum, { mean }, g) => sum + counts[g]! * mean[q]!, 0) / N;
    const between = scatters.reduce((sum, { mean }, g) => sum + counts[g]! * (mean[q]! - centre) ** 2, 0);
    const within = scatters.reduce((sum, { sd }, g) => sum + (counts[g]! - 1) * sd[q]! ** 2, 0);
    const meanSquare = within / (N - k) + (curve.sigma?.[q] ?? 0) ** 2;
    if (between === 0) return 0;
    // As for labellings without scatter: the smallest share of what can lie within.
    return between / (k - 1) / Math.max(meanSquare, (leastShare(0) * (between + within)) / (N - k));
  });
}

/** Largest of the values that are numbers; 0 where none is. */
function largestOf(values: Float64Array): number {
  return values.reduce((largest, value) => (Number.isNaN(value) ? largest : Math.max(largest, value)), 0);
}

/** Two conditions' shots as A and B, with their blocks. */
function pairOf(
  curves: readonly ComparedCurve[],
  labelled: Labelled,
  [a, b]: readonly [number, number],
): { readonly curves: readonly ComparedCurve[]; readonly labelled: Labelled } {
  const kept = Array.from(labelled.groups, (_, k) => k).filter(
    (k) => labelled.groups[k] === a || labelled.groups[k] === b,
  );
  const isKept = Array.from(labelled.groups, (group) => (group === a || group === b ? 1 : 0));
  return {
    curves: curves.map((curve) => curvesOf(curve, isKept, 1)),
    labelled: {
      groups: kept.map((k) => (labelled.groups[k] === a ? 0 : 1)),
      ...(labelled.blocks === undefined ? {} : { blocks: kept.map((k) => labelled.blocks![k]!) }),
    },
  };
}

function allPairs(
  curves: readonly ComparedCurve[],
  labelled: Labelled,
  o: { readonly countConditions: number; readonly options: EstimateOptions & DrawnRows },
): readonly ConditionPair[] {
  const pairs = Array.from({ length: o.countConditions }, (_, a) =>
    Array.from({ length: o.countConditions - a - 1 }, (__, k) => [a, a + k + 1] as const),
  ).flat();
  const compared = pairs.flatMap(([a, b]) => {
    const two = pairOf(curves, labelled, [a, b]);
    const label = `${o.options.label}/${a}/${b}`;
    const comparison = curveDifference(two.curves, two.labelled, { ...o.options, label });
    return comparison.kind === "withheld" ? [] : [{ a, b, comparison }];
  });
  const adjusted = holm(compared.map(({ comparison }) => comparison.p));
  return compared.map((pair, place) => ({ ...pair, adjustedP: adjusted[place]! }));
}

/**
 * Curves of k conditions: largest F over all points and curves under relabelling, then each pair by its own largest |t|, the pairs by Holm.
 *
 * @param curves    one family: the same shots in the same order
 * @param labelled  condition 0 .. k-1 of each shot, and the blocks of the plan
 * @returns         `withheld` where a condition has fewer than 4 curves or there are fewer than two conditions
 */
export function curveConditions(
  curves: readonly ComparedCurve[],
  labelled: Labelled,
  options: EstimateOptions & DrawnRows & { readonly leastCurves?: number },
): CurveConditions | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK, leastCurves = LEAST_CURVES } = options;
  const { groups } = labelled;
  const countConditions = Math.max(-1, ...Array.from(groups)) + 1;
  const n = Array.from({ length: countConditions }, (_, g) => Array.from(groups).filter((one) => one === g).length);
  if (n.length < 2 || Math.min(...n) < leastCurves)
    return { kind: "withheld", reason: "too-few", n, needed: leastCurves };
  const rows = conditionRows(labelled, countConditions, options);
  const largest = new Float64Array(rows[0]!.countRows);
  for (const { values, countPoints, sigma } of curves) {
    const floor = Float64Array.from({ length: countPoints }, (_, q) => (sigma?.[q] ?? 0) ** 2);
    raiseLargestF(conditionSums({ values, countPoints, floor }, countConditions), { rows, counts: n }, largest);
  }
  const sample = permutationSample(largest);
  const f = curves.map((curve) => fAtPoints(curve, groups, n));
  const adjusted = f.map((one) => one.map((value) => adjustedP(sample, value)));
  const { method, countRows, seed } = rows[0]!;
  return {
    kind: "curve-conditions",
    f,
    adjustedP: adjusted,
    p: adjustedP(sample, Math.max(...f.map(largestOf))),
    threshold: permutationThreshold(sample, 1 - checkedLevel(levelOfOne)),
    pairs: allPairs(curves, labelled, { countConditions, options }),
    n,
    arrangements: method,
    countArrangements: countRows,
    ...(seed === undefined ? {} : { seed }),
    levelOfOne,
    looks,
    method: "max-f",
  };
}
