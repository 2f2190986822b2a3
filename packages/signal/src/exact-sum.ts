import type { Samples } from "./samples.ts";

/**
 * The sum, rounded once: order and mixed sizes do not matter. Shewchuk, Discrete Comput. Geom. 18, 305 (1997).
 * For sums of more than some thousand samples; NaN and infinities go through as in plain addition.
 *
 * @example exactSum(Float64Array.of(1e100, 1, -1e100)) // 1
 */
export function exactSum(x: Samples | readonly number[]): number {
  const partials: number[] = [];
  let plain = 0;
  const n = x.length;
  for (let i = 0; i < n; i++) {
    plain += x[i]!;
    grow(partials, x[i]!);
  }
  return Number.isFinite(plain) ? rounded(partials) : plain;
}

/** Adds one number to a sum kept as parts that do not overlap, smallest first. */
function grow(partials: number[], added: number): void {
  let high = added;
  let kept = 0;
  for (const partial of partials) {
    const larger = Math.abs(high) < Math.abs(partial) ? partial : high;
    const smaller = larger === high ? partial : high;
    high = larger + smaller;
    const low = smaller - (high - larger);
    if (low !== 0) partials[kept++] = low;
  }
  partials.length = kept;
  partials.push(high);
}

/** The parts added from the largest, a tie decided by what lies below it. */
function rounded(partials: readonly number[]): number {
  let at = partials.length - 1;
  let high = partials[at] ?? 0;
  let low = 0;
  while (at > 0 && low === 0) {
    const above = high;
    const below = partials[--at]!;
    high = above + below;
    low = below - (high - above);
  }
  const next = partials[at - 1] ?? 0;
  if (at > 0 && ((low < 0 && next < 0) || (low > 0 && next > 0))) {
    const doubled = 2 * low;
    const moved = high + doubled;
    if (doubled === moved - high) high = moved;
  }
  return high;
}
