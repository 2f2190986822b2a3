import type { Column, Samples } from "./samples.ts";

/** Window of 2 x 5 + 1 samples, and how far out a sample must lie: 6 MAD scaled to a normal sd (Pearson 2002, from memory). */
const HALF = 5;
const WINDOW = 2 * HALF + 1;
/** 1 / Φ⁻¹(3/4): MAD to the sd of a normal distribution. */
const MAD_TO_SD = 1.4826022185056018;
const LIMIT_MADS = 6 * MAD_TO_SD;
/** Spikes are short: a longer run may be a real shock and is left. */
const LONGEST_RUN = 3;
/** A smallest difference seen this often is taken for the converter's step (ours). */
const STEP_REPEATS = 8;

/** A channel without its spikes. */
export interface Despiked {
  /** n samples. */
  readonly values: Column;
  /** Samples replaced by the straight line between their neighbours. */
  readonly replacedCount: number;
  /** Samples that look like spikes but stand in runs too long, or at an end, to be replaced. */
  readonly leftCount: number;
  /** 1 where replaced. */
  readonly isReplaced: Uint8Array;
}

/**
 * Hampel identifier: 1 where a sample lies more than 6 scaled MAD from the median of the 11 samples around it.
 * The MAD is not taken below the step of the channel's converter, if its values show one: else a quiet channel that
 * rests on one number calls every flip of its last bit a spike. The first and last 5 samples, and samples with a missing
 * one in their window, are not judged.
 */
export function hampelSpikes(x: Samples): Uint8Array {
  const isSpike = new Uint8Array(x.length);
  const smallestMad = converterStep(x);
  const sorted = new Float64Array(WINDOW);
  let filled = 0;
  for (let next = 0; next < x.length; next++) {
    const value = x[next]!;
    if (Number.isNaN(value)) {
      filled = 0;
      continue;
    }
    if (filled === WINDOW) replace(sorted, x[next - WINDOW]!, value);
    else filled = insert(sorted, filled, value);
    if (filled < WINDOW) continue;
    const distance = Math.abs(x[next - HALF]! - sorted[HALF]!);
    if (distance > LIMIT_MADS * smallestMad && isFar(sorted, distance)) isSpike[next - HALF] = 1;
  }
  return isSpike;
}

/** The channel with runs of at most 3 spikes replaced by the straight line between their neighbours, counted. */
export function withoutSpikes(x: Samples): Despiked {
  const values = Float64Array.from(x);
  const isSpike = hampelSpikes(x);
  const isReplaced = new Uint8Array(x.length);
  let replacedCount = 0;
  let leftCount = 0;
  for (let first = isSpike.indexOf(1); first >= 0; ) {
    let end = first + 1;
    while (isSpike[end] === 1) end++;
    const count = end - first;
    if (count <= LONGEST_RUN) {
      const before = x[first - 1]!;
      const rise = (x[end]! - before) / (count + 1);
      for (let i = first; i < end; i++) values[i] = before + rise * (i - first + 1);
      isReplaced.fill(1, first, end);
      replacedCount += count;
    } else {
      leftCount += count;
    }
    first = isSpike.indexOf(1, end);
  }
  return { values, replacedCount, leftCount, isReplaced };
}

/** Whether a distance from the median of 11 sorted values is more than 6 scaled MAD, mostly without forming the MAD. */
function isFar(sorted: Float64Array, distance: number): boolean {
  const median = sorted[5]!;
  const atLeast = Math.min(median - sorted[2]!, sorted[8]! - median);
  if (distance <= LIMIT_MADS * atLeast) return false;
  // The 6 values nearest to the median are neighbours in the sorted row: the MAD is the smallest reach of such a six.
  let mad = Number.POSITIVE_INFINITY;
  for (let k = 0; k <= HALF; k++) mad = Math.min(mad, Math.max(median - sorted[k]!, sorted[k + HALF]! - median));
  return distance > LIMIT_MADS * mad;
}

/** Takes one value out of a sorted row and puts another in. */
function replace(sorted: Float64Array, gone: number, come: number): void {
  let at = 0;
  while (sorted[at]! < gone) at++;
  for (; at < WINDOW - 1 && sorted[at + 1]! < come; at++) sorted[at] = sorted[at + 1]!;
  for (; at > 0 && sorted[at - 1]! > come; at--) sorted[at] = sorted[at - 1]!;
  sorted[at] = come;
}

/** Puts a value into the first `filled` of a sorted row; returns how many there are now. */
function insert(sorted: Float64Array, filled: number, come: number): number {
  let at = filled;
  for (; at > 0 && sorted[at - 1]! > come; at--) sorted[at] = sorted[at - 1]!;
  sorted[at] = come;
  return filled + 1;
}

/** The smallest difference between neighbours, if it is seen again and again; else 0. */
function converterStep(x: Samples): number {
  let smallest = Number.POSITIVE_INFINITY;
  let count = 0;
  const n = x.length;
  for (let i = 1; i < n; i++) {
    const difference = Math.abs(x[i]! - x[i - 1]!);
    if (!(difference > 0)) continue;
    if (difference < smallest * (1 - 1e-6)) {
      smallest = difference;
      count = 1;
    } else if (difference <= smallest * (1 + 1e-6)) {
      count++;
    }
  }
  return count >= STEP_REPEATS ? smallest : 0;
}
