import { type Estimate, type EstimateOptions, LEVEL_OF_ONE, ONE_LOOK, type Withheld } from "../estimate.ts";
import { areIndependent, mixedDesign } from "../mixed/mixed-design.ts";
import { type FitFinding, mixedFit } from "../mixed/mixed-fit.ts";
import { fixedContrasts } from "../mixed/satterthwaite.ts";
import type { Values } from "../samples.ts";

const LEAST_SESSIONS = 6;
const DAYS_OF_SLOPE = 30;

/** Shots over sessions: one entry a shot, all of the same length. */
export interface StudyShots {
  /** The measure; NaN is left out. */
  readonly values: Values;
  /** Day of the shot, counted from any day. */
  readonly day: Values;
  /** Session of the shot; names may repeat between players. */
  readonly session: Values;
  /** Player of the shot; left out for a single player. */
  readonly player?: Values;
}

/** A straight line over sessions that vary among themselves. */
export interface StudyTrend extends Estimate {
  readonly kind: "study-trend";
  readonly se: number;
  /** Satterthwaite's. */
  readonly nu: number;
  readonly p: number;
  readonly countSessions: number;
  /** Between sessions, and between players where there are several; unit of the measure. */
  readonly sdSession: number;
  readonly sdPlayer: number | undefined;
  readonly sigma: number;
  /** Whether the change over the whole span exceeds twice what all shots of a session share. */
  readonly exceedsShared: boolean;
  /** Terms: 0 sessions, 1 players. */
  readonly findings: readonly FitFinding[];
}

/**
 * Trend of a study: y = a + b day + session + rest, sessions (and players) random, by REML; b per 30 days with Satterthwaite's degrees of freedom.
 * The scatter of single shots alone never judges a trend: sessions differ among themselves.
 *
 * @param shots    one condition; a shot with NaN in any column is left out
 * @param options  `sigmaShared`: what all shots of a session share, of a difference between two sessions
 * @returns        unit of the measure per 30 days; `withheld` below 6 sessions, on a single day, and without scatter
 */
export function studyTrend(
  shots: StudyShots,
  options: EstimateOptions & { readonly sigmaShared?: number } = {},
): StudyTrend | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK, sigmaShared = 0 } = options;
  const { values, day, session, player = new Float64Array(values.length) } = shots;
  const columns = [values, day, session, player];
  if (columns.some((column) => column.length !== values.length)) throw new RangeError("columns of different lengths");
  const kept = Array.from(values, (_, i) => i).filter((i) => columns.every((column) => !Number.isNaN(column[i]!)));
  const keys = kept.map((i) => `${player[i]}/${session[i]}`);
  const names = [...new Set(keys)];
  const levels = keys.map((key) => names.indexOf(key));
  const n = names.map((_, k) => levels.filter((level) => level === k).length);
  if (names.length < LEAST_SESSIONS) return { kind: "withheld", reason: "too-few", n, needed: LEAST_SESSIONS };
  const fixed = [kept.map(() => 1), kept.map((i) => day[i]! / DAYS_OF_SLOPE)];
  if (!areIndependent(fixed)) return { kind: "withheld", reason: "same-day", n };
  const players = kept.map((i) => player[i]!);
  const hasPlayers = new Set(players).size > 1;
  const terms = hasPlayers ? [{ levels }, { levels: players }] : [{ levels }];
  const y = kept.map((i) => values[i]!);
  const model = mixedFit(mixedDesign(fixed, terms), y);
  if (model === undefined) return { kind: "withheld", reason: "no-scatter", n };
  const { sigma, theta, findings } = model.fit;
  const slope = fixedContrasts(model, [[0, 1]], { levelOfOne })[0]!;
  const span = Math.max(...fixed[1]!) - Math.min(...fixed[1]!);
  return {
    kind: "study-trend",
    value: slope.value,
    low: slope.low,
    high: slope.high,
    levelOfOne,
    n,
    method: hasPlayers ? "reml-players-and-sessions" : "reml-sessions",
    looks,
    se: slope.se,
    nu: slope.nu,
    p: slope.p,
    countSessions: names.length,
    sdSession: sigma * theta[0]!,
    sdPlayer: hasPlayers ? sigma * theta[1]! : undefined,
    sigma,
    exceedsShared: Math.abs(slope.value * span) > 2 * sigmaShared,
    findings,
  };
}
