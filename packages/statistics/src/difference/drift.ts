import { spearman } from "../association/rank-correlation.ts";
import type { Withheld } from "../estimate.ts";
import type { Values } from "../samples.ts";
import type { DrawOptions } from "./permutation.ts";

const LEAST_FOR_DRIFT = 8;
const ALPHA_OF_ONE = 0.05;

/** Whether a measure moved during the session. A caution: nothing is corrected for it. */
export interface Drift {
  readonly kind: "drift";
  /** Spearman's coefficient of value against shot number, without unit. */
  readonly rho: number;
  /** Two-sided. */
  readonly p: number;
  readonly n: number;
  readonly isDrift: boolean;
  readonly direction: "rising" | "falling";
}

/**
 * Drift of one condition: Spearman of value against shot number.
 *
 * @param values       in the order they were hit; NaN is left out, its number is kept
 * @param shotNumbers  of the session, where other conditions lie between; 0, 1, ... by default
 * @returns            `withheld` below 8 values or without scatter
 */
export function drift(
  values: Values,
  options: DrawOptions,
  shotNumbers: Values = Array.from(values, (_, k) => k),
): Drift | Withheld {
  const found = spearman(shotNumbers, values, { ...options, least: LEAST_FOR_DRIFT });
  if (found.kind === "withheld") return found;
  const { value: rho, p } = found;
  return {
    kind: "drift",
    rho,
    p,
    n: found.n.reduce((sum, count) => sum + count, 0),
    isDrift: p < ALPHA_OF_ONE,
    direction: rho >= 0 ? "rising" : "falling",
  };
}
