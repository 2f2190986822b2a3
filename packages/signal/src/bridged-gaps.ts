import type { Column, Samples } from "./samples.ts";

export interface Bridged {
  /** n samples: `x` with its short gaps filled; longer gaps stay NaN. */
  readonly values: Column;
  /** How many samples were filled. */
  readonly count: number;
  /** 1 where filled. */
  readonly isBridged: Uint8Array;
}

/**
 * Fills each run of at most `maxSamples` missing samples by the cubic through two samples on each side. A gap with fewer
 * than two valid samples on a side (at the ends, or next to another gap) is left.
 */
export function bridgedGaps(x: Samples, { maxSamples }: { readonly maxSamples: number }): Bridged {
  const values = Float64Array.from(x);
  const isBridged = new Uint8Array(x.length);
  let count = 0;
  let i = 0;
  while (i < x.length) {
    if (!Number.isNaN(x[i]!)) {
      i++;
      continue;
    }
    const first = i;
    while (i < x.length && Number.isNaN(x[i]!)) i++;
    if (i - first <= maxSamples && fillGap(x, values, first, i)) {
      isBridged.fill(1, first, i);
      count += i - first;
    }
  }
  return { values, count, isBridged };
}

/** Newton's divided differences through the samples first - 2, first - 1, end, end + 1; false where one is missing. */
function fillGap(x: Samples, values: Column, first: number, end: number): boolean {
  const t = [first - 2, first - 1, end, end + 1] as const;
  const c = t.map((at) => x[at] ?? Number.NaN);
  if (c.some(Number.isNaN)) return false;
  for (let order = 1; order < 4; order++) {
    for (let k = 3; k >= order; k--) c[k] = (c[k]! - c[k - 1]!) / (t[k]! - t[k - order]!);
  }
  for (let i = first; i < end; i++) {
    values[i] = c[0]! + (i - t[0]) * (c[1]! + (i - t[1]) * (c[2]! + (i - t[2]) * c[3]!));
  }
  return true;
}
