import type { ForceColumns } from "./quiet-window.ts";

/** At rest: all components within 4 % of weight of the quiet stance for 250 ms (ours, by simulation). */
const REST_SHARE = 0.04;
const REST_LENGTH_S = 0.25;

/**
 * End of the motion, from the forces: after impact, the first sample from which all components of F - F_q stay within
 * 4 % of weight for 250 ms.
 *
 * @param force   total force, 10 Hz low-pass, N
 * @param quietN  mean of each component in the quiet stance, N
 * @returns       the sample, or undefined where the player does not come to rest
 */
export function finishSample(
  force: ForceColumns,
  quietN: readonly [number, number, number],
  { rateHz, weightN, impact }: { readonly rateHz: number; readonly weightN: number; readonly impact: number },
): number | undefined {
  const length = Math.max(1, Math.round(REST_LENGTH_S * rateHz));
  const limitN = REST_SHARE * weightN;
  const [target, ahead, up] = force;
  let run = 0;
  for (let i = Math.max(0, Math.ceil(impact)); i < up.length; i++) {
    const isAtRest =
      Math.abs(target[i]! - quietN[0]) <= limitN &&
      Math.abs(ahead[i]! - quietN[1]) <= limitN &&
      Math.abs(up[i]! - quietN[2]) <= limitN;
    run = isAtRest ? run + 1 : 0;
    if (run === length) return i - length + 1;
  }
  return undefined;
}
