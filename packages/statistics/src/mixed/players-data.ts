import type { Values } from "../samples.ts";

/** Shots of several players: one entry a shot, all of the same length. */
export interface PlayersShots {
  /** The measure; NaN is left out. */
  readonly values: Values;
  /** Player of each shot, any whole names. */
  readonly player: Values;
  /** Condition of each shot, any whole names; the smallest is the reference. */
  readonly condition: Values;
}

/** Further columns of the model, one entry a shot. */
export interface PlayersColumns {
  /** Session of each shot: sessions are nested within players. */
  readonly session?: Values;
  /** Factors whose levels all players share, random like the players: days, balls. They cross players, so a fit takes longer. */
  readonly crossed?: readonly Values[];
  /** Number of the shot: centred within its player and counted in tens. */
  readonly shotNumber?: Values;
  /** More fixed columns as they are: period, session, carry-over. */
  readonly columns?: readonly Values[];
}

/** The shots that count, with names replaced by places in rising order. */
export interface PlayersData {
  readonly values: Float64Array<ArrayBuffer>;
  readonly player: Int32Array<ArrayBuffer>;
  readonly condition: Int32Array<ArrayBuffer>;
  readonly players: readonly number[];
  readonly conditions: readonly number[];
  /** Shots of each player (rows) in each condition (columns). */
  readonly counts: readonly (readonly number[])[];
  /** Level of each shot's session within its player; undefined where no player has two. */
  readonly session: Int32Array<ArrayBuffer> | undefined;
  readonly crossed: readonly Float64Array<ArrayBuffer>[];
  readonly shotNumber: Float64Array<ArrayBuffer> | undefined;
  readonly columns: readonly Float64Array<ArrayBuffer>[];
  readonly countMissing: number;
}

const risingNames = (names: readonly number[]): readonly number[] => [...new Set(names)].sort((a, b) => a - b);

const places = (names: readonly number[], of: readonly number[]): Int32Array<ArrayBuffer> => {
  const place = new Map(names.map((name, k) => [name, k]));
  return Int32Array.from(of, (name) => place.get(name)!);
};

/** Values less the mean of their player, in tens. */
function centredInTens(values: readonly number[], player: Int32Array, countPlayers: number): Float64Array<ArrayBuffer> {
  const sums = new Float64Array(countPlayers);
  const counts = new Float64Array(countPlayers);
  values.forEach((value, i) => {
    sums[player[i]!]! += value;
    counts[player[i]!]! += 1;
  });
  return Float64Array.from(values, (value, i) => (value - sums[player[i]!]! / counts[player[i]!]!) / 10);
}

/** Keeps the shots with a number in every column; lengths that differ are a RangeError. */
export function playersData(shots: PlayersShots, more: PlayersColumns = {}): PlayersData {
  const { session, shotNumber, crossed = [], columns = [] } = more;
  const given = [shots.values, shots.player, shots.condition, session, shotNumber, ...crossed, ...columns].filter(
    (column) => column !== undefined,
  );
  const count = shots.values.length;
  if (given.some((column) => column.length !== count)) throw new RangeError("columns of different lengths");
  const kept = Array.from({ length: count }, (_, i) => i).filter((i) =>
    given.every((column) => !Number.isNaN(column[i]!)),
  );
  const of = (column: Values): number[] => kept.map((i) => column[i]!);
  const players = risingNames(of(shots.player));
  const conditions = risingNames(of(shots.condition));
  const player = places(players, of(shots.player));
  const condition = places(conditions, of(shots.condition));
  const counts = players.map(() => conditions.map(() => 0));
  for (let i = 0; i < kept.length; i++) counts[player[i]!]![condition[i]!]! += 1;
  const sessions = session && of(session);
  const sessionPlaces = sessions && places(risingNames(sessions), sessions);
  const nested = sessionPlaces?.map((one, i) => player[i]! * kept.length + one);
  return {
    values: Float64Array.from(of(shots.values)),
    player,
    condition,
    players,
    conditions,
    counts,
    session: nested !== undefined && new Set(nested).size > players.length ? nested : undefined,
    shotNumber: shotNumber && centredInTens(of(shotNumber), player, players.length),
    crossed: crossed.map((column) => Float64Array.from(of(column))),
    columns: columns.map((column) => Float64Array.from(of(column))),
    countMissing: count - kept.length,
  };
}

/** Values of one player in one condition. */
export function ownValues(data: PlayersData, player: number, condition: number): Float64Array<ArrayBuffer> {
  return data.values.filter((_, i) => data.player[i] === player && data.condition[i] === condition);
}
