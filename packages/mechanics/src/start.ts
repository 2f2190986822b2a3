import type { Samples } from "@underfoot/domain";
import { mean, standardDeviation } from "@underfoot/signal";
import type { Window } from "./quiet-window.ts";

/** Motion begins outside max(5 sd, the signal's least limit) for 60 ms; it is followed back to 2 sd (ours, by simulation). */
const OUTSIDE_SD = 5;
const OUTSIDE_LENGTH_S = 0.06;
const LEFT_SD = 2;

/** A curve in which motion shows, 10 Hz low-pass, and the change below which it never counts, same unit. */
export interface StartSignal {
  readonly values: Samples;
  readonly leastLimit: number;
}

/** A signal with what it was in the quiet stance. */
interface Watched {
  readonly values: Samples;
  readonly quiet: number;
  readonly sd: number;
  readonly limit: number;
}

/**
 * First motion, from the forces: the first time any signal stays outside max(5 sd, its least limit) for 60 ms, then back
 * to where the signal that is then farthest out (in units of its limit) left 2 sd. Late by about 40 ms where motion begins
 * softly. A signal with missing samples in the quiet stance is not watched.
 *
 * @param core   the stillest 0.5 s: mean and sd come from there; the search begins at its middle
 * @param until  sample where the search ends (impact)
 * @returns      the sample, or undefined where nothing moves
 */
export function startSample(
  signals: readonly StartSignal[],
  core: Window,
  { rateHz, until }: { readonly rateHz: number; readonly until: number },
): number | undefined {
  const length = Math.max(1, Math.round(OUTSIDE_LENGTH_S * rateHz));
  const from = Math.floor((core.first + core.end) / 2);
  const watched = signals.map(({ values, leastLimit }): Watched => {
    const sd = standardDeviation(values, core.first, core.end);
    return { values, quiet: mean(values, core.first, core.end), sd, limit: Math.max(OUTSIDE_SD * sd, leastLimit) };
  });
  let earliest = Number.POSITIVE_INFINITY;
  for (const signal of watched) earliest = Math.min(earliest, outsideFrom(signal, { from, until, length }));
  if (earliest === Number.POSITIVE_INFINITY) return undefined;
  const out = watched.map(({ values, quiet, limit }) => Math.abs(values[earliest]! - quiet) / limit);
  const farthest = out.reduce((best, value, s) => (value > (out[best] ?? 0) ? s : best), 0);
  return leftQuiet(watched[farthest]!, earliest, from);
}

/** First sample of the first stretch of `length` samples outside the limit; infinite where there is none. */
function outsideFrom(
  { values, quiet, limit }: Watched,
  { from, until, length }: { readonly from: number; readonly until: number; readonly length: number },
): number {
  let run = 0;
  const end = Math.min(until, values.length);
  for (let i = from; i < end; i++) {
    run = Math.abs(values[i]! - quiet) > limit ? run + 1 : 0;
    if (run === length) return i - length + 1;
  }
  return Number.POSITIVE_INFINITY;
}

/** Back to where a signal left 2 sd, at most to `from`. */
function leftQuiet({ values, quiet, sd }: Watched, outside: number, from: number): number {
  let i = outside;
  while (i > from && Math.abs(values[i]! - quiet) > LEFT_SD * sd) i--;
  return i;
}
