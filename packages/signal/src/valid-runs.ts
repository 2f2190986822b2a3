import type { Samples } from "./samples.ts";

/** A stretch of samples [first, end). */
export interface Run {
  readonly first: number;
  readonly end: number;
}

/** The longest stretches without a missing (NaN) sample, in order. */
export function validRuns(x: Samples): Run[] {
  const runs: Run[] = [];
  let first = -1;
  const n = x.length;
  for (let i = 0; i < n; i++) {
    const isMissing = Number.isNaN(x[i]!);
    if (!isMissing && first < 0) first = i;
    if (isMissing && first >= 0) {
      runs.push({ first, end: i });
      first = -1;
    }
  }
  if (first >= 0) runs.push({ first, end: x.length });
  return runs;
}
