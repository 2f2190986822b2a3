import type { Column } from "@underfoot/domain";
import { type Despiked, withoutSpikes } from "@underfoot/signal";

/** A spike stands out from the channel's noise by this many sd; mean change between samples of white noise to its sd: sqrt(pi) / 2. */
const SPIKE_SD = 6;
const CHANGE_TO_SD = Math.sqrt(Math.PI) / 2;

/** A channel without its spikes, and how many were replaced or left. */
export interface Calmed {
  readonly values: Column;
  readonly replacedCount: number;
  readonly leftCount: number;
}

/**
 * A raw channel without single spikes: Hampel identifier (11 samples, 6 scaled MAD, at most 3 neighbours), as far as they
 * also stand out from the channel's usual change between samples by 6 sd. Among 11 samples of plain noise the MAD is now
 * and then so small that one sample in 500 is called out; those are put back.
 *
 * Most channels hold nothing of the kind: one quick look at the distance of each sample from the straight lines that a
 * replacement could lie on spares the identifier. The result is the same.
 *
 * @param raw  n samples, NaN where missing
 */
export function calmed(raw: Column): Calmed {
  if (!mayHoldSpikes(raw, SPIKE_SD * noiseSd(raw, undefined))) return { values: raw, replacedCount: 0, leftCount: 0 };
  const despiked = withoutSpikes(raw);
  const replacedCount = despiked.replacedCount > 0 ? spikesKept(raw, despiked) : 0;
  return { values: despiked.values, replacedCount, leftCount: despiked.leftCount };
}

/** sd of the noise, from the mean change between neighbouring samples that are there and were not replaced. */
function noiseSd(raw: Column, isReplaced: Uint8Array | undefined): number {
  let change = 0;
  let count = 0;
  for (let i = 1; i < raw.length; i++) {
    const step = Math.abs(raw[i]! - raw[i - 1]!);
    if (Number.isNaN(step) || isReplaced?.[i] === 1 || isReplaced?.[i - 1] === 1) continue;
    change += step;
    count++;
  }
  return (CHANGE_TO_SD * change) / count;
}

/** Whether any sample lies farther than `least` from a straight line across a run of one, two or three samples around it. */
function mayHoldSpikes(x: Column, least: number): boolean {
  const last = x.length - 4;
  for (let i = 3; i <= last; i++) {
    const value = x[i]!;
    const before = x[i - 1]!;
    const after = x[i + 1]!;
    const before2 = x[i - 2]!;
    const after2 = x[i + 2]!;
    const far =
      Math.abs(value - (before + after) / 2) > least ||
      Math.abs(value - (2 * before + after2) / 3) > least ||
      Math.abs(value - (before2 + 2 * after) / 3) > least ||
      Math.abs(value - (before2 + after2) / 2) > least ||
      Math.abs(value - (3 * before + x[i + 3]!) / 4) > least ||
      Math.abs(value - (x[i - 3]! + 3 * after) / 4) > least;
    if (far) return true;
  }
  return false;
}

/** Puts back replacements that do not stand out from the channel's noise; gives how many stand. */
function spikesKept(raw: Column, { values, isReplaced }: Despiked): number {
  const least = SPIKE_SD * noiseSd(raw, isReplaced);
  let kept = 0;
  for (let i = 0; i < raw.length; i++) {
    if (isReplaced[i] === 0) continue;
    if (Math.abs(raw[i]! - values[i]!) > least) kept++;
    else values[i] = raw[i]!;
  }
  return kept;
}
