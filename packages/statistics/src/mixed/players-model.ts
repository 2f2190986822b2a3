import { chiSquaredTails } from "../distributions/chi-squared.ts";
import { areIndependent, mixedDesign } from "./mixed-design.ts";
import { type FittedModel, mixedFit } from "./mixed-fit.ts";
import type { PlayersData } from "./players-data.ts";
import type { RandomTerm } from "./random-columns.ts";

/** Least players for a slope of their own (own choice). */
const LEAST_FOR_SLOPE = 6;
const LEAST_EACH_FOR_SLOPE = 2;

/**
 * What differs between players: their level alone (`intercept`), level and reaction with free correlation (`slope`, two conditions), or level
 * and each condition by itself (`cell`).
 */
export type PlayersRandom = "intercept" | "slope" | "cell";

/** Which of the model's scatters a finding is about. */
export type PlayersScatter = "level" | "reaction" | "correlation" | "session" | "crossed";

export interface PlayersFinding {
  /**
   * `singular`: the players do not differ measurably in this; the fit is kept. `slope-not-estimated`: too few shots to see how players react,
   * so a difference is claimed too easily. `not-converged`: the numbers are not to be read.
   */
  readonly code: "singular" | "slope-not-estimated" | "not-converged";
  readonly what?: PlayersScatter;
}

/** The players' model: how much players differ, and in what. All standard deviations in the unit of the measure. */
export interface PlayersModel {
  readonly random: PlayersRandom;
  readonly model: FittedModel;
  /** Typical error of a single shot. */
  readonly sigma: number;
  /** Between players, of their level in the reference (`slope`) or over all conditions. */
  readonly sdLevel: number;
  /** Between players, of their true difference of two conditions; undefined where it is not in the model. */
  readonly sdReaction: number | undefined;
  /** Of level and reaction; undefined but for `slope`. */
  readonly correlation: number | undefined;
  readonly sdSession: number | undefined;
  /** One a crossed factor. */
  readonly sdCrossed: readonly number[];
  /** Whether players differ in how they react: ratio of restricted likelihoods, p of the mixture of χ² (Self & Liang 1987; Stram & Lee 1994). */
  readonly reaction: { readonly chiSquared: number; readonly p: number } | undefined;
  readonly findings: readonly PlayersFinding[];
}

/** What the counts allow: a slope where every player has two shots in each of two conditions, cells where some repeat. */
function allowedRandom({ counts, conditions, values }: PlayersData): PlayersRandom {
  const all = counts.flat();
  const isFull = all.every((count) => count >= LEAST_EACH_FOR_SLOPE) && counts.length >= LEAST_FOR_SLOPE;
  if (conditions.length === 2 && isFull) return "slope";
  const countCells = all.filter((count) => count > 0).length;
  return values.length > countCells && countCells > counts.length ? "cell" : "intercept";
}

/** Columns of X: intercept, each condition against the first, shot number, and what else was given. */
export function fixedColumns({
  values,
  condition,
  conditions,
  shotNumber,
  columns,
}: PlayersData): readonly Float64Array<ArrayBuffer>[] {
  return [
    new Float64Array(values.length).fill(1),
    ...conditions.slice(1).map((_, c) => Float64Array.from(condition, (one) => (one === c + 1 ? 1 : 0))),
    ...(shotNumber === undefined ? [] : [shotNumber]),
    ...columns,
  ];
}

/** Level of a player's cell. */
export const cellOf = ({ conditions }: PlayersData, player: number, condition: number): number =>
  player * conditions.length + condition;

function termsOf(data: PlayersData, random: PlayersRandom): readonly RandomTerm[] {
  const ones = new Float64Array(data.values.length).fill(1);
  const ofSecond = Float64Array.from(data.condition, (one) => (one === 1 ? 1 : 0));
  const level: RandomTerm =
    random === "slope" ? { levels: data.player, columns: [ones, ofSecond] } : { levels: data.player };
  const cells = data.player.map((player, i) => cellOf(data, player, data.condition[i]!));
  return [
    level,
    ...(random === "cell" ? [{ levels: cells }] : []),
    ...(data.session === undefined ? [] : [{ levels: data.session }]),
    ...data.crossed.map((levels) => ({ levels })),
  ];
}

