import { holm } from "../difference/multiplicity.ts";
import type { DrawOptions } from "../difference/permutation.ts";
import { type Difference, welch } from "../difference/welch.ts";
import { type Estimate, type EstimateOptions, LEVEL_OF_ONE, ONE_LOOK, type Withheld } from "../estimate.ts";
import { mean, type Values } from "../samples.ts";
import { ownValues, type PlayersColumns, type PlayersData, type PlayersShots, playersData } from "./players-data.ts";
import {
  cellOf,
  fixedColumns,
  type PlayersFinding,
  type PlayersModel,
  type PlayersRandom,
  playersModel,
} from "./players-model.ts";
import { type PredictionTarget, predictions } from "./predictions.ts";
import { fixedContrasts, type TestedEstimate, type VarianceKnowledge, varianceKnowledge } from "./satterthwaite.ts";
import { type TwoStage, twoStage } from "./two-stage.ts";

/** Fewer players than this: each by itself, and no sentence about players in general. */
const LEAST_PLAYERS = 5;
const ALPHA_OF_ONE = 0.05;

/** One player's own difference, as it is and pulled toward the group as far as few shots leave it uncertain. */
export interface OwnDifference {
  readonly player: number;
  /** Shots in either condition. */
  readonly n: readonly [number, number];
  /** Difference of own means; NaN without shots in both. */
  readonly own: number;
  /** Undefined where the model has no reaction of the players' own, or finds none: its interval would then be the group's. */
  readonly pulled: TestedEstimate | undefined;
}

/** One condition against another over players, by the model and by the two-stage check. */
export interface PlayersContrast {
  /** Names of the conditions: `to` minus `from`. */
  readonly from: number;
  readonly to: number;
  readonly model: Estimate & TestedEstimate;
  readonly twoStage: TwoStage | Withheld;
  /** Holm over the pairs of conditions. */
  readonly adjustedP: { readonly model: number; readonly twoStage: number };
  /** Both below or both above 0.05; false where the check is withheld. */
  readonly agrees: boolean;
  /** The p to be quoted: the model's, or the two-stage one where they do not agree. Adjusted. */
  readonly quotedP: number;
  readonly players: readonly OwnDifference[];
}

/** Several players, as far as so many can be spoken of. */
export type PlayersComparison =
  | {
      /** One to four players: each player's own comparison, side by side. */
      readonly kind: "each-player";
      readonly players: readonly { readonly player: number; readonly contrasts: readonly OwnContrast[] }[];
      readonly countMissing: number;
    }
  | {
      /** Every player in one condition only: player means, players as units. */
      readonly kind: "between-players";
      readonly contrasts: readonly OwnContrast[];
      readonly counts: readonly (readonly number[])[];
      readonly countMissing: number;
    }
  | {
      readonly kind: "players";
      readonly conditions: readonly number[];
      readonly contrasts: readonly PlayersContrast[];
      /** Each player's level in the reference condition, other columns at their means. */
      readonly levels: readonly { readonly player: number; readonly pulled: TestedEstimate }[];
      /** Shot number first, where it is in the model, then the columns given: kept whatever their p. */
      readonly covariates: readonly TestedEstimate[];
      readonly scatter: Omit<PlayersModel, "model" | "findings">;
      /** Shots of each player (rows) in each condition (columns). */
      readonly counts: readonly (readonly number[])[];
      readonly countMissing: number;
      /** -2 log of the restricted likelihood. */
      readonly criterion: number;
      readonly findings: readonly PlayersFinding[];
    };

export interface OwnContrast {
  readonly from: number;
  readonly to: number;
  readonly difference: Difference | Withheld;
}

export interface PlayersOptions extends EstimateOptions, DrawOptions, PlayersColumns {
  /** Left out: what the counts allow. */
  readonly random?: PlayersRandom;
}

/** All pairs of conditions, the earlier as reference. */
function pairsOf({ conditions }: PlayersData): readonly (readonly [number, number])[] {
  return conditions.flatMap((_, a) => conditions.slice(a + 1).map((_, b) => [a, a + 1 + b] as const));
}

function eachPlayer(data: PlayersData, options: EstimateOptions): PlayersComparison {
  const players = data.players.map((player, place) => ({
    player,
    contrasts: pairsOf(data).map(
      ([a, b]): OwnContrast => ({
        from: data.conditions[a]!,
        to: data.conditions[b]!,
        difference: welch(ownValues(data, place, a), ownValues(data, place, b), options),
      }),
    ),
  }));
  return { kind: "each-player", players, countMissing: data.countMissing };
}

