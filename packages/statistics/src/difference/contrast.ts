import { fTails } from "../distributions/f-distribution.ts";
import { type EstimateOptions, LEVEL_OF_ONE, type Looks, ONE_LOOK, type Withheld } from "../estimate.ts";
import { mean, type Values, validValues, variance } from "../samples.ts";
import { satterthwaiteNu } from "../scatter/shot-against-shot.ts";
import { leastSquares } from "../trend/least-squares.ts";
import { countConditionLabellings, drawnConditionLabellings, eachConditionLabelling } from "./condition-labellings.ts";
import { isAtLeastAsExtreme, type Labelled, MOST_EXACT } from "./labellings.ts";
import { holm } from "./multiplicity.ts";
import { type DrawOptions, drawnP, type PermutationP, permutationP } from "./permutation.ts";
import { type Difference, type DifferenceOptions, differenceFrom, welch } from "./welch.ts";

const LEAST_FOR_DIFFERENCE = 3;
const COUNT_DRAWN = 10_000;
/** Cells (reference, B), (reference, B) at two levels of the other factor: the difference of their differences. */
const INTERACTION = [1, -1, -1, 1] as const;

/** Mean and its squared error of the values of one condition. */
interface Cell {
  readonly mean: number;
  readonly variance: number;
  readonly nu: number;
}

function cellOf(values: Values): Cell {
  return { mean: mean(values), variance: variance(values) / values.length, nu: values.length - 1 };
}

/** Σ c x̄ with its squared error and degrees of freedom. */
function contrastOf(cells: readonly Cell[], weights: readonly number[]): { value: number; se: number; nu: number } {
  const parts = cells.map((cell, c) => ({ variance: weights[c]! ** 2 * cell.variance, nu: cell.nu }));
  return {
    value: cells.reduce((sum, cell, c) => sum + weights[c]! * cell.mean, 0),
    se: Math.sqrt(parts.reduce((sum, part) => sum + part.variance, 0)),
    nu: satterthwaiteNu(parts.filter((part) => part.variance > 0)),
  };
}

/**
 * Contrast of k conditions, L = Σ c x̄, its error Σ c² s²/n without pooling, ν' by Satterthwaite.
 *
 * @param groups   values of each condition, unit of the measure; NaN is left out
 * @param weights  one a condition, sum 0; a condition of weight 0 does not count
 * @returns        `withheld` below 3 values in a condition that counts, or without scatter
 */
export function contrast(
  groups: readonly Values[],
  weights: readonly number[],
  options: DifferenceOptions = {},
): Difference | Withheld {
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  if (weights.length !== groups.length || !(Math.abs(total) < 1e-9))
    throw new RangeError(`weights ${weights.join(", ")} are no contrast of ${groups.length} conditions`);
  const counted = weights.flatMap((weight, c) => (weight === 0 ? [] : [c]));
  const valid = counted.map((c) => validValues(groups[c]!));
  const n = valid.map((values) => values.length);
  const least = options.least ?? LEAST_FOR_DIFFERENCE;
  if (n.length === 0 || n.some((count) => count < least))
    return { kind: "withheld", reason: "too-few", n, needed: least };
  const cells = valid.map(cellOf);
  if (cells.every((cell) => cell.variance === 0)) return { kind: "withheld", reason: "no-scatter", n };
  const made = contrastOf(
    cells,
    counted.map((c) => weights[c]!),
  );
  const countMissing = counted.map((c, at) => groups[c]!.length - n[at]!);
  return differenceFrom({ ...made, n, countMissing, method: "contrast" }, options);
}

/** A 2 × 2 interaction: what one factor does at one level of the other, less what it does at the other. */
export interface Interaction {
  readonly kind: "interaction";
  readonly difference: Difference;
  /** Two-sided, by permuted residuals. */
  readonly p: number;
  readonly countArrangements: number;
  readonly seed: number;
}

function splitBy(values: Values, groups: Values, countGroups: number): number[][] {
  const split = Array.from({ length: countGroups }, (): number[] => []);
  for (let k = 0; k < values.length; k++) split[groups[k]!]!.push(values[k]!);
  return split;
}

