import { studentQuantile, studentTwoSidedP } from "../distributions/student-t.ts";
import { checkedLevel, type EstimateOptions, LEVEL_OF_ONE } from "../estimate.ts";
import { choleskyInPlace, inverseFromCholesky, quadraticForm } from "../linear-algebra/cholesky.ts";
import type { Values } from "../samples.ts";
import { basisWeights } from "./mixed-design.ts";
import type { FittedModel } from "./mixed-fit.ts";
import { remlCriterion } from "./reml-criterion.ts";
import { derivatives, gradientsOf } from "./theta-search.ts";

/** How well the variances are known: what degrees of freedom are made of (Fai & Cornelius 1996; Kuznetsova et al. 2017). */
export interface VarianceKnowledge {
  /** θ that are not on the boundary. */
  readonly free: readonly number[];
  /** Covariance of (those θ, σ), row-major: 2 H⁻¹ of the criterion. Empty where H is not positive definite. */
  readonly covariance: Float64Array<ArrayBuffer>;
}

/** What is said of a combination of fixed effects, or of a prediction. */
export interface TestedEstimate {
  readonly value: number;
  readonly se: number;
  /** Satterthwaite's, kept within 1 .. rows minus fixed effects. */
  readonly nu: number;
  readonly t: number;
  /** Two-sided, against 0. */
  readonly p: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Twice the inverse of the Hessian of D(θ, σ) = log|V| + log|XᵀV⁻¹X| + (n-p) log(2πσ²) + r²(θ)/σ² at the fit. Second derivatives along θ by
 * differences, along σ in closed form; θ on the boundary are left out.
 */
export function varianceKnowledge({ design, sums, fit }: FittedModel): VarianceKnowledge {
  const at = remlCriterion(design, sums);
  const { theta, sigma } = fit;
  const nu = design.countRows - design.countFixed;
  const free = Array.from(theta, (_, j) => j).filter((j) => !fit.isOnBoundary[j]);
  const parts = (there: Values): Values => {
    const { logDeterminants, squares } = at(there);
    return [logDeterminants + squares / sigma ** 2, squares];
  };
  const [whole, squares] = derivatives(parts, theta, free);
  const m = free.length + 1;
  const hessian = new Float64Array(m * m);
  free.forEach((_, a) => {
    for (let b = 0; b < m - 1; b++) hessian[a * m + b] = whole!.hessian[a * (m - 1) + b]!;
    const mixed = (-2 * squares!.gradient[a]!) / sigma ** 3;
    hessian[a * m + m - 1] = mixed;
    hessian[(m - 1) * m + a] = mixed;
  });
  hessian[m * m - 1] = (4 * nu) / sigma ** 2;
  if (!choleskyInPlace(hessian, m)) return { free, covariance: new Float64Array(0) };
  return { free, covariance: inverseFromCholesky(hessian, m).map((one) => 2 * one) };
}

/**
 * Degrees of freedom of an estimate whose variance is σ² v(θ): ν = 2 Var²/(gᵀ A g), g the gradient of the variance along (θ, σ).
 *
 * @param gradient  of v along the free θ
 */
function nuOf(
  o: { readonly sigma: number; readonly nuRest: number; readonly knowledge: VarianceKnowledge },
  v: number,
  gradient: Values,
): number {
  const { sigma, nuRest, knowledge } = o;
  if (knowledge.covariance.length === 0) return Number.NaN;
  const g = [...Array.from(gradient, (one) => sigma ** 2 * one), 2 * sigma * v];
  const spread = quadraticForm(knowledge.covariance, g);
  return Math.min(nuRest, Math.max(1, (2 * (sigma ** 2 * v) ** 2) / spread));
}

/** An estimate tested against 0; NaN for ν where the variances are not known well enough for one. */
function tested(
  o: { readonly value: number; readonly se: number; readonly nu: number },
  levelOfOne: number,
): TestedEstimate {
  const { value, se, nu } = o;
  if (Number.isNaN(nu)) return { ...o, t: value / se, p: Number.NaN, low: Number.NaN, high: Number.NaN };
  const half = studentQuantile((1 + checkedLevel(levelOfOne)) / 2, nu) * se;
  const t = value / se;
  return { ...o, t, p: studentTwoSidedP(t, nu), low: value - half, high: value + half };
}

/** Several estimates of one fit with their degrees of freedom; each θ is visited once for all of them. */
export function testedEstimates(
  { design, fit }: FittedModel,
  o: {
    readonly knowledge: VarianceKnowledge;
    readonly values: Values;
    /** Variances over σ² at one θ, one for each value. */
    readonly variances: (theta: Values) => Values;
    /** Variances besides, in squares of y's unit. */
    readonly besides?: Values;
    readonly levelOfOne: number;
  },
): readonly TestedEstimate[] {
  const { knowledge, values, variances, levelOfOne } = o;
  const rest = { sigma: fit.sigma, nuRest: design.countRows - design.countFixed, knowledge };
  const middle = variances(fit.theta);
  const along = gradientsOf(variances, fit.theta, knowledge.free);
  return Array.from(values, (value, k) => {
    const v = middle[k]!;
    const nu = nuOf(rest, v, along[k]!);
    const se = Math.sqrt(fit.sigma ** 2 * v + (o.besides?.[k] ?? 0));
    return tested({ value, se, nu }, levelOfOne);
  });
}

/** Covariances of fixed effects in the basis at one θ, for contrasts. */
function contrastVariances({ design, sums }: FittedModel, weights: readonly Values[]): (theta: Values) => Values {
  const at = remlCriterion(design, sums);
  const inBasis = weights.map((one) => basisWeights(design, one));
  return (theta) => {
    const covariance = at(theta).covariance();
    return inBasis.map((one) => quadraticForm(covariance, one));
  };
}

/**
 * Combinations c'β of fixed effects: estimate, standard error, Satterthwaite's degrees of freedom, interval and two-sided p against 0.
 *
 * @param model    a fit
 * @param weights  one c a contrast, one weight a fixed effect
 */
export function fixedContrasts(
  model: FittedModel,
  weights: readonly Values[],
  options: EstimateOptions & { readonly knowledge?: VarianceKnowledge } = {},
): readonly TestedEstimate[] {
  const { levelOfOne = LEVEL_OF_ONE, knowledge = varianceKnowledge(model) } = options;
  return testedEstimates(model, {
    knowledge,
    values: weights.map((c) => model.fit.beta.reduce((sum, one, j) => sum + one * c[j]!, 0)),
    variances: contrastVariances(model, weights),
    levelOfOne,
  });
}