function betweenPlayers(data: PlayersData, options: EstimateOptions): PlayersComparison {
  const means = data.conditions.map((_, c) =>
    data.players.map((_, player) => mean(ownValues(data, player, c))).filter((one) => !Number.isNaN(one)),
  );
  const contrasts = pairsOf(data).map(
    ([a, b]): OwnContrast => ({
      from: data.conditions[a]!,
      to: data.conditions[b]!,
      difference: welch(means[a]!, means[b]!, options),
    }),
  );
  return { kind: "between-players", contrasts, counts: data.counts, countMissing: data.countMissing };
}

/** Weights of the fixed effects for the mean of a condition, other columns at 0. */
function conditionWeights(data: PlayersData, countFixed: number, condition: number): Float64Array<ArrayBuffer> {
  const weights = new Float64Array(countFixed);
  weights[0] = 1;
  if (condition > 0 && condition < data.conditions.length) weights[condition] = 1;
  return weights;
}

function contrastWeights(
  data: PlayersData,
  countFixed: number,
  [a, b]: readonly [number, number],
): Float64Array<ArrayBuffer> {
  const from = conditionWeights(data, countFixed, a);
  return conditionWeights(data, countFixed, b).map((one, j) => one - from[j]!);
}

/** A player's own difference of two conditions as fixed and random weights; undefined where players do not react in the model. */
function differenceTarget(
  data: PlayersData,
  o: {
    readonly random: PlayersRandom;
    readonly player: number;
    readonly pair: readonly [number, number];
    readonly fixed: Values;
  },
): PredictionTarget | undefined {
  const { random, player, pair, fixed } = o;
  if (random === "slope") return { fixed, random: [{ term: 0, level: player, column: 1, weight: 1 }] };
  if (random === "intercept") return undefined;
  return {
    fixed,
    random: [
      { term: 1, level: cellOf(data, player, pair[1]), weight: 1 },
      { term: 1, level: cellOf(data, player, pair[0]), weight: -1 },
    ],
  };
}

function ownDifferences(
  data: PlayersData,
  o: {
    readonly made: PlayersModel;
    readonly pair: readonly [number, number];
    readonly knowledge: VarianceKnowledge;
    readonly levelOfOne: number;
  },
): readonly OwnDifference[] {
  const { made, pair, knowledge, levelOfOne } = o;
  const fixed = contrastWeights(data, made.model.design.countFixed, pair);
  const isAlike = made.findings.some(({ code, what }) => code === "singular" && what === "reaction");
  const targets = (isAlike ? [] : data.players).flatMap((_, player) => {
    const target = differenceTarget(data, { random: made.random, player, pair, fixed });
    return target === undefined ? [] : [target];
  });
  const pulled = predictions(made.model, targets, { knowledge, levelOfOne });
  return data.players.map((player, place) => ({
    player,
    n: [data.counts[place]![pair[0]]!, data.counts[place]![pair[1]]!],
    own: mean(ownValues(data, place, pair[1])) - mean(ownValues(data, place, pair[0])),
    pulled: pulled[place],
  }));
}

function levelsOf(
  data: PlayersData,
  o: { readonly made: PlayersModel; readonly knowledge: VarianceKnowledge; readonly levelOfOne: number },
): readonly { readonly player: number; readonly pulled: TestedEstimate }[] {
  const { made, knowledge, levelOfOne } = o;
  // Other columns at their means; the shot number is centred, so its mean is 0 within each player.
  const fixed = Float64Array.from(fixedColumns(data), (column, j) =>
    j === 0 ? 1 : j < data.conditions.length ? 0 : mean(column),
  );
  const targets = data.players.map((_, player): PredictionTarget => {
    const own = { term: 0, level: player, weight: 1 };
    const cell = { term: 1, level: cellOf(data, player, 0), weight: 1 };
    return { fixed, random: made.random === "cell" ? [own, cell] : [own] };
  });
  const pulled = predictions(made.model, targets, { knowledge, levelOfOne });
  return data.players.map((player, place) => ({ player, pulled: pulled[place]! }));
}

