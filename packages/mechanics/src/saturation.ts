import type { Channel, Samples } from "@underfoot/domain";

/** A sample this close to the end of the converter's range, as a share of the range, counts as saturated (ours). */
const RANGE_MARGIN = 0.005;
/** An amplifier may clip before the converter does; below this share of a known range a run is chance (ours). */
const CLIPPED_FROM = 0.8;
/** A run of this many equal samples at the channel's extreme counts as clipped (ours) ... */
const CLIPPED_RUN = 3;
/** ... if the channel jumped into or out of it by more than this many of its smallest steps; a smooth crest does not. */
const STEEP_STEPS = 4;

/**
 * Marks the samples of a channel at the end of its range: within 0.5 % of a known range's end, or in a run of at least
 * three equal samples at the channel's own extreme (of a known range: its outer fifth), entered or left steeply. A run of
 * zeros is padding, not clipping.
 *
 * @param out  receives 1 where saturated; other samples are left as they are
 */
export function markSaturated({ values, range }: Pick<Channel, "values" | "range">, out: Uint8Array): void {
  if (range !== undefined) {
    const marginWidth = RANGE_MARGIN * (range[1] - range[0]);
    const low = range[0] + marginWidth;
    const high = range[1] - marginWidth;
    for (let i = 0; i < values.length; i++) if (values[i]! <= low || values[i]! >= high) out[i] = 1;
  }
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (value < lowest) lowest = value;
    if (value > highest) highest = value;
  }
  if (!(highest > lowest)) return;
  const middle = range === undefined ? 0 : (range[0] + range[1]) / 2;
  const clippedFrom = range === undefined ? 0 : (CLIPPED_FROM * (range[1] - range[0])) / 2;
  if (Math.abs(lowest - middle) >= clippedFrom) markClipped(values, lowest, out);
  if (Math.abs(highest - middle) >= clippedFrom) markClipped(values, highest, out);
}

function markClipped(values: Samples, extreme: number, out: Uint8Array): void {
  if (extreme === 0) return;
  let quantum = -1;
  for (let i = 0; i < values.length; i++) {
    if (values[i] !== extreme) continue;
    const first = i;
    while (i + 1 < values.length && values[i + 1] === extreme) i++;
    if (i + 1 - first < CLIPPED_RUN) continue;
    if (quantum < 0) quantum = smallestStep(values);
    const stepIn = first > 0 ? Math.abs(values[first - 1]! - extreme) : 0;
    const stepOut = i + 1 < values.length ? Math.abs(values[i + 1]! - extreme) : 0;
    if (Math.max(stepIn, stepOut) > STEEP_STEPS * quantum) out.fill(1, first, i + 1);
  }
}

/** The smallest change between neighbouring samples that is not 0: the converter's step where there is one. */
function smallestStep(values: Samples): number {
  let smallest = Number.POSITIVE_INFINITY;
  for (let i = 1; i < values.length; i++) {
    const step = Math.abs(values[i]! - values[i - 1]!);
    if (step > 0 && step < smallest) smallest = step;
  }
  return smallest;
}
