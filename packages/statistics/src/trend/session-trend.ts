import { type Difference, welch } from "../difference/welch.ts";
import { studentQuantile } from "../distributions/student-t.ts";
import { checkedLevel, type Estimate, type EstimateOptions, LEVEL_OF_ONE, ONE_LOOK } from "../estimate.ts";
import type { Streams } from "../random.ts";
import { mean, type Values, validValues, variance } from "../samples.ts";
import { kendallTest, theilSen } from "./kendall.ts";
import { leastSquares } from "./least-squares.ts";

const LEAST_FOR_TREND = 5;
const LEAST_FOR_STEPS = 8;
const LEAST_BESIDE_STEP = 3;
const DAYS_OF_SLOPE = 30;
/** Mean length of a month of the Gregorian calendar, 365.2425 / 12, to four places. */
const DAYS_PER_MONTH = 30.4375;
/** Durbin-Watson outside these: neighbouring sessions are not independent (common practice, no source). */
const INDEPENDENT = { low: 1, high: 3 } as const;

/** The kept shots of one session in one condition. */
export interface SessionShots {
  /** Day of the session, counted from any day. */
  readonly day: number;
  readonly values: Values;
}

/** A day on the chart; several sessions of one day are averaged. */
export interface SessionPoint {
  readonly day: number;
  readonly mean: number;
  /** NaN where a session has one shot. */
  readonly se: number;
  readonly low: number;
  readonly high: number;
  readonly countShots: number;
  readonly countSessions: number;
}

export interface Trend {
  readonly kind: "trend";
  /** Theil-Sen, unit of the measure per 30 days. */
  readonly slope: Estimate;
  /** Mann-Kendall. */
  readonly score: number;
  readonly p: number;
  readonly pMethod: string;
  /** Whether the change over the whole span exceeds twice what all shots of a session share. */
  readonly exceedsShared: boolean;
  readonly durbinWatson: number;
  readonly findings: readonly "sessions-hang-together"[];
}

export interface TrendWithSteps {
  readonly kind: "steps";
  /** Unit of the measure a month, beside the steps. */
  readonly slope: Estimate;
  readonly steps: readonly (Estimate & { readonly day: number; readonly exceedsShared: boolean })[];
  readonly durbinWatson: number;
  readonly findings: readonly "sessions-hang-together"[];
}

/** What may be said of so many sessions, and no more. */
export type SessionChange =
  | { readonly kind: "nothing" }
  /** Between these two days; never "improved". */
  | { readonly kind: "two-days"; readonly difference: Difference; readonly exceedsShared: boolean }
  /** Points with their intervals, no word about a trend. */
  | { readonly kind: "points" }
  | Trend
  | TrendWithSteps
  /** Too few sessions beside a break: the runs on either side apart, no slope across. */
  | { readonly kind: "apart"; readonly runs: readonly (readonly SessionPoint[])[] };

export interface SessionTrend {
  readonly points: readonly SessionPoint[];
  /** Sessions without a valid value. */
  readonly countEmpty: number;
  readonly change: SessionChange;
}

export interface SessionTrendOptions extends EstimateOptions {
  /** Uncertainty that all shots of a session share, of a difference between two sessions; unit of the measure. */
  readonly sigmaShared?: number;
  /** Days from which something known was different (club, shoe, layout, what was asked), entered before the curve was looked at. */
  readonly breaks?: readonly number[];
  readonly seed: number;
  readonly streams: Streams;
}

function pointOfDay(sessions: readonly SessionShots[], levelOfOne: number): SessionPoint {
  const shots = sessions.map(({ values }) => validValues(values));
  const centre = mean(shots.map((values) => mean(values)));
  const countShots = shots.reduce((sum, values) => sum + values.length, 0);
  const se = Math.sqrt(shots.reduce((sum, values) => sum + variance(values) / values.length, 0)) / shots.length;
  const nu = countShots - shots.length;
  const half = nu > 0 ? studentQuantile((1 + levelOfOne) / 2, nu) * se : Number.NaN;
  return {
    day: sessions[0]!.day,
    mean: centre,
    se,
    low: centre - half,
    high: centre + half,
    countShots,
    countSessions: sessions.length,
  };
}

function pointsOf(sessions: readonly SessionShots[], levelOfOne: number): readonly SessionPoint[] {
  const days = [...new Set(sessions.map(({ day }) => day))].sort((a, b) => a - b);
  return days.map((day) =>
    pointOfDay(
      sessions.filter((session) => session.day === day),
      levelOfOne,
    ),
  );
}

const hangTogether = (durbinWatson: number): readonly "sessions-hang-together"[] =>
  durbinWatson < INDEPENDENT.low || durbinWatson > INDEPENDENT.high ? ["sessions-hang-together"] : [];