/**
 * Interaction of two factors at two levels (shot by lie): contrast (1, -1, -1, 1) of the four cells, p by permuting the residuals of the additive
 * model (Freedman & Lane 1983), |t| of the contrast as statistic, 10,000 permutations, p = (1 + count)/(B + 1).
 *
 * @param values  all shots, no NaN
 * @param cells   0, 1: both levels of the first factor at the reference level of the second; 2, 3: the same at the other
 */
export function interaction(
  values: Values,
  cells: Values,
  options: DifferenceOptions & DrawOptions,
): Interaction | Withheld {
  const found = contrast(splitBy(values, cells, 4), INTERACTION, options);
  if (found.kind === "withheld") return found;
  const levels = [0, 1].map((bit) => Float64Array.from(cells, (cell) => (cell >> bit) & 1));
  const additive = leastSquares(values, levels);
  const residuals = Array.from(additive.residuals);
  const fitted = Float64Array.from(values, (value, k) => value - residuals[k]!);
  const random = options.streams(options.seed, options.label);
  // The fitted values have no interaction of their own, so t is about 0 here whatever the null difference of the report.
  const tOf = (drawn: Values): number => {
    const { value, se } = contrastOf(splitBy(drawn, cells, 4).map(cellOf), INTERACTION);
    return value === 0 ? 0 : Math.abs(value) / se;
  };
  const observed = tOf(values);
  const shuffled = residuals.slice();
  let extreme = 0;
  for (let b = 0; b < COUNT_DRAWN; b++) {
    random.shuffle(shuffled);
    if (isAtLeastAsExtreme(tOf(fitted.map((value, k) => value + shuffled[k]!)), observed)) extreme++;
  }
  const p = (1 + extreme) / (COUNT_DRAWN + 1);
  return { kind: "interaction", difference: found, p, countArrangements: COUNT_DRAWN, seed: options.seed };
}

/** Welch's F of k means with unequal scatter. */
export interface WelchF {
  readonly f: number;
  readonly nuBetween: number;
  readonly nuWithin: number;
  /** By the F distribution. */
  readonly p: number;
}

function welchFOf(cells: readonly Cell[]): WelchF {
  const k = cells.length;
  const weights = cells.map((cell) => 1 / cell.variance);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const centre = cells.reduce((sum, cell, c) => sum + weights[c]! * cell.mean, 0) / total;
  const between = cells.reduce((sum, cell, c) => sum + weights[c]! * (cell.mean - centre) ** 2, 0) / (k - 1);
  const spread = cells.reduce((sum, cell, c) => sum + (1 - weights[c]! / total) ** 2 / cell.nu, 0);
  const f = between / (1 + (2 * (k - 2) * spread) / (k * k - 1));
  const nuWithin = (k * k - 1) / (3 * spread);
  return { f, nuBetween: k - 1, nuWithin, p: fTails(f, k - 1, nuWithin).upper };
}

/**
 * Welch's F of several means without pooling their scatter (Welch 1951).
 *
 * @param groups  3 values or more each; NaN is left out
 * @returns       `withheld` below that, for fewer than two groups, or where one has no scatter
 */
export function welchF(groups: readonly Values[]): ({ readonly kind: "welch-f" } & WelchF) | Withheld {
  const valid = groups.map(validValues);
  const n = valid.map((values) => values.length);
  if (n.length < 2 || Math.min(...n) < LEAST_FOR_DIFFERENCE)
    return { kind: "withheld", reason: "too-few", n, needed: LEAST_FOR_DIFFERENCE };
  const cells = valid.map(cellOf);
  if (cells.some((cell) => cell.variance === 0)) return { kind: "withheld", reason: "no-scatter", n };
  return { kind: "welch-f", ...welchFOf(cells) };
}

/** Two of k conditions, and p after Holm over all pairs. */
export interface PairOfConditions {
  readonly a: number;
  readonly b: number;
  readonly difference: Difference;
  readonly permutation: PermutationP;
  readonly adjustedP: number;
}

