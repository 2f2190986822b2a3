import { mean } from "@underfoot/signal";
import type { ForceColumns, Window } from "./quiet-window.ts";

/** A second quiet stance: at least 0.4 s, up to 50 ms before the end, within 1 % of weight of its own mean and that within 1.5 % of the first's (ours). */
const LENGTH_S = 0.4;
const BEFORE_END_S = 0.05;
const STEADY_SHARE = 0.01;
const NET_SHARE = 0.015;

/**
 * The second quiet stance at the end of a recording: up to 50 ms before its end, reaching back while each net component
 * stays within 1 % of weight of the mean of its last 0.4 s, which itself is within 1.5 % of weight of 0.
 *
 * @param force    total force, 10 Hz low-pass, N
 * @param quietN   F_q by component, N
 * @param earliest sample before which it may not reach (impact, and the end of the first quiet window)
 * @returns        undefined where the player is not still at the end
 */
export function closingWindow(
  force: ForceColumns,
  quietN: readonly [number, number, number],
  { rateHz, weightN, earliest }: { readonly rateHz: number; readonly weightN: number; readonly earliest: number },
): Window | undefined {
  const end = force[0].length - Math.round(BEFORE_END_S * rateHz);
  const last = end - Math.round(LENGTH_S * rateHz);
  if (last < earliest) return undefined;
  const means = force.map((column) => mean(column, last, end));
  if (means.some((level, c) => !(Math.abs(level - quietN[c]!) <= NET_SHARE * weightN))) return undefined;
  const limitN = STEADY_SHARE * weightN;
  const [target, ahead, up] = force;
  let first = end;
  while (
    first > earliest &&
    Math.abs(target[first - 1]! - means[0]!) <= limitN &&
    Math.abs(ahead[first - 1]! - means[1]!) <= limitN &&
    Math.abs(up[first - 1]! - means[2]!) <= limitN
  ) {
    first--;
  }
  return first <= last ? { first, end } : undefined;
}
