import type { Values } from "../samples.ts";
import { fixedFromBasis, type MixedDesign, type MixedSums, mixedSums } from "./mixed-design.ts";
import { remlCriterion } from "./reml-criterion.ts";
import { BOUNDARY, thetaSearch } from "./theta-search.ts";

/** Where the criterion is still lower so many times further out, it has no minimum: nothing is left within the levels of the terms. */
const FAR_OUT = 100;
/** Scatter within the levels below a millionth of that between them is rounding. */
const NO_REST = 1e6;
/** Squares below this share of y's own are rounding: a few times the square of 2⁻⁵². */
const ROUNDING = 1e-30;

/** Something to be said about a fit that is otherwise usable, or not. */
export interface FitFinding {
  /**
   * `singular`: a variance of the term is 0, or two of its scatters go with each other exactly; the fit is kept. `not-converged`: the
   * minimum was not reached and the numbers are not to be read.
   */
  readonly code: "singular" | "not-converged";
  /** The random term, where one is meant. */
  readonly term?: number;
}

/** A linear mixed model fitted by restricted maximum likelihood. */
export interface MixedFit {
  /** Λ's triangle of each term, row by row within column: standard deviations over σ, and links. */
  readonly theta: Float64Array<ArrayBuffer>;
  readonly isOnBoundary: readonly boolean[];
  /** Standard deviation of the rest, unit of y. */
  readonly sigma: number;
  /** Fixed effects, one a column of X. */
  readonly beta: Float64Array<ArrayBuffer>;
  /** b of every random column, in the design's order. */
  readonly random: Float64Array<ArrayBuffer>;
  /** -2 log of the restricted likelihood, with all constants. Compared only between fits of equal X. */
  readonly criterion: number;
  readonly largestGradient: number;
  readonly findings: readonly FitFinding[];
}

/** A fit with what its contrasts and predictions need: the design, the sums of the measure, the criterion. */
export interface FittedModel {
  readonly design: MixedDesign;
  readonly sums: MixedSums;
  readonly fit: MixedFit;
}

/**
 * Fits y = Xβ + Zb + ε by REML in the profiled form (Bates, Mächler, Bolker & Walker 2015).
 *
 * @param design  of the rows that have a value
 * @param y       one value a row, no NaN, unit of the measure
 * @returns       `undefined` where the fixed and random columns leave nothing over: no σ can be had
 */
export function mixedFit(design: MixedDesign, y: Values): FittedModel | undefined {
  const sums = mixedSums(design, y);
  let scale = 0;
  for (let i = 0; i < y.length; i++) scale += y[i]! * y[i]!;
  if (sums.squares <= ROUNDING * scale) return undefined;
  const at = remlCriterion(design, sums);
  const { random } = design;
  const found = thetaSearch((theta) => at(theta).criterion, random.isScale);
  const farOut = at(found.theta.map((one) => FAR_OUT * one)).criterion;
  const largest = found.theta.reduce((most, one) => Math.max(most, Math.abs(one)), 0);
  if (largest > NO_REST || (largest > 0 && !(farOut > found.criterion))) return undefined;
  const best = at(found.theta);
  const gamma = best.inBasis().map((value, j) => value + sums.taken[j]!);
  const singular = [...new Set(found.isOnBoundary.flatMap((is, j) => (is ? [random.termOfTheta[j]!] : [])))];
  const findings: FitFinding[] = singular.map((term) => ({ code: "singular", term }));
  if (!found.isConverged) findings.push({ code: "not-converged" });
  return {
    design,
    sums,
    fit: {
      theta: found.theta.map((one, j) => (found.isOnBoundary[j] && Math.abs(one) < BOUNDARY ? 0 : one)),
      isOnBoundary: found.isOnBoundary,
      sigma: Math.sqrt(best.squares / (design.countRows - design.countFixed)),
      beta: fixedFromBasis(design, gamma),
      random: best.random(),
      criterion: found.criterion,
      largestGradient: found.largestGradient,
      findings,
    },
  };
}
