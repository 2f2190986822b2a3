import { studentQuantile } from "../distributions/student-t.ts";
import { LEVEL_OF_ONE } from "../estimate.ts";

/** The scatter of one condition: sd and its degrees of freedom. */
export interface Scatter {
  readonly sd: number;
  readonly nu: number;
}

/** Two single shots: how far apart, and what two such shots usually differ by. Never a verdict. */
export interface ShotAgainstShot {
  readonly difference: number;
  readonly sigmaMeasurement: number;
  /** Absent without a band. */
  readonly mdcSingle?: number;
  readonly verdict: "none";
}

/**
 * Degrees of freedom of a sum of variances, (Σ v)² / Σ (v²/ν) (Satterthwaite 1946, from memory; Welch 1947).
 *
 * @param variances  each with its degrees of freedom, not all 0
 */
export function satterthwaiteNu(variances: readonly { readonly variance: number; readonly nu: number }[]): number {
  const total = variances.reduce((sum, one) => sum + one.variance, 0);
  const denominator = variances.reduce((sum, one) => sum + (one.variance / total) ** 2 / one.nu, 0);
  return 1 / denominator;
}

/**
 * Shot b against shot a, b minus a. One shot each supports no conclusion, so there is no p and no "beyond".
 *
 * @param scatters  of the condition both belong to (one entry), of their two conditions, or none
 */
export function shotAgainstShot(o: {
  readonly a: number;
  readonly b: number;
  readonly sigmaA?: number;
  readonly sigmaB?: number;
  readonly scatters?: readonly [] | readonly [Scatter] | readonly [Scatter, Scatter];
}): ShotAgainstShot {
  const bare = {
    difference: o.b - o.a,
    sigmaMeasurement: Math.hypot(o.sigmaA ?? 0, o.sigmaB ?? 0),
    verdict: "none",
  } as const;
  const [first, second = first] = o.scatters ?? [];
  if (first === undefined || second === undefined) return bare;
  if (first.sd === 0 && second.sd === 0) return { ...bare, mdcSingle: 0 };
  const variances = [first, second].map(({ sd, nu }) => ({ variance: sd * sd, nu }));
  const nu = first === second ? first.nu : satterthwaiteNu(variances);
  const t = studentQuantile((1 + LEVEL_OF_ONE) / 2, nu);
  return { ...bare, mdcSingle: t * Math.hypot(first.sd, second.sd) };
}
