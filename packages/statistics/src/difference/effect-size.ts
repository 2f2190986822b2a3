import { logGamma } from "../distributions/log-gamma.ts";
import { noncentralT } from "../distributions/noncentral-t.ts";
import { root } from "../distributions/root.ts";
import {
  checkedLevel,
  type Estimate,
  type EstimateOptions,
  LEVEL_OF_ONE,
  ONE_LOOK,
  type Withheld,
} from "../estimate.ts";
import { mean, squaresAboutMean, standardDeviation, type Values, validValues } from "../samples.ts";

/** Where one condition scatters so much more, the pooled sd stands for neither (own choice). */
const RATIO_LIMITS = { low: 0.5, high: 2 } as const;

/** A difference in sds, without unit. */
export interface EffectSize extends Estimate {
  readonly kind: "effect-size";
  readonly findings: readonly "unequal-scatter"[];
}

/** Hedges' correction J = Γ(ν/2) / (√(ν/2) Γ((ν-1)/2)) (Hedges 1981); ν above 1. The usual 1 - 3/(4ν-1) is 0.3 % off at ν = 4. */
export function hedgesCorrection(nu: number): number {
  return Math.exp(logGamma(nu / 2) - logGamma((nu - 1) / 2)) / Math.sqrt(nu / 2);
}

/** Noncentralities at which the observed t lies at the tails: the interval of the effect (Steiger & Fouladi 1997). */
function noncentralityInterval(t: number, nu: number, levelOfOne: number): [number, number] {
  const tail = (1 - checkedLevel(levelOfOne)) / 2;
  const cdf = noncentralT(nu);
  const at = (p: number): number => root((delta) => p - cdf(t, delta), { low: t - 3, high: t + 3 });
  return [at(1 - tail), at(tail)];
}

/** True where the sds of two groups differ by more than twice. */
export function isScatterUnequal(a: Values, b: Values): boolean {
  const ratio = standardDeviation(b) / standardDeviation(a);
  return !(ratio >= RATIO_LIMITS.low && ratio <= RATIO_LIMITS.high);
}

/**
 * Hedges' g of B minus A, J d / s_pooled, with limits from the noncentral t (Hedges 1981; Cumming & Finch 2001).
 *
 * @param a  reference; NaN is left out
 * @returns  `withheld` below 3 values in a group or without scatter; `unequal-scatter` where the sds differ by more than twice: then
 *           standardise by the reference's sd instead
 */
export function hedgesG(a: Values, b: Values, options: EstimateOptions = {}): EffectSize | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK } = options;
  const [first, second] = [validValues(a), validValues(b)];
  const n = [first.length, second.length] as const;
  if (Math.min(...n) < 3) return { kind: "withheld", reason: "too-few", n, needed: 3 };
  const nu = n[0] + n[1] - 2;
  const pooled = Math.sqrt((squaresAboutMean(first) + squaresAboutMean(second)) / nu);
  if (!(pooled > 0)) return { kind: "withheld", reason: "no-scatter", n };
  const unit = Math.sqrt(1 / n[0] + 1 / n[1]);
  const d = (mean(second) - mean(first)) / pooled;
  const j = hedgesCorrection(nu);
  const [low, high] = noncentralityInterval(d / unit, nu, levelOfOne);
  const findings = isScatterUnequal(first, second) ? (["unequal-scatter"] as const) : [];
  return {
    kind: "effect-size",
    value: j * d,
    low: j * low * unit,
    high: j * high * unit,
    levelOfOne,
    n,
    method: "hedges-g",
    looks,
    findings,
  };
}

/**
 * g of paired differences, J D̄ / s_D, limits J δ/√n. "Of the differences": not comparable with `hedgesG`.
 *
 * @param differences  b - a; NaN is left out
 */
export function hedgesGOfDifferences(differences: Values, options: EstimateOptions = {}): EffectSize | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK } = options;
  const valid = validValues(differences);
  const n = valid.length;
  if (n < 3) return { kind: "withheld", reason: "too-few", n: [n], needed: 3 };
  const sd = standardDeviation(valid);
  if (!(sd > 0)) return { kind: "withheld", reason: "no-scatter", n: [n] };
  const j = hedgesCorrection(n - 1);
  const d = mean(valid) / sd;
  const scale = j / Math.sqrt(n);
  const [low, high] = noncentralityInterval(d * Math.sqrt(n), n - 1, levelOfOne);
  return {
    kind: "effect-size",
    value: j * d,
    low: scale * low,
    high: scale * high,
    levelOfOne,
    n: [n],
    method: "hedges-g-of-differences",
    looks,
    findings: [],
  };
}
