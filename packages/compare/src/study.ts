import type { PlayerAxes } from "@underfoot/domain";
import {
  type CurveStretch,
  holm,
  type Looks,
  mean,
  type PlayersComparison,
  pairedCurveDifference,
  playersComparison,
  type Streams,
  streamLabel,
  type Withheld,
  welch,
} from "@underfoot/statistics";
import { meanOfKnown } from "./column-values.ts";
import type { ComparedShot, ShotGroup } from "./compared-shot.ts";
import { meanRows } from "./curve-units.ts";
import type { RowOfMeasure } from "./measure-row.ts";
import { registeredCurve, registrationOf } from "./registered-shots.ts";
import { rowOf } from "./row-of-measure.ts";
import { curveKind } from "./shot-curves.ts";
import { countedShots, inOrderHit, lieOf } from "./shots-in-order.ts";

const ALPHA_OF_ONE = 0.05;
/** Fewer players than this: no sentence about players in general. */
const LEAST_FOR_WORDS = 6;

/** One player of a study. Unit of the measure. */
export interface StudyPlayer {
  readonly player: string;
  readonly n: readonly [number, number];
  /** Difference of own means; NaN without shots in both. */
  readonly own: number;
  /** Welch's interval of `own`, 0.95; NaN where too few shots or no scatter give none. */
  readonly ownLow: number;
  readonly ownHigh: number;
  /** Pulled toward the group, with its interval; absent where the model gives none. */
  readonly pulled?: { readonly value: number; readonly low: number; readonly high: number };
}

/** One shot beside what is fitted to it. Unit of the measure; between lies less its slope share. */
export interface StudyShot {
  readonly shotId: string;
  readonly player: string;
  readonly side: "a" | "b";
  readonly value: number;
  /** By the model: the player's pulled level and reaction, order and session left out. Without a model: the mean of the player's own shots of that side. */
  readonly fitted: number;
}

/** One measure over players, B minus A. Unit of the measure. */
export interface StudyMeasure extends RowOfMeasure {
  /** `players`: the model and the two-stage check; `each-player`: too few players, each by itself; `between-players`: no player has both. */
  readonly status: "players" | "each-player" | "between-players" | "withheld";
  readonly reason?: Withheld["reason"];
  /** The model's estimate over players, and the two-stage check beside it; absent where neither is made. */
  readonly model?: {
    readonly value: number;
    readonly low: number;
    readonly high: number;
    readonly p: number;
    readonly nu: number;
    readonly method: string;
  };
  readonly twoStage?: {
    readonly value: number;
    readonly low: number;
    readonly high: number;
    readonly p: number;
    readonly pFlips: number;
    readonly n: number;
    readonly countSameDirection: number;
  };
  /** Mean over players with both sides of what gravity alone gives to B minus A; 0 within one lie and where it has no part. */
  readonly slopeShare: number;
  /** The difference with the slope's share in it: the estimate and `slopeShare` together; without a model from the mean of the players' own. NaN where there is neither. */
  readonly raw: number;
  /** Both analyses on one side of the level. */
  readonly agrees: boolean;
  /** The model's, or the two-stage one where they do not agree; then after Holm over the measures looked at. */
  readonly quotedP: number;
  readonly adjustedP: number;
  /** `beyond`: may be said of players; `open`: the analyses disagree; `within`; `too-few` players for words. */
  readonly say: "beyond" | "within" | "open" | "too-few";
  readonly players: readonly StudyPlayer[];
  /** In the order hit; shots without a value left out. */
  readonly shots: readonly StudyShot[];
  /** All that the model found, for the table behind it. */
  readonly comparison: PlayersComparison | Withheld;
}

/** One curve a player, the group's mean difference and its simultaneous interval. One value a point. Unit of the curve. */
export interface StudyCurve {
  readonly column: string;
  readonly title: string;
  readonly unit: string;
  readonly status: "judged" | "too-few";
  readonly players: readonly { readonly player: string; readonly difference: readonly number[] }[];
  readonly difference: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
  readonly stretches: readonly CurveStretch[];
  readonly p: number;
}

