import { studentQuantile, studentTwoSidedP } from "../distributions/student-t.ts";
import { checkedLevel, LEVEL_OF_ONE } from "../estimate.ts";
import { backSubstituted, firstDependent, householderTriangle, inverseRows } from "../linear-algebra/householder.ts";
import { mean, squaresAboutMean, type Values } from "../samples.ts";

export interface Coefficient {
  readonly value: number;
  readonly se: number;
  readonly t: number;
  readonly p: number;
  readonly low: number;
  readonly high: number;
}

export interface LeastSquares {
  /** Intercept first, then one for each column. Unit of y per unit of the column. */
  readonly coefficients: readonly Coefficient[];
  readonly residuals: Float64Array<ArrayBuffer>;
  /** Residual standard deviation and its degrees of freedom, rows minus coefficients. */
  readonly sigma: number;
  readonly nu: number;
  readonly rSquaredOfOne: number;
  /** Near 2 where neighbouring residuals are independent. */
  readonly durbinWatson: number;
}

const dot = (a: Values, b: Values): number => Array.from(a).reduce((sum, value, i) => sum + value * b[i]!, 0);

function durbinWatsonOf(residuals: Values): number {
  let steps = 0;
  for (let i = 1; i < residuals.length; i++) steps += (residuals[i]! - residuals[i - 1]!) ** 2;
  return steps / dot(residuals, residuals);
}

/**
 * Least squares of y on an intercept and columns, by Householder reflections of centred columns (the centring keeps badly conditioned
 * problems exact: NIST's Longley to 1e-10).
 *
 * @param y        n values
 * @param columns  p columns of n values, none constant
 * @returns        estimates with t intervals; n must exceed p + 1
 */
export function leastSquares(y: Values, columns: readonly Values[], levelOfOne: number = LEVEL_OF_ONE): LeastSquares {
  const n = y.length;
  const nu = n - columns.length - 1;
  if (nu < 1 || columns.some((column) => column.length !== n))
    throw new RangeError(`${n} values cannot carry ${columns.length + 1} coefficients`);
  const centres = columns.map((column) => mean(column));
  const centreY = mean(y);
  const centred = columns.map((column, j) => Float64Array.from(column, (value) => value - centres[j]!));
  const turned = centred.map((column) => column.slice());
  const turnedY = Float64Array.from(y, (value) => value - centreY);
  householderTriangle(turned, turnedY);
  const dependent = firstDependent(turned, 0);
  if (dependent >= 0) throw new RangeError(`column ${dependent} depends on the others: no least squares`);
  const slopes = backSubstituted(turned, turnedY);
  const residuals = Float64Array.from(y, (value, i) =>
    centred.reduce((rest, column, j) => rest - slopes[j]! * column[i]!, value - centreY),
  );
  const sigma = Math.sqrt(dot(residuals, residuals) / nu);
  const rows = inverseRows(turned);
  // The intercept is the mean of y carried back along the slopes; slopes and the mean of y are uncorrelated.
  const carried =
    rows[0] === undefined
      ? []
      : Array.from(rows[0], (_, k) =>
          dot(
            rows.map((row) => row[k]!),
            centres,
          ),
        );
  const ses = [
    sigma * Math.sqrt(1 / n + dot(carried, carried)),
    ...rows.map((row) => sigma * Math.sqrt(dot(row, row))),
  ];
  const quantile = studentQuantile((1 + checkedLevel(levelOfOne)) / 2, nu);
  const values = [centreY - dot(slopes, centres), ...slopes];
  return {
    coefficients: values.map((value, j) => {
      const se = ses[j]!;
      const t = value / se;
      return { value, se, t, p: studentTwoSidedP(t, nu), low: value - quantile * se, high: value + quantile * se };
    }),
    residuals,
    sigma,
    nu,
    rSquaredOfOne: 1 - dot(residuals, residuals) / squaresAboutMean(y),
    durbinWatson: durbinWatsonOf(residuals),
  };
}
