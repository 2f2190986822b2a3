import type { Samples } from "./samples.ts";

/** Mean of the samples [first, end); NaN if there is none or one is missing. Compensated sum (Neumaier 1974). */
export function mean(x: Samples, first = 0, end: number = x.length): number {
  let sum = 0;
  let lost = 0;
  for (let i = first; i < end; i++) {
    const value = x[i]!;
    const next = sum + value;
    lost += Math.abs(sum) >= Math.abs(value) ? sum - next + value : value - next + sum;
    sum = next;
  }
  return (sum + lost) / (end - first);
}

/** Standard deviation (n - 1) of the samples [first, end); NaN for fewer than two or where one is missing. */
export function standardDeviation(x: Samples, first = 0, end: number = x.length): number {
  const count = end - first;
  if (count < 2) return Number.NaN;
  const centre = mean(x, first, end);
  let squares = 0;
  for (let i = first; i < end; i++) squares += (x[i]! - centre) ** 2;
  return Math.sqrt(squares / (count - 1));
}
