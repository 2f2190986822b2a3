import type { Samples } from "@underfoot/domain";

/** Mean of the samples [first, end) that are there; NaN if there is none. */
export function validMean(x: Samples, first: number, end: number): number {
  let sum = 0;
  let count = 0;
  for (let i = first; i < end; i++) {
    const value = x[i]!;
    if (Number.isNaN(value)) continue;
    sum += value;
    count++;
  }
  return count > 0 ? sum / count : Number.NaN;
}

/** Standard deviation (n - 1) of the samples [first, end) that are there; 0 for fewer than two. */
export function validSd(x: Samples, first: number, end: number): number {
  const centre = validMean(x, first, end);
  let squares = 0;
  let count = 0;
  for (let i = first; i < end; i++) {
    const away = x[i]! - centre;
    if (Number.isNaN(away)) continue;
    squares += away * away;
    count++;
  }
  return count < 2 ? 0 : Math.sqrt(squares / (count - 1));
}
