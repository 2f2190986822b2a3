import { deviationUpperLimit } from "../scatter/deviation-interval.ts";
import { pairsNeeded, power, shotsPerCondition, type WantedDifference } from "./power.ts";

export interface ShotsNeeded {
  /** Shots a condition with the scatter as it is; undefined beyond 200. */
  readonly n: number | undefined;
  /** And if the scatter is at its 80 % upper limit; undefined beyond 200, and where the scatter is a guess. */
  readonly nAtUpperLimit: number | undefined;
  readonly sd: number;
  readonly sdUpper: number | undefined;
  /** True where no shots stand behind `sd`. */
  readonly isGuess: boolean;
}

/**
 * How many shots a condition: with the player's own scatter, and with its 80 % upper limit, since few shots know their scatter badly
 * (Browne 1995). "9, or 13 if the scatter is at its upper limit": difference 1.5 sd, sd from 10 shots.
 *
 * @param o  `nu`: degrees of freedom behind `sd`; left out when sd is a guess
 */
export function shotsNeeded(o: WantedDifference & { readonly nu?: number }): ShotsNeeded {
  const sdUpper = o.nu === undefined ? undefined : deviationUpperLimit({ sd: o.sd, nu: o.nu });
  return {
    n: shotsPerCondition(o),
    nAtUpperLimit: sdUpper === undefined ? undefined : shotsPerCondition({ ...o, sd: sdUpper }),
    sd: o.sd,
    sdUpper,
    isGuess: o.nu === undefined,
  };
}

export interface PlayersForShots {
  readonly countShots: number;
  /** sd of the players' own mean differences. */
  readonly sdDifference: number;
  /** Players needed; undefined beyond 200. */
  readonly countPlayers: number | undefined;
}

/**
 * Players against shots: the mean difference of N players with m shots in each of two conditions has variance
 * (σ_slope² + 2 σ²/m)/N. Once 2 σ²/m < σ_slope², more shots buy little.
 *
 * @param o  `sdSlope`: sd of the players' true differences; `sd`: typical error of single shots; `shots`: the m to look at
 */
export function playersByShots(
  o: WantedDifference & { readonly sdSlope: number; readonly shots: readonly number[] },
): readonly PlayersForShots[] {
  return o.shots.map((countShots) => {
    const sdDifference = Math.sqrt(o.sdSlope ** 2 + (2 * o.sd ** 2) / countShots);
    return { countShots, sdDifference, countPlayers: pairsNeeded({ ...o, sd: sdDifference }) };
  });
}

/**
 * Power over the same design as a grid, players by rows and shots by columns: what the sheet draws.
 *
 * @returns 0 .. 1, `players.length` rows
 */
export function powerByPlayersAndShots(
  o: WantedDifference & {
    readonly sdSlope: number;
    readonly players: readonly number[];
    readonly shots: readonly number[];
  },
): readonly (readonly number[])[] {
  return o.players.map((n) =>
    o.shots.map((countShots) =>
      power({ kind: "paired", n }, { ...o, sd: Math.sqrt(o.sdSlope ** 2 + (2 * o.sd ** 2) / countShots) }),
    ),
  );
}
