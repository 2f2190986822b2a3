import type { Samples } from "@underfoot/domain";

/** All components of the net force stay within this part of weight ... */
const STILL_BW = 0.04;
/** ... for this long, s. */
const STILL_S = 0.25;

export interface FinishOptions {
  readonly rateHz: number;
  readonly impactS: number;
  readonly weightN: number;
  /** Net force of a quiet stance, in the order of the columns, N. */
  readonly quietN: readonly number[];
}

/**
 * The finish: after impact, the first time from which every component of net force stays within 4 % of weight for
 * 250 ms; the last sample where it never does. The truth has no noise, so nothing is filtered.
 */
export function truthFinishS(forceN: readonly Samples[], { rateHz, impactS, weightN, quietN }: FinishOptions): number {
  const count = forceN[0]!.length;
  const wanted = Math.round(STILL_S * rateHz);
  let since = Math.ceil(impactS * rateHz);
  for (let i = since; i < count; i++) {
    if (forceN.some((column, k) => Math.abs(column[i]! - quietN[k]!) > STILL_BW * weightN)) since = i + 1;
    if (i - since >= wanted) return since / rateHz;
  }
  return (count - 1) / rateHz;
}
