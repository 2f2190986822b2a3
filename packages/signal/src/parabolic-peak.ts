import type { Samples } from "./samples.ts";

export interface Peak {
  /** From sample i, in samples, -0.5..0.5 at a true extremum. */
  readonly offset: number;
  readonly value: number;
}

/**
 * Extremum of the parabola through sample i and its two neighbours. Where there is none (first or last sample, a
 * missing neighbour, three equal samples) the sample itself.
 */
export function parabolicPeak(x: Samples, i: number): Peak {
  const here = x[i]!;
  const before = x[i - 1] ?? Number.NaN;
  const after = x[i + 1] ?? Number.NaN;
  const bend = before - 2 * here + after;
  if (Number.isNaN(bend) || bend === 0) return { offset: 0, value: here };
  const offset = (0.5 * (before - after)) / bend;
  return { offset, value: here - 0.25 * (before - after) * offset };
}
