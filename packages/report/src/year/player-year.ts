import type { CatalogueEntry } from "@underfoot/mechanics";
import {
  meanInterval,
  runChart,
  type SessionTrend,
  type Streams,
  sessionTrend,
  usualBand,
} from "@underfoot/statistics";
import { isChangeBeyond } from "../comparison/rules-of-sessions.ts";
import type { Sentence } from "../sentence.ts";
import { dayNumber } from "./day-number.ts";
import { type YearChange, yearChanges } from "./year-changes.ts";
import { reachSentence, rowSentence } from "./year-sentences.ts";

/** One shot's value of the measure looked at. */
export interface YearShot {
  readonly shotId: string;
  readonly sessionId?: string | undefined;
  /** YYYY-MM-DD. */
  readonly day: string;
  readonly label: "kept" | "mishit" | "set-aside";
  readonly intent?: string | undefined;
  readonly lieName?: string | undefined;
  readonly club?: string | undefined;
  /** Unit of the measure; NaN where it could not be measured. */
  readonly value: number;
  readonly sigma: number;
}

/** What is known of a session beside its shots. */
export interface YearSession {
  readonly id: string;
  readonly day: string;
  readonly layout?: string | undefined;
  readonly shoes?: string | undefined;
  /** What was asked of the measure looked at, by intent; an absent intent asks it of all. */
  readonly asked: readonly {
    readonly intent?: string | undefined;
    readonly least?: number | undefined;
    readonly most?: number | undefined;
  }[];
}

/** One session of one condition on the chart. */
export interface YearPoint {
  /** Of its sessions, the first. */
  readonly sessionId: string | undefined;
  readonly day: string;
  readonly dayNumber: number;
  /** Kept shots with a value. */
  readonly countShots: number;
  readonly countMishits: number;
  /** Set aside, or without a value. */
  readonly countLeftOut: number;
  readonly mean: number;
  /** 95 % interval of the mean; NaN with one shot. */
  readonly low: number;
  readonly high: number;
  /** Where the next shot of that day would have fallen; from 5 shots on. */
  readonly band?: { readonly low: number; readonly high: number; readonly isRough: boolean };
  readonly shots: readonly { readonly shotId: string; readonly value: number }[];
  readonly asked?: { readonly least?: number | undefined; readonly most?: number | undefined };
  /** True where the run chart's limits are left: the one rule of a single session. */
  readonly isOutside: boolean;
}

/** One condition over the sessions. */
export interface YearRow {
  readonly key: string;
  readonly intent: string;
  readonly lieName: string;
  readonly points: readonly YearPoint[];
  readonly changes: readonly YearChange[];
  /** Limits of the run chart, from 8 sessions without a known change. */
  readonly limits?: { readonly centre: number; readonly low: number; readonly high: number };
  readonly trend: SessionTrend["change"];
  /** What may be said of the change. */
  readonly sentence: Sentence;
  /** The smallest change that could have been seen. */
  readonly reach: Sentence;
  /** Of all numbers drawn. */
  readonly domain: { readonly low: number; readonly high: number };
}

export interface PlayerYear {
  readonly entry: CatalogueEntry;
  readonly rows: readonly YearRow[];
  readonly countSessions: number;
  readonly firstDay: string | undefined;
  readonly lastDay: string | undefined;
  readonly sentence: string;
}

export interface PlayerYearOptions {
  readonly entry: CatalogueEntry;
  readonly shots: readonly YearShot[];
  readonly sessions: readonly YearSession[];
  /** Possessive of the player: "her", "his", "their". */
  readonly possessive: string;
  readonly seed: number;
  readonly streams: Streams;
}

const REFERENCE_LEAST = 8;

const keyOf = (shot: YearShot): string => `${shot.intent ?? "not said"} | ${shot.lieName ?? "not said"}`;

function grouped<T>(items: readonly T[], key: (item: T) => string): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) groups.set(key(item), [...(groups.get(key(item)) ?? []), item]);
  return groups;
}

const counts = ({ label, value }: YearShot): boolean => label === "kept" && Number.isFinite(value);

function pointOf(day: string, shots: readonly YearShot[], sessions: ReadonlyMap<string, YearSession>): YearPoint {
  const kept = shots.filter(counts);
  const values = kept.map(({ value }) => value);
  const interval = meanInterval(values);
  const band = usualBand(values);
  const sessionId = shots.find((shot) => shot.sessionId !== undefined)?.sessionId;
  const intent = shots[0]?.intent;
  const asked = sessions.get(sessionId ?? "")?.asked.find((one) => one.intent === undefined || one.intent === intent);
  return {
    sessionId,
    day,
    dayNumber: dayNumber(day),
    countShots: kept.length,
    countMishits: shots.filter(({ label }) => label === "mishit").length,
    countLeftOut: shots.filter((shot) => shot.label !== "mishit" && !counts(shot)).length,
    mean: values.reduce((sum, value) => sum + value, 0) / values.length,
    low: "low" in interval ? interval.low : Number.NaN,
    high: "high" in interval ? interval.high : Number.NaN,
    ...(band.kind === "band"
      ? { band: { low: band.low, high: band.high, isRough: band.findings.includes("band-rough") } }
      : {}),
    shots: kept.map(({ shotId, value }) => ({ shotId, value })),
    ...(asked === undefined ? {} : { asked: { least: asked.least, most: asked.most } }),
    isOutside: false,
  };
}