/** Whether something holds across players. */
export interface Study {
  readonly kind: "study";
  readonly a: string;
  readonly b: string;
  readonly players: readonly string[];
  /** Shots that count, by player in the order of `players`, in A and in B. */
  readonly cells: readonly { readonly player: string; readonly countA: number; readonly countB: number }[];
  /** The slope's share was taken off each shot: some player's sides stand on different lies. */
  readonly isBetweenLies: boolean;
  /** Shots that count and of which nobody gave the lie: no slope's share is taken off these. */
  readonly countLieUnknown: number;
  readonly measures: readonly StudyMeasure[];
  readonly curves: readonly StudyCurve[];
  readonly grid: { readonly kind: "impact" | "events"; readonly firstMs: number; readonly stepMs: number };
  readonly looks: Looks;
  readonly levelOfOne: number;
  readonly seed: number;
}

export interface StudyOptions {
  /** Shots of several players; the reference. */
  readonly a: ShotGroup;
  readonly b: ShotGroup;
  readonly measures: readonly string[];
  readonly curves?: readonly string[] | undefined;
  readonly registration?: "impact" | "events";
  readonly axes: PlayerAxes;
  /** Keeps the number of the shot in the model: learning, tiring. */
  readonly withShotNumber?: boolean;
  readonly times?: number;
  readonly seed: number;
  readonly streams: Streams;
}

interface Data {
  readonly shots: readonly ComparedShot[];
  readonly groups: Uint8Array<ArrayBuffer>;
  readonly players: readonly string[];
  readonly playerOf: Int32Array<ArrayBuffer>;
  readonly isBetweenLies: boolean;
}

const codeOf = ({ player }: ComparedShot): string => player ?? "not said";

/** One player's two sides are not on the same lies. Lies that differ between players only are no part of a difference. */
function isOnOtherLies(own: readonly ComparedShot[], ofB: ReadonlySet<ComparedShot>): boolean {
  const [a, b] = [false, true].map((isB) => new Set(own.filter((shot) => ofB.has(shot) === isB).map(lieOf)));
  if (a === undefined || b === undefined || a.size === 0 || b.size === 0) return false;
  return a.size !== b.size || [...a].some((lie) => !b.has(lie));
}

function dataOf({ a, b }: StudyOptions): Data {
  const ofB = new Set(countedShots(b.shots));
  const shots = inOrderHit([...countedShots(a.shots), ...ofB]);
  const players = [...new Set(shots.map(codeOf))].sort();
  return {
    shots,
    groups: Uint8Array.from(shots, (shot) => (ofB.has(shot) ? 1 : 0)),
    players,
    playerOf: Int32Array.from(shots, (shot) => players.indexOf(codeOf(shot))),
    isBetweenLies: players.some((player) =>
      isOnOtherLies(
        shots.filter((shot) => codeOf(shot) === player),
        ofB,
      ),
    ),
  };
}

function valuesOf({ shots, isBetweenLies }: Data, column: string): Float64Array<ArrayBuffer> {
  return Float64Array.from(shots, ({ measures }) => {
    const { value = Number.NaN, slopeShare = 0 } = measures.get(column) ?? {};
    return isBetweenLies ? value - slopeShare : value;
  });
}

/** Mean over players of the slope's share of B less that of A, of the shots that have the measure; 0 where no player has both. */
function shareOf(data: Data, column: string): number {
  if (!data.isBetweenLies) return 0;
  const own = data.players.map((_, place) => {
    const [a, b] = [0, 1].map((side) =>
      meanOfKnown(
        data.shots.flatMap(({ measures }, k) => {
          const { value = Number.NaN, slopeShare = 0 } = measures.get(column) ?? {};
          const isOwn = data.groups[k] === side && data.playerOf[k] === place && !Number.isNaN(value);
          return isOwn ? [slopeShare] : [];
        }),
      ),
    );
    return (b ?? Number.NaN) - (a ?? Number.NaN);
  });
  const share = meanOfKnown(own);
  return Number.isNaN(share) ? 0 : share;
}

type Bare = Omit<StudyMeasure, "adjustedP" | "say" | "shots" | "slopeShare" | "raw">;