function plainTrend(points: readonly SessionPoint[], options: SessionTrendOptions): Trend {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK, sigmaShared = 0 } = options;
  const days = points.map((point) => point.day);
  const means = points.map((point) => point.mean);
  const perDay = theilSen(days, means, levelOfOne);
  const test = kendallTest(days, means, options.streams(options.seed, "mann-kendall"));
  const { durbinWatson } = leastSquares(means, [days]);
  const usedSeed = test.method === "kendall-shuffles" ? { seed: options.seed } : {};
  const span = days.at(-1)! - days[0]!;
  return {
    kind: "trend",
    slope: {
      value: perDay.value * DAYS_OF_SLOPE,
      low: perDay.low * DAYS_OF_SLOPE,
      high: perDay.high * DAYS_OF_SLOPE,
      levelOfOne,
      n: points.map((point) => point.countShots),
      method: "theil-sen",
      looks,
      ...usedSeed,
      ...(test.countArrangements === undefined ? {} : { countArrangements: test.countArrangements }),
    },
    score: test.score,
    p: test.p,
    pMethod: test.method,
    exceedsShared: Math.abs(perDay.value * span) > 2 * sigmaShared,
    durbinWatson,
    findings: hangTogether(durbinWatson),
  };
}

function trendWithSteps(
  points: readonly SessionPoint[],
  breaks: readonly number[],
  options: SessionTrendOptions,
): TrendWithSteps {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK, sigmaShared = 0 } = options;
  const months = points.map((point) => point.day / DAYS_PER_MONTH);
  const columns = breaks.map((day) => points.map((point) => (point.day >= day ? 1 : 0)));
  const fit = leastSquares(
    points.map((point) => point.mean),
    [months, ...columns],
    levelOfOne,
  );
  const n = points.map((point) => point.countShots);
  const estimates = fit.coefficients
    .slice(1)
    .map(({ value, low, high }): Estimate => ({ value, low, high, levelOfOne, n, method: "least-squares", looks }));
  return {
    kind: "steps",
    slope: estimates[0]!,
    steps: breaks.map((day, k) => {
      const step = estimates[k + 1]!;
      return { ...step, day, exceedsShared: Math.abs(step.value) > 2 * sigmaShared };
    }),
    durbinWatson: fit.durbinWatson,
    findings: hangTogether(fit.durbinWatson),
  };
}

function changeOf(
  sessions: readonly SessionShots[],
  points: readonly SessionPoint[],
  options: SessionTrendOptions,
): SessionChange {
  const count = points.length;
  if (count < 2) return { kind: "nothing" };
  if (count === 2) {
    // Shots of two sessions of one day are not pooled as if they were of one.
    if (sessions.length !== 2) return { kind: "points" };
    const [first, second] = sessions.toSorted((a, b) => a.day - b.day);
    const difference = welch(first!.values, second!.values, options);
    if (difference.kind === "withheld") return { kind: "points" };
    return { kind: "two-days", difference, exceedsShared: Math.abs(difference.value) > 2 * (options.sigmaShared ?? 0) };
  }
  const first = points[0]!.day;
  const last = points.at(-1)!.day;
  const breaks = [...new Set(options.breaks ?? [])].filter((day) => day > first && day <= last).sort((a, b) => a - b);
  if (breaks.length > 0) {
    const ends = [...breaks, Number.POSITIVE_INFINITY];
    const runs = ends.map((end, k) => points.filter(({ day }) => day < end && (k === 0 || day >= ends[k - 1]!)));
    if (count < LEAST_FOR_STEPS || runs.some((run) => run.length < LEAST_BESIDE_STEP)) return { kind: "apart", runs };
    return trendWithSteps(points, breaks, options);
  }
  return count < LEAST_FOR_TREND ? { kind: "points" } : plainTrend(points, options);
}

/**
 * What has changed over sessions, as far as so many sessions can say it: nothing from one day; "between these two days" from two; points with
 * intervals from three or four; from five on a Theil-Sen slope with Mann-Kendall's exact p; with a break entered and 8 days, at least 3 on
 * each side, a slope beside steps.
 *
 * The unit is the session mean: the scatter of single shots never judges a trend. The slope has the shared uncertainty of each session inside it.
 *
 * @param sessions  kept shots of one condition, any order, unit of the measure; NaN is left out
 */
export function sessionTrend(sessions: readonly SessionShots[], options: SessionTrendOptions): SessionTrend {
  const levelOfOne = checkedLevel(options.levelOfOne ?? LEVEL_OF_ONE);
  const filled = sessions.filter(({ values }) => validValues(values).length > 0);
  const points = pointsOf(filled, levelOfOne);
  return { points, countEmpty: sessions.length - filled.length, change: changeOf(filled, points, options) };
}
