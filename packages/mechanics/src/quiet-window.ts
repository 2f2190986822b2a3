import type { Column, Samples } from "@underfoot/domain";
import { mean } from "@underfoot/signal";

/** A stretch of samples [first, end). */
export interface Window {
  readonly first: number;
  readonly end: number;
}

/** Three force columns along the same axes, N. */
export type ForceColumns = readonly [Samples, Samples, Samples];

/** Length in which stillness is judged, s; what counts as still beside the stillest stretch; extension (ours, by simulation). */
const STILL_LENGTH_S = 0.5;
const STILL_TIMES_SMALLEST = 4;
const STILL_SHARE = 0.0015;
const EXTEND_STEP_S = 0.02;
const EXTEND_MEAN_S = 0.25;
const EXTEND_SHARE = 0.0025;

export interface QuietWindow extends Window {
  /** The 0.5 s that were stillest, before the window was extended backwards. */
  readonly core: Window;
}

/**
 * The quiet window before a shot: of the stretches of 0.5 s in the span that are about as still as the stillest
 * (V <= max(4 x the smallest V, (0.15 % W)²), V the sum of the variances of the three components), the last one: after a
 * waggle, not before it. Then extended backwards in steps of 20 ms while the 0.25 s mean of each component stays within
 * 0.25 % of weight of the window's. All constants by simulation.
 *
 * @param force    total force, 10 Hz low-pass, N; the third column is the up one
 * @param span     where to look
 * @param weightN  about the player's weight: a stretch with less than half of it is nobody standing
 * @returns        undefined where the span has no such stretch
 */
export function quietWindow(
  force: ForceColumns,
  span: Window,
  { rateHz, weightN }: { readonly rateHz: number; readonly weightN: number },
): QuietWindow | undefined {
  const length = Math.round(STILL_LENGTH_S * rateHz);
  const variances = slidingVariance(force, span, length, weightN / 2);
  let smallest = Number.POSITIVE_INFINITY;
  for (let i = 0; i < variances.length; i++) if (variances[i]! < smallest) smallest = variances[i]!;
  if (smallest === Number.POSITIVE_INFINITY) return undefined;
  const limit = Math.max(STILL_TIMES_SMALLEST * smallest, (STILL_SHARE * weightN) ** 2);
  let last = variances.length - 1;
  while (!(variances[last]! <= limit)) last--;
  const core = { first: span.first + last, end: span.first + last + length };
  return { core, first: extendedFirst(force, core, span.first, { rateHz, weightN }), end: core.end };
}

/** V of the stretch beginning at each sample of the span; infinite where a sample is missing or nobody stands. */
function slidingVariance(force: ForceColumns, span: Window, length: number, leastN: number): Column {
  const count = Math.max(0, span.end - span.first - length + 1);
  const total = new Float64Array(count);
  force.forEach((column, axis) => {
    let offset = column[span.first]!;
    if (Number.isNaN(offset)) offset = 0;
    let sum = 0;
    let squares = 0;
    let missing = 0;
    for (let i = span.first; i < span.end; i++) {
      const entering = column[i]! - offset;
      if (!Number.isNaN(entering)) {
        sum += entering;
        squares += entering * entering;
      } else missing++;
      const at = i - span.first - length + 1;
      if (at < 0) continue;
      const isAbsent = missing > 0 || (axis === 2 && sum / length + offset < leastN);
      total[at] = isAbsent
        ? Number.POSITIVE_INFINITY
        : total[at]! + Math.max(0, squares - (sum * sum) / length) / length;
      const leaving = column[i - length + 1]! - offset;
      if (!Number.isNaN(leaving)) {
        sum -= leaving;
        squares -= leaving * leaving;
      } else missing--;
    }
  });
  return total;
}

function extendedFirst(
  force: ForceColumns,
  core: Window,
  earliest: number,
  { rateHz, weightN }: { readonly rateHz: number; readonly weightN: number },
): number {
  const step = Math.max(1, Math.round(EXTEND_STEP_S * rateHz));
  const span = Math.round(EXTEND_MEAN_S * rateHz);
  const limitN = EXTEND_SHARE * weightN;
  const means = force.map((column) => mean(column, core.first, core.end));
  let first = core.first;
  for (let next = first - step; next >= earliest; next -= step) {
    const isAway = force.some((column, c) => !(Math.abs(mean(column, next, next + span) - means[c]!) <= limitN));
    if (isAway) break;
    first = next;
  }
  return first;
}