/** Which scatter each θ stands for, in the order of the terms. */
function scattersOf(data: PlayersData, random: PlayersRandom): readonly PlayersScatter[] {
  const own: readonly PlayersScatter[] = {
    intercept: ["level"] as const,
    slope: ["level", "correlation", "reaction"] as const,
    cell: ["level", "reaction"] as const,
  }[random];
  return [
    ...own,
    ...(data.session === undefined ? [] : (["session"] as const)),
    ...data.crossed.map(() => "crossed" as const),
  ];
}

function findingsOf(
  { fit }: FittedModel,
  o: { readonly random: PlayersRandom; readonly isAsked: boolean; readonly scatters: readonly PlayersScatter[] },
): readonly PlayersFinding[] {
  const findings: PlayersFinding[] = [];
  o.scatters.forEach((what, j) => {
    if (!fit.isOnBoundary[j] || what === "correlation") return;
    // A slope without a part of its own, but linked to the level: they go with each other exactly.
    const isLinked = o.random === "slope" && what === "reaction" && fit.theta[j - 1] !== 0;
    findings.push({ code: "singular", what: isLinked ? "correlation" : what });
  });
  if (o.random === "intercept" && !o.isAsked) findings.push({ code: "slope-not-estimated" });
  if (fit.findings.some(({ code }) => code === "not-converged")) findings.push({ code: "not-converged" });
  return findings;
}

/** Ratio of the restricted likelihoods with and without the players' own reactions; X is the same. */
function reactionTest(data: PlayersData, random: PlayersRandom, criterion: number): PlayersModel["reaction"] {
  if (random === "intercept") return undefined;
  const without = mixedFit(mixedDesign(fixedColumns(data), termsOf(data, "intercept")), data.values);
  if (without === undefined) return undefined;
  const chiSquared = Math.max(0, without.fit.criterion - criterion);
  const p = (nu: number): number => chiSquaredTails(chiSquared, nu).upper;
  // At the edge of a variance: half of one degree more, half of none (a cell) or of one (a slope with its correlation).
  if (random === "slope") return { chiSquared, p: (p(1) + p(2)) / 2 };
  return { chiSquared, p: chiSquared === 0 ? 1 : p(1) / 2 };
}

function scatterOf(
  { fit }: FittedModel,
  random: PlayersRandom,
): Pick<PlayersModel, "sigma" | "sdLevel" | "sdReaction" | "correlation"> {
  const { sigma, theta } = fit;
  const sdLevel = sigma * theta[0]!;
  if (random === "intercept") return { sigma, sdLevel, sdReaction: undefined, correlation: undefined };
  if (random === "cell") return { sigma, sdLevel, sdReaction: Math.SQRT2 * sigma * theta[1]!, correlation: undefined };
  const length = Math.hypot(theta[1]!, theta[2]!);
  return {
    sigma,
    sdLevel,
    sdReaction: sigma * length,
    correlation: theta[0]! > 0 && length > 0 ? theta[1]! / length : Number.NaN,
  };
}

/**
 * Fits the players' model by REML. Without a choice: `slope` for two conditions where every player has two shots in each and there are six
 * players, else `cell` where cells repeat, else `intercept` with the finding that says what is missing. The players' own reaction has to be in the
 * model: with intercepts alone a condition is called different far too often when players react differently (Barr et al. 2013).
 *
 * @returns `dependent`: fixed columns that cannot be told apart, or more of them than shots; `no-scatter`: nothing is left over within the cells
 */
export function playersModel(data: PlayersData, asked?: PlayersRandom): PlayersModel | "dependent" | "no-scatter" {
  const allowed = allowedRandom(data);
  if (asked === "slope" && data.conditions.length !== 2) throw new RangeError("a slope is of two conditions");
  const random = asked === "cell" && allowed === "intercept" ? "intercept" : (asked ?? allowed);
  const fixed = fixedColumns(data);
  if (data.values.length <= fixed.length || !areIndependent(fixed)) return "dependent";
  const model = mixedFit(mixedDesign(fixed, termsOf(data, random)), data.values);
  if (model === undefined) return "no-scatter";
  const scatters = scattersOf(data, random);
  const sdOf = (wanted: PlayersScatter): readonly number[] =>
    scatters.flatMap((what, j) => (what === wanted ? [model.fit.sigma * model.fit.theta[j]!] : []));
  return {
    random,
    model,
    ...scatterOf(model, random),
    sdSession: sdOf("session")[0],
    sdCrossed: sdOf("crossed"),
    reaction: reactionTest(data, random, model.fit.criterion),
    findings: findingsOf(model, { random, isAsked: asked === "intercept", scatters }),
  };
}