function studyMeasure(data: Data, column: string, o: StudyOptions, looks: Looks): Bare {
  const { shots, groups, playerOf } = data;
  const sessions = [...new Set(shots.map(({ sessionId, day }) => sessionId ?? day))];
  const found = playersComparison(
    { values: valuesOf(data, column), player: playerOf, condition: groups },
    {
      ...{ seed: o.seed, streams: o.streams, looks },
      label: streamLabel({ method: "players", measure: column, a: o.a.name, b: o.b.name }),
      session: shots.map(({ sessionId, day }) => sessions.indexOf(sessionId ?? day)),
      ...(o.withShotNumber === true ? { shotNumber: shots.map(({ ordinal }) => ordinal) } : {}),
    },
  );
  const row = rowOf(column);
  const none = { agrees: false, quotedP: Number.NaN, comparison: found };
  if (found.kind === "withheld")
    return { ...row, ...none, status: "withheld", reason: found.reason, players: ownMeans(data, column) };
  const contrast = found.kind === "players" ? found.contrasts[0] : undefined;
  if (found.kind !== "players" || contrast === undefined)
    return {
      ...row,
      ...none,
      status: found.kind === "players" ? "withheld" : found.kind,
      players: ownMeans(data, column),
    };
  const { model, twoStage } = contrast;
  return {
    ...row,
    ...{ status: "players", agrees: contrast.agrees, quotedP: contrast.quotedP, comparison: found },
    model: { value: model.value, low: model.low, high: model.high, p: model.p, nu: model.nu, method: model.method },
    ...(twoStage.kind === "withheld"
      ? {}
      : {
          twoStage: {
            ...{ value: twoStage.value, low: twoStage.low, high: twoStage.high, p: twoStage.p },
            ...{ pFlips: twoStage.flips.p, n: twoStage.n[0] ?? 0, countSameDirection: twoStage.countSameDirection },
          },
        }),
    players: contrast.players.map(({ player, n, own, pulled }) => ({
      ...{ player: data.players[player] ?? String(player), n, own },
      ...ownInterval(data, column, player),
      ...(pulled === undefined ? {} : { pulled: { value: pulled.value, low: pulled.low, high: pulled.high } }),
    })),
  };
}

/** A player's own values on either side. */
function ownSides(data: Data, column: string, place: number): readonly [Float64Array, Float64Array] {
  const values = valuesOf(data, column);
  const of = (side: number): Float64Array =>
    values.filter((value, k) => data.groups[k] === side && data.playerOf[k] === place && !Number.isNaN(value));
  return [of(0), of(1)];
}

function ownInterval(data: Data, column: string, place: number): Pick<StudyPlayer, "ownLow" | "ownHigh"> {
  const found = welch(...ownSides(data, column, place));
  return found.kind === "withheld"
    ? { ownLow: Number.NaN, ownHigh: Number.NaN }
    : { ownLow: found.low, ownHigh: found.high };
}

/** Each player's difference of own means, where the model gives none. */
function ownMeans(data: Data, column: string): readonly StudyPlayer[] {
  return data.players.map((player, place) => {
    const [a, b] = ownSides(data, column, place);
    return { player, n: [a.length, b.length], own: mean(b) - mean(a), ...ownInterval(data, column, place) };
  });
}

/** Every shot beside what is fitted to it: what is left over shows where a model does not hold. */
function fittedShots(data: Data, { column, comparison, model }: Bare): readonly StudyShot[] {
  const values = valuesOf(data, column);
  const found = comparison.kind === "players" ? comparison : undefined;
  const reactions = new Map(found?.contrasts[0]?.players.map(({ player, pulled }) => [player, pulled?.value]));
  const levels = new Map(found?.levels.map(({ player, pulled }) => [player, pulled.value]));
  const fitted = (place: number, side: number): number => {
    const level = levels.get(place);
    if (level === undefined || model === undefined) return mean(ownSides(data, column, place)[side] ?? []);
    return level + (side === 1 ? (reactions.get(place) ?? model.value) : 0);
  };
  return data.shots.flatMap(({ shotId }, k) => {
    const [value = Number.NaN, place = 0, side = 0] = [values[k], data.playerOf[k], data.groups[k]];
    if (Number.isNaN(value)) return [];
    const player = data.players[place] ?? "";
    return [{ shotId, player, side: side === 1 ? "b" : "a", value, fitted: fitted(place, side) }];
  });
}