/** Holm over the p that are there; NaN stays. */
function holmOfKnown(p: readonly number[]): readonly number[] {
  const known = p.flatMap((one, k) => (Number.isNaN(one) ? [] : [k]));
  const adjusted = holm(known.map((k) => p[k]!));
  const all = p.map(() => Number.NaN);
  known.forEach((k, place) => {
    all[k] = adjusted[place]!;
  });
  return all;
}

function contrastsOf(
  data: PlayersData,
  o: { readonly made: PlayersModel; readonly knowledge: VarianceKnowledge; readonly levelOfOne: number },
  options: PlayersOptions,
): readonly PlayersContrast[] {
  const { made, knowledge, levelOfOne } = o;
  const { looks = ONE_LOOK } = options;
  const { countFixed } = made.model.design;
  const pairs = pairsOf(data);
  const byModel = fixedContrasts(
    made.model,
    pairs.map((pair) => contrastWeights(data, countFixed, pair)),
    { levelOfOne, knowledge },
  );
  const checks = pairs.map((pair) =>
    twoStage(data, pair, { ...options, levelOfOne, looks, label: `${options.label}/${pair.join("/")}` }),
  );
  const modelP = holmOfKnown(byModel.map(({ p }) => p));
  const checkP = holmOfKnown(checks.map((check) => (check.kind === "withheld" ? Number.NaN : check.p)));
  return pairs.map((pair, k) => {
    const adjustedP = { model: modelP[k]!, twoStage: checkP[k]! };
    const agrees =
      !Number.isNaN(adjustedP.model + adjustedP.twoStage) &&
      adjustedP.model <= ALPHA_OF_ONE === adjustedP.twoStage <= ALPHA_OF_ONE;
    return {
      from: data.conditions[pair[0]]!,
      to: data.conditions[pair[1]]!,
      model: {
        ...byModel[k]!,
        levelOfOne,
        n: data.counts.map((row) => row[pair[0]]! + row[pair[1]]!),
        method: `reml-${made.random}`,
        looks,
      },
      twoStage: checks[k]!,
      adjustedP,
      agrees,
      quotedP: agrees ? adjustedP.model : adjustedP.twoStage,
      players: ownDifferences(data, { made, pair, knowledge, levelOfOne }),
    };
  });
}

/**
 * Whether something holds across players, as far as so many players can say it: up to four side by side; where every player has one condition
 * only, means of players against each other; else a mixed model by REML, and beside it always the two-stage check.
 *
 * @param shots    all shots, one entry each; a shot with NaN in any column is left out
 * @param options  columns of the model, what players may differ in, stream for drawn sign flips
 * @returns        differences in the unit of the measure; `withheld` below two conditions, without scatter, and where fixed columns cannot be
 *                 told apart
 */
export function playersComparison(shots: PlayersShots, options: PlayersOptions): PlayersComparison | Withheld {
  const { levelOfOne = LEVEL_OF_ONE } = options;
  const data = playersData(shots, options);
  const n = data.counts.map((row) => row.reduce((sum, one) => sum + one, 0));
  if (data.conditions.length < 2) return { kind: "withheld", reason: "too-few", n, needed: 2 };
  if (data.players.length < LEAST_PLAYERS) return eachPlayer(data, options);
  if (data.counts.every((row) => row.filter((count) => count > 0).length === 1)) return betweenPlayers(data, options);
  const made = playersModel(data, options.random);
  if (typeof made === "string") return { kind: "withheld", reason: made, n };
  const { model, findings, ...scatter } = made;
  const knowledge = varianceKnowledge(model);
  const o = { made, knowledge, levelOfOne };
  const { countFixed } = model.design;
  const contrasts = contrastsOf(data, o, options);
  const isUnknown = contrasts.some((contrast) => Number.isNaN(contrast.model.nu));
  const isTold = findings.some(({ code }) => code === "not-converged");
  return {
    kind: "players",
    conditions: data.conditions,
    contrasts,
    levels: levelsOf(data, o),
    covariates: fixedContrasts(
      model,
      Array.from({ length: countFixed - data.conditions.length }, (_, k) =>
        Float64Array.from({ length: countFixed }, (_, j) => (j === data.conditions.length + k ? 1 : 0)),
      ),
      { levelOfOne, knowledge },
    ),
    scatter,
    counts: data.counts,
    countMissing: data.countMissing,
    criterion: model.fit.criterion,
    findings: isUnknown && !isTold ? [...findings, { code: "not-converged" }] : findings,
  };
}
