import { fQuantile } from "../distributions/f-distribution.ts";
import {
  checkedLevel,
  type Estimate,
  type EstimateOptions,
  LEVEL_OF_ONE,
  ONE_LOOK,
  type Withheld,
} from "../estimate.ts";
import { mean, squaresAboutMean, type Values } from "../samples.ts";

const ROUGH_BELOW_PLAYERS = 10;

export interface MeanSquares {
  readonly players: number;
  readonly sessions: number;
  readonly error: number;
}

export interface IntraclassCorrelation extends Estimate {
  readonly kind: "icc";
  /** ICC(C,1), consistency of single sessions. */
  readonly consistency: number;
  /** ICC(A,k), of the mean of the k sessions. */
  readonly ofSessionMean: number;
  readonly meanSquares: MeanSquares;
  readonly findings: readonly "icc-rough"[];
}

/** Mean squares of a complete table, players by rows and sessions by columns. */
function meanSquares(table: readonly Values[]): MeanSquares {
  const countPlayers = table.length;
  const countSessions = table[0]!.length;
  const rows = table.map((row) => mean(row));
  const columns = Array.from({ length: countSessions }, (_, j) => mean(table.map((row) => row[j]!)));
  const centre = mean(rows);
  let residual = 0;
  for (let i = 0; i < countPlayers; i++) {
    for (let j = 0; j < countSessions; j++) residual += (table[i]![j]! - rows[i]! - columns[j]! + centre) ** 2;
  }
  return {
    players: (countSessions * squaresAboutMean(rows)) / (countPlayers - 1),
    sessions: (countPlayers * squaresAboutMean(columns)) / (countSessions - 1),
    error: residual / ((countPlayers - 1) * (countSessions - 1)),
  };
}

/** Limits of ICC(A,1), McGraw & Wong 1996 (from memory, checked against a published table). */
function limits(ms: MeanSquares, o: { N: number; k: number; icc: number; levelOfOne: number }): [number, number] {
  const { N, k, icc, levelOfOne } = o;
  if (icc >= 1) return [1, 1];
  const p = (1 + levelOfOne) / 2;
  const a = (k * icc) / (N * (1 - icc));
  const b = 1 + (k * icc * (N - 1)) / (N * (1 - icc));
  const first = a * ms.sessions;
  const second = b * ms.error;
  const nu = (first + second) ** 2 / (first ** 2 / (k - 1) + second ** 2 / ((N - 1) * (k - 1)));
  const f1 = fQuantile(p, N - 1, nu);
  const f2 = fQuantile(p, nu, N - 1);
  const noise = k * ms.sessions + (k * N - k - N) * ms.error;
  return [
    (N * (ms.players - f1 * ms.error)) / (f1 * noise + N * ms.players),
    (N * (f2 * ms.players - ms.error)) / (noise + N * f2 * ms.players),
  ];
}

/**
 * How far players can be told apart: ICC(A,1), two-way random, absolute agreement, single session, with its interval
 * (Shrout & Fleiss 1979; McGraw & Wong 1996).
 *
 * It rises with a mixed group where the typical error does not: never show it without that. Never for one player.
 * A negative estimate stays as it is: no reliable difference between players.
 *
 * @param table  one row a player, one session mean a column; complete
 * @returns      pure numbers, or `withheld`: fewer than 2 players or sessions, a gap, or no scatter at all. `icc-rough` below 10 players
 */
export function intraclassCorrelation(
  table: readonly Values[],
  options: EstimateOptions = {},
): IntraclassCorrelation | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK } = options;
  checkedLevel(levelOfOne);
  const N = table.length;
  const k = table[0]?.length ?? 0;
  if (N < 2 || k < 2) return { kind: "withheld", reason: "too-few", n: [N, k], needed: 2 };
  if (table.some((row) => row.length !== k || Array.from(row).some(Number.isNaN)))
    return { kind: "withheld", reason: "incomplete", n: [N, k] };
  const ms = meanSquares(table);
  if (ms.players === 0 && ms.error === 0) return { kind: "withheld", reason: "no-scatter", n: [N, k] };
  const between = ms.players - ms.error;
  const icc = between / (ms.players + (k - 1) * ms.error + (k * (ms.sessions - ms.error)) / N);
  const [low, high] = limits(ms, { N, k, icc, levelOfOne });
  return {
    kind: "icc",
    value: icc,
    low,
    high,
    levelOfOne,
    n: [N, k],
    method: "icc-a-1",
    looks,
    consistency: between / (ms.players + (k - 1) * ms.error),
    ofSessionMean: between / (ms.players + (ms.sessions - ms.error) / N),
    meanSquares: ms,
    findings: N < ROUGH_BELOW_PLAYERS ? ["icc-rough"] : [],
  };
}

/**
 * Repeatability of single shots from one way of classification, σ_b²/(σ_b² + σ²) = (MSB - MSW)/(MSB + (n-1) MSW), with the interval
 * (F/F_u - 1)/(F/F_u + n - 1) (Nakagawa & Schielzeth 2010; ICC(1,1) of Shrout & Fleiss 1979).
 *
 * A low value with a small difference between players means that players are alike, not that the measure is bad.
 *
 * @param groups  one array a player, equally many shots each (2 or more)
 */
export function repeatability(groups: readonly Values[], options: EstimateOptions = {}): Estimate | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK } = options;
  const N = groups.length;
  const n = groups[0]?.length ?? 0;
  if (N < 2 || n < 2) return { kind: "withheld", reason: "too-few", n: [N, n], needed: 2 };
  if (groups.some((group) => group.length !== n || Array.from(group).some(Number.isNaN)))
    return { kind: "withheld", reason: "incomplete", n: [N, n] };
  const between = (n * squaresAboutMean(groups.map((group) => mean(group)))) / (N - 1);
  const within = groups.reduce((sum, group) => sum + squaresAboutMean(group), 0) / (N * (n - 1));
  if (between === 0 && within === 0) return { kind: "withheld", reason: "no-scatter", n: [N, n] };
  const tail = (1 - checkedLevel(levelOfOne)) / 2;
  const share = (f: number): number => (f === Number.POSITIVE_INFINITY ? 1 : (f - 1) / (f + n - 1));
  const f = between / within;
  return {
    value: share(f),
    low: share(f / fQuantile(1 - tail, N - 1, N * (n - 1))),
    high: share(f / fQuantile(tail, N - 1, N * (n - 1))),
    levelOfOne,
    n: groups.map((group) => group.length),
    method: "repeatability-one-way",
    looks,
  };
}