function studyCurves(data: Data, o: StudyOptions, looks: Looks): Pick<Study, "curves" | "grid"> {
  const columns = o.curves ?? [];
  const kind = o.registration ?? "impact";
  const rows = data.shots.flatMap((shot, k) => (columns.every((column) => shot.curves?.has(column)) ? [k] : []));
  const shots = rows.map((k) => data.shots[k] as ComparedShot);
  const registration = columns.length === 0 || shots.length === 0 ? undefined : registrationOf(shots, kind);
  if (registration === undefined) return { curves: [], grid: { kind, firstMs: -700, stepMs: 2 } };
  const { grid } = registration;
  const { countPoints } = grid;
  const rowsOf = (place: number, side: number): number[] =>
    rows.flatMap((k, row) => (data.playerOf[k] === place && data.groups[k] === side ? [row] : []));
  const both = data.players
    .map((_, place) => place)
    .filter((place) => [0, 1].every((side) => rowsOf(place, side).length > 0));
  const differences = columns.map((column) => {
    const curve = registeredCurve(shots, column, registration);
    const freed = data.isBetweenLies ? curve.values.map((value, k) => value - curve.slopeShare[k]!) : curve.values;
    return both.map((place) => {
      const [a, b] = [0, 1].map((side) => meanRows(freed, countPoints, rowsOf(place, side))) as [
        Float64Array,
        Float64Array,
      ];
      return b.map((value, q) => value - a[q]!);
    });
  });
  const label = streamLabel({ method: "max-t-players", measure: "curves", a: o.a.name, b: o.b.name });
  const found = pairedCurveDifference(
    differences.map((own) => ({ values: own.flatMap((one) => Array.from(one)), countPoints, grid })),
    { seed: o.seed, streams: o.streams, label, looks },
  );
  const isJudged = found.kind !== "withheld" && both.length >= LEAST_FOR_WORDS;
  const curves = columns.map((column, c): StudyCurve => {
    const { title, unit } = curveKind(column);
    const own = differences[c] ?? [];
    const one = found.kind === "withheld" ? undefined : found.curves[c];
    return {
      ...{ column, title, unit, status: isJudged ? "judged" : "too-few" },
      players: both.map((place, row) => ({
        player: data.players[place] ?? "",
        difference: Array.from(own[row] ?? []),
      })),
      difference: Array.from(
        { length: countPoints },
        (_, q) => own.reduce((sum, values) => sum + values[q]!, 0) / own.length,
      ),
      low: Array.from(one?.low ?? []),
      high: Array.from(one?.high ?? []),
      stretches: isJudged ? (one?.stretches ?? []) : [],
      p: found.kind === "withheld" ? Number.NaN : found.p,
    };
  });
  return { curves, grid: { kind, firstMs: grid.firstMs, stepMs: grid.stepMs } };
}

/**
 * Several players, condition against condition, B minus A: by measure a mixed model and beside it always the two-stage check; whole curves by
 * two stages, the player as unit. Shots are never pooled as if they were of one player.
 */
export function studyOf(o: StudyOptions): Study {
  const data = dataOf(o);
  const looks: Looks = { countMeasures: o.measures.length, countPairs: 1, times: o.times ?? 1 };
  const bare = o.measures.map((column) => studyMeasure(data, column, o, looks));
  const adjusted = holm(bare.map(({ quotedP }) => (Number.isNaN(quotedP) ? 1 : quotedP)));
  const countOf = (place: number, side: number): number =>
    data.shots.filter((_, k) => data.playerOf[k] === place && data.groups[k] === side).length;
  return {
    kind: "study",
    ...{ a: o.a.name, b: o.b.name, players: data.players, isBetweenLies: data.isBetweenLies },
    countLieUnknown: data.shots.filter(({ pitchDeg, rollDeg }) => pitchDeg === undefined && rollDeg === undefined)
      .length,
    cells: data.players.map((player, place) => ({ player, countA: countOf(place, 0), countB: countOf(place, 1) })),
    measures: bare.map((row, m) => {
      const adjustedP = Number.isNaN(row.quotedP) ? Number.NaN : (adjusted[m] ?? Number.NaN);
      const isEnough = row.status === "players" && (row.twoStage?.n ?? 0) >= LEAST_FOR_WORDS;
      const say = !isEnough ? "too-few" : !row.agrees ? "open" : adjustedP <= ALPHA_OF_ONE ? "beyond" : "within";
      const slopeShare = shareOf(data, row.column);
      const estimate = row.model?.value ?? meanOfKnown(row.players.map(({ own }) => own));
      return { ...row, adjustedP, say, slopeShare, raw: estimate + slopeShare, shots: fittedShots(data, row) };
    }),
    ...studyCurves(data, o, looks),
    ...{ looks, levelOfOne: 0.95, seed: o.seed },
  };
}