/**
 * What all shots of one session share is not known apart from each shot's own uncertainty, which holds it: taken as large
 * as that, so that a change between sessions is rather missed than claimed.
 */
function sharedOfDifference(shots: readonly YearShot[]): number {
  const sigmas = shots.filter(counts).map(({ sigma }) => (Number.isFinite(sigma) ? sigma : 0));
  return sigmas.length === 0 ? 0 : Math.SQRT2 * (sigmas.reduce((sum, sigma) => sum + sigma, 0) / sigmas.length);
}

function domainOf(points: readonly YearPoint[]): YearRow["domain"] {
  const numbers = points.flatMap(({ shots, band, asked, low, high }) =>
    [...shots.map(({ value }) => value), band?.low, band?.high, asked?.least, asked?.most, low, high].filter(
      (value): value is number => value !== undefined && Number.isFinite(value),
    ),
  );
  const low = Math.min(...numbers);
  const high = Math.max(...numbers);
  const margin = Math.max((high - low) * 0.06, Math.abs(high) * 1e-6, 1e-9);
  return { low: low - margin, high: high + margin };
}

function rowOf(
  shots: readonly YearShot[],
  sessions: ReadonlyMap<string, YearSession>,
  options: PlayerYearOptions,
): YearRow {
  const [first] = shots;
  const byDay = [...grouped(shots, ({ day }) => day)].sort(([a], [b]) => (a < b ? -1 : 1));
  const all = byDay.map(([day, ofDay]) => pointOf(day, ofDay, sessions));
  const points = all.filter(({ countShots }) => countShots > 0);
  const changes = yearChanges(
    byDay.map(([day, ofDay]) => ({ day, shots: ofDay.filter(counts) })).filter((one) => one.shots.length > 0),
    sessions,
  );
  const perSession = points.map((point) => ({ day: point.dayNumber, values: point.shots.map(({ value }) => value) }));
  const { change } = sessionTrend(perSession, {
    breaks: changes.map(({ day }) => dayNumber(day)),
    sigmaShared: sharedOfDifference(shots),
    seed: options.seed,
    streams: options.streams,
  });
  const chart =
    changes.length === 0
      ? runChart(
          points.map(({ mean }) => mean),
          Math.max(REFERENCE_LEAST, points.length),
        )
      : undefined;
  const isChart = chart !== undefined && chart.kind === "run-chart" && points.length >= REFERENCE_LEAST;
  const outside = new Set(isChart ? chart.outside : []);
  const text = { unit: options.entry.unit, title: options.entry.title, possessive: options.possessive };
  return {
    key: keyOf(first as YearShot),
    intent: first?.intent ?? "not said",
    lieName: first?.lieName ?? "not said",
    points: points.map((point, k) => (outside.has(k) ? { ...point, isOutside: true } : point)),
    changes,
    ...(isChart ? { limits: { centre: chart.centre, low: chart.low, high: chart.high } } : {}),
    trend: change,
    sentence: rowSentence({ change, countSessions: points.length, changes, ...text }),
    reach: reachSentence({ points, hasChanges: changes.length > 0, unit: text.unit }),
    domain: domainOf(points),
  };
}

/**
 * One measure of one player, a row a condition (intent at a lie), a point a day: means with their intervals, the usual band
 * of each day, what changed that is known, and no more said than so many sessions allow.
 *
 * Kept shots only; mishits and those set aside are counted beside. Conditions with most sessions first.
 */
export function playerYear(options: PlayerYearOptions): PlayerYear {
  const sessions = new Map(options.sessions.map((session) => [session.id, session]));
  const rows = [...grouped(options.shots, keyOf).values()]
    .map((shots) => rowOf(shots, sessions, options))
    .filter(({ points }) => points.length > 0)
    .sort((a, b) => b.points.length - a.points.length || (a.key < b.key ? -1 : 1));
  const days = [...new Set(rows.flatMap(({ points }) => points.map(({ day }) => day)))].sort();
  return {
    entry: options.entry,
    rows,
    countSessions: days.length,
    firstDay: days[0],
    lastDay: days.at(-1),
    sentence: headSentence(rows, days.length),
  };
}

function headSentence(rows: readonly YearRow[], countDays: number): string {
  if (rows.length === 0) return "No kept shot of this player has this measure yet.";
  if (countDays === 1) return "One session. Change needs at least two.";
  const said = rows.filter(({ trend }) => isChangeBeyond({ change: trend })).length;
  const conditions = rows.length === 1 ? "1 condition" : `${rows.length} conditions`;
  if (said === 0) return `${countDays} sessions, ${conditions}: no change over them beyond scatter.`;
  return `${countDays} sessions, ${conditions}: in ${said} of them a change beyond scatter, ${rows.length} looked at.`;
}
