import { mean, standardDeviation } from "@underfoot/signal";
import type { ForceColumns, Window } from "./quiet-window.ts";

/** Motion begins outside max(5 sd, 1.5 % of weight) for 60 ms; it is followed back to 2 sd (ours, by simulation). */
const OUTSIDE_SD = 5;
const OUTSIDE_SHARE = 0.015;
const OUTSIDE_LENGTH_S = 0.06;
const LEFT_SD = 2;

/**
 * First motion, from the forces: the first time any component stays outside its limit for 60 ms, then back to where the
 * component that is then farthest out (in units of its limit) left 2 sd. Late by about 50 ms where motion begins softly.
 *
 * @param force  total force, 10 Hz low-pass, N
 * @param core   the stillest 0.5 s: mean and sd come from there; the search begins at its middle
 * @param until  sample where the search ends (impact)
 * @returns      the sample, or undefined where nothing moves
 */
export function startSample(
  force: ForceColumns,
  core: Window,
  { rateHz, weightN, until }: { readonly rateHz: number; readonly weightN: number; readonly until: number },
): number | undefined {
  const quiet = force.map((column) => mean(column, core.first, core.end));
  const sd = force.map((column) => standardDeviation(column, core.first, core.end));
  const limits = sd.map((s) => Math.max(OUTSIDE_SD * s, OUTSIDE_SHARE * weightN));
  const length = Math.max(1, Math.round(OUTSIDE_LENGTH_S * rateHz));
  const from = Math.floor((core.first + core.end) / 2);
  const runs = [0, 0, 0];
  for (let i = from; i < Math.min(until, force[0].length); i++) {
    for (let c = 0; c < 3; c++) {
      runs[c] = Math.abs(force[c]![i]! - quiet[c]!) > limits[c]! ? runs[c]! + 1 : 0;
    }
    if (Math.max(...runs) < length) continue;
    const first = i - length + 1;
    return leftQuiet(force, { quiet, sd, limits, from }, first);
  }
  return undefined;
}

function leftQuiet(
  force: ForceColumns,
  {
    quiet,
    sd,
    limits,
    from,
  }: {
    readonly quiet: readonly number[];
    readonly sd: readonly number[];
    readonly limits: readonly number[];
    readonly from: number;
  },
  first: number,
): number {
  let farthest = 0;
  let most = -1;
  for (let c = 0; c < 3; c++) {
    const out = Math.abs(force[c]![first]! - quiet[c]!) / limits[c]!;
    if (out > most) {
      most = out;
      farthest = c;
    }
  }
  const column = force[farthest]!;
  let i = first;
  while (i > from && Math.abs(column[i]! - quiet[farthest]!) > LEFT_SD * sd[farthest]!) i--;
  return i;
}
