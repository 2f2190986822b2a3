import { chiSquaredQuantile, chiSquaredTails } from "../distributions/chi-squared.ts";
import { root } from "../distributions/root.ts";
import {
  backwardSolve,
  choleskyInPlace,
  forwardSolve,
  inverseFromCholesky,
  logDeterminant,
  quadraticForm,
} from "../linear-algebra/cholesky.ts";
import type { Values } from "../samples.ts";

const LARGEST_STEP = 5;
const SMALLEST_SCORE = 1e-9;
const MOST_STEPS = 100;
const MOST_HALVINGS = 60;

export interface LogisticCoefficient {
  /** Log odds per unit of the column. */
  readonly value: number;
  readonly se: number;
  /** Twice what the penalised log-likelihood loses with this coefficient at 0; χ² with one degree of freedom. */
  readonly chiSquared: number;
  readonly p: number;
  /** Of the profile penalised likelihood. */
  readonly low: number;
  readonly high: number;
}

export interface FirthLogistic {
  readonly coefficients: readonly LogisticCoefficient[];
  readonly penalisedLogLikelihood: number;
  /** False where one of the maxima was not reached in 100 steps; the numbers are then not to be read. */
  readonly isConverged: boolean;
}

/** log(1 + e^η) without overflow. */
const softPlus = (eta: number): number => (eta > 0 ? eta + Math.log1p(Math.exp(-eta)) : Math.log1p(Math.exp(eta)));

/** l*, its modified score and the triangle of the information, all at one β. */
interface At {
  readonly logLikelihood: number;
  readonly score: Float64Array<ArrayBuffer>;
  readonly information: Float64Array<ArrayBuffer>;
}

function at(columns: readonly Values[], y: Values, beta: Values): At {
  const k = columns.length;
  const n = y.length;
  const information = new Float64Array(k * k);
  const chance = new Float64Array(n);
  let logLikelihood = 0;
  for (let i = 0; i < n; i++) {
    let eta = 0;
    for (let j = 0; j < k; j++) eta += columns[j]![i]! * beta[j]!;
    chance[i] = eta >= 0 ? 1 / (1 + Math.exp(-eta)) : Math.exp(eta) / (1 + Math.exp(eta));
    logLikelihood += y[i]! * eta - softPlus(eta);
    // π (1 - π) from the smaller tail, since 1 - π would be lost to rounding.
    const weight = Math.exp(-Math.abs(eta)) / (1 + Math.exp(-Math.abs(eta))) ** 2;
    for (let a = 0; a < k; a++)
      for (let b = 0; b < k; b++) information[a * k + b]! += weight * columns[a]![i]! * columns[b]![i]!;
  }
  const l = information.slice();
  if (!choleskyInPlace(l, k))
    return { logLikelihood: Number.NEGATIVE_INFINITY, score: new Float64Array(k), information };
  const inverse = inverseFromCholesky(l, k);
  const score = new Float64Array(k);
  for (let i = 0; i < n; i++) {
    const row = columns.map((column) => column[i]!);
    const leverage = quadraticForm(inverse, row) * chance[i]! * (1 - chance[i]!);
    const rest = y[i]! - chance[i]! + leverage * (0.5 - chance[i]!);
    for (let j = 0; j < k; j++) score[j]! += row[j]! * rest;
  }
  return { logLikelihood: logLikelihood + logDeterminant(l, k) / 2, score, information };
}

/** The step I⁻¹U* over the free coefficients, each at most 5. */
function newtonStep({ score, information }: At, free: readonly number[]): Float64Array<ArrayBuffer> {
  const k = score.length;
  const m = free.length;
  const l = Float64Array.from({ length: m * m }, (_, e) => information[free[Math.floor(e / m)]! * k + free[e % m]!]!);
  const solved = Float64Array.from(free, (j) => score[j]!);
  if (choleskyInPlace(l, m)) {
    forwardSolve(l, m, solved, 1);
    backwardSolve(l, m, solved, 1);
  }
  const largest = solved.reduce((most, one) => Math.max(most, Math.abs(one)), 0);
  const step = new Float64Array(k);
  free.forEach((j, e) => {
    step[j] = solved[e]! * Math.min(1, LARGEST_STEP / largest);
  });
  return step;
}

