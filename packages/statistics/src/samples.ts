/** Values of one measure, one a shot, in that measure's unit. NaN: no valid measure. */
export type Values = ArrayLike<number>;

/** The values that are numbers, in their order. */
export function validValues(values: Values): Float64Array<ArrayBuffer> {
  return Float64Array.from(values).filter((value) => !Number.isNaN(value));
}

/** Sum of squares of deviations from the mean, in two passes. NaN when there is no value. */
export function squaresAboutMean(values: Values): number {
  const centre = mean(values);
  let sum = 0;
  let sumOfDeviations = 0;
  for (let i = 0; i < values.length; i++) {
    const deviation = values[i]! - centre;
    sum += deviation * deviation;
    sumOfDeviations += deviation;
  }
  // The mean itself is rounded; this takes its share out again (Chan, Golub & LeVeque 1983, eq. 1.7, from memory).
  return values.length === 0 ? Number.NaN : sum - (sumOfDeviations * sumOfDeviations) / values.length;
}

/** Mean in two passes: the second adds the mean of what the first left. NaN when there is no value. */
export function mean(values: Values): number {
  const n = values.length;
  if (n === 0) return Number.NaN;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += values[i]!;
  const first = sum / n;
  let rest = 0;
  for (let i = 0; i < n; i++) rest += values[i]! - first;
  return first + rest / n;
}

/** Sample variance, divisor n - 1. NaN for fewer than two values. */
export function variance(values: Values): number {
  return values.length < 2 ? Number.NaN : Math.max(0, squaresAboutMean(values)) / (values.length - 1);
}

/** Sample standard deviation, divisor n - 1. NaN for fewer than two values. */
export function standardDeviation(values: Values): number {
  return Math.sqrt(variance(values));
}

/**
 * Quantile of a sample, type 7 of Hyndman & Fan (1996): position q (n - 1) of the ordered values, linear between.
 *
 * @param ordered  values, rising
 * @param q        0 .. 1
 */
export function quantileOfOrdered(ordered: Values, q: number): number {
  const position = q * (ordered.length - 1);
  const below = Math.floor(position);
  const low = ordered[below] ?? Number.NaN;
  const high = ordered[Math.min(below + 1, ordered.length - 1)] ?? Number.NaN;
  return low + (position - below) * (high - low);
}

/** Middle value, or the mean of the two middle ones. NaN when there is no value. */
export function median(values: Values): number {
  return quantileOfOrdered(Float64Array.from(values).sort(), 0.5);
}