/** Whether k conditions differ at all, then which. */
export interface AnyDifference {
  readonly kind: "any-difference";
  readonly welchF: WelchF;
  /** By labels, Welch's F as statistic. */
  readonly p: number;
  readonly arrangements: "exact" | "drawn";
  readonly countArrangements: number;
  readonly seed?: number;
  /** All pairs, one family. Read only where `p` reaches the level. */
  readonly pairs: readonly PairOfConditions[];
  readonly n: readonly number[];
  readonly levelOfOne: number;
  readonly looks: Looks;
}

function labelledP(values: Values, labelled: Labelled, options: DrawOptions & { readonly countConditions: number }) {
  const fOf = (groups: Values): number => {
    const cells = splitBy(values, groups, options.countConditions).map(cellOf);
    // A labelling that leaves a condition without scatter separates it perfectly, or says nothing.
    return cells.some((cell) => cell.variance === 0) ? Number.POSITIVE_INFINITY : welchFOf(cells).f;
  };
  const observed = fOf(labelled.groups);
  const total = countConditionLabellings(labelled);
  let extreme = 0;
  const count = (groups: Values): void => {
    if (isAtLeastAsExtreme(fOf(groups), observed)) extreme++;
  };
  if (total <= MOST_EXACT) {
    eachConditionLabelling(labelled, count);
    return { p: extreme / total, arrangements: "exact", countArrangements: total } as const;
  }
  const [p, countArrangements] = drawnP(
    (countDrawn, random) => {
      extreme = 0;
      drawnConditionLabellings(labelled, { count: countDrawn, random }, count);
      return extreme;
    },
    options.streams(options.seed, options.label),
  );
  return { p, arrangements: "drawn", countArrangements, seed: options.seed } as const;
}

function pairsOf(
  values: Values,
  labelled: Labelled,
  options: DifferenceOptions & DrawOptions & { readonly countConditions: number },
) {
  const found: Omit<PairOfConditions, "adjustedP">[] = [];
  for (let a = 0; a < options.countConditions; a++) {
    for (let b = a + 1; b < options.countConditions; b++) {
      const kept = Array.from(values, (_, k) => k).filter((k) => labelled.groups[k] === a || labelled.groups[k] === b);
      const groups = kept.map((k) => (labelled.groups[k] === a ? 0 : 1));
      const pair = kept.map((k) => values[k]!);
      const [ofA, ofB] = splitBy(pair, groups, 2) as [number[], number[]];
      const difference = welch(ofA, ofB, options);
      if (difference.kind === "withheld") continue;
      const { blocks } = labelled;
      const two = { groups, ...(blocks === undefined ? {} : { blocks: kept.map((k) => blocks[k]!) }) };
      const permutation = permutationP(pair, two, { ...options, label: `${options.label}/${a}/${b}` });
      found.push({ a, b, difference, permutation });
    }
  }
  const adjusted = holm(found.map(({ permutation }) => permutation.p));
  return found.map((pair, at) => ({ ...pair, adjustedP: adjusted[at]! }));
}

/**
 * k conditions of one measure: Welch's F by labels, then each pair by its own labels, the pairs by Holm.
 *
 * @param values    all shots, no NaN
 * @param labelled  condition 0 .. k-1 of each shot, and the blocks of the plan
 */
export function anyDifference(
  values: Values,
  labelled: Labelled,
  options: EstimateOptions & DrawOptions,
): AnyDifference | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK } = options;
  const countConditions = Math.max(-1, ...Array.from(labelled.groups)) + 1;
  const groups = splitBy(values, labelled.groups, countConditions);
  const n = groups.map((group) => group.length);
  const found = welchF(groups);
  if (found.kind === "withheld") return found;
  const { kind: _, ...f } = found;
  return {
    kind: "any-difference",
    welchF: f,
    ...labelledP(values, labelled, { ...options, countConditions }),
    pairs: pairsOf(values, labelled, { ...options, countConditions }),
    n,
    levelOfOne,
    looks,
  };
}