interface Maximum {
  readonly beta: Float64Array<ArrayBuffer>;
  readonly logLikelihood: number;
  readonly isConverged: boolean;
}

interface Taken {
  readonly next: Float64Array<ArrayBuffer>;
  readonly there: At;
}

/** Newton with halving over the free coefficients, the others held where `start` has them. */
function maximum(columns: readonly Values[], y: Values, start: Values, free: readonly number[]): Maximum {
  let beta = Float64Array.from(start);
  let here = at(columns, y, beta);
  for (let turn = 0; turn < MOST_STEPS; turn++) {
    if (free.every((j) => Math.abs(here.score[j]!) < SMALLEST_SCORE))
      return { beta, logLikelihood: here.logLikelihood, isConverged: true };
    // Rounding of l* itself is no fall.
    const least = here.logLikelihood - 1e-13 * Math.max(1, Math.abs(here.logLikelihood));
    const step = newtonStep(here, free);
    const along = (share: number): Taken => {
      const next = beta.map((one, j) => one + share * step[j]!);
      return { next, there: at(columns, y, next) };
    };
    let share = 1;
    let taken = along(share);
    for (let halving = 0; halving < MOST_HALVINGS && !(taken.there.logLikelihood >= least); halving++) {
      share /= 2;
      taken = along(share);
    }
    // Where the information is small beside the curvature of its own logarithm, a step overshoots and comes back for ever; half of it does not.
    for (let half = along(share / 2); half.there.logLikelihood > taken.there.logLikelihood; half = along(share / 2)) {
      share /= 2;
      taken = half;
    }
    beta = taken.next;
    here = taken.there;
  }
  return { beta, logLikelihood: here.logLikelihood, isConverged: false };
}

/**
 * Logistic regression with Firth's penalty: maximises Σ [y log π + (1-y) log(1-π)] + ½ log|XᵀWX|, finite even where a column separates the
 * outcomes completely (Firth 1993; Heinze & Schemper 2002). Intervals and p from the profile of that same function.
 *
 * @param columns  p columns of n values, the intercept's ones among them if one is wanted; independent
 * @param y        n outcomes, 0 or 1, both present
 * @returns        log odds per unit of each column
 */
export function firthLogistic(columns: readonly Values[], y: Values, levelOfOne: number): FirthLogistic {
  const all = columns.map((_, j) => j);
  const top = maximum(columns, y, new Float64Array(columns.length), all);
  const { information } = at(columns, y, top.beta);
  const l = information.slice();
  if (!choleskyInPlace(l, columns.length)) throw new RangeError("the columns depend on each other");
  const inverse = inverseFromCholesky(l, columns.length);
  const allowed = chiSquaredQuantile(levelOfOne, 1);
  let isConverged = top.isConverged;
  const coefficients = all.map((j): LogisticCoefficient => {
    const free = all.filter((other) => other !== j);
    const lossAt = (value: number): number => {
      const held = Float64Array.from(top.beta);
      held[j] = value;
      const profile = maximum(columns, y, held, free);
      if (!profile.isConverged) isConverged = false;
      return 2 * (top.logLikelihood - profile.logLikelihood);
    };
    const value = top.beta[j]!;
    const se = Math.sqrt(inverse[j * columns.length + j]!);
    const chiSquared = Math.max(0, lossAt(0));
    return {
      value,
      se,
      chiSquared,
      p: chiSquaredTails(chiSquared, 1).upper,
      low: root((one) => allowed - lossAt(one), { low: value - 2 * se, high: value, most: value }),
      high: root((one) => lossAt(one) - allowed, { low: value, high: value + 2 * se, least: value }),
    };
  });
  return { coefficients, penalisedLogLikelihood: top.logLikelihood, isConverged };
}
