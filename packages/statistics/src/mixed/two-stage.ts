import { type DrawOptions, type PermutationP, signFlipP } from "../difference/permutation.ts";
import { type Difference, pairedDifference } from "../difference/welch.ts";
import type { EstimateOptions, Withheld } from "../estimate.ts";
import { mean } from "../samples.ts";
import { ownValues, type PlayersData } from "./players-data.ts";

/** Each player's own difference of means first, then one number a player: the player is the unit. */
export interface TwoStage extends Difference {
  /** Exact sign flips over players up to 16, else drawn. */
  readonly flips: PermutationP;
  /** Own difference of each player; NaN for one without shots in both conditions. In the order of the players. */
  readonly differences: Float64Array<ArrayBuffer>;
  /** Players whose own difference has the sign of the mean. */
  readonly countSameDirection: number;
}

/**
 * The two-stage check: mean of the players' own differences with t of N - 1 degrees of freedom, and sign flips over players. On balanced data
 * it equals the mixed model with a random slope.
 *
 * @param pair  places of the two conditions, the second minus the first
 */
export function twoStage(
  data: PlayersData,
  pair: readonly [number, number],
  options: EstimateOptions & DrawOptions,
): TwoStage | Withheld {
  const means = pair.map((condition) => data.players.map((_, player) => mean(ownValues(data, player, condition))));
  const difference = pairedDifference(means[0]!, means[1]!, options);
  if (difference.kind === "withheld") return difference;
  const differences = Float64Array.from(means[1]!, (value, player) => value - means[0]![player]!);
  const sign = Math.sign(difference.value);
  return {
    ...difference,
    method: "two-stage",
    flips: signFlipP(differences, options),
    differences,
    countSameDirection: differences.filter((one) => Math.sign(one) === sign).length,
  };
}
