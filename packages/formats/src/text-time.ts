import type { Samples } from "@underfoot/domain";
import type { Guess } from "./text-guess.ts";
import { textUnit } from "./text-units.ts";

export type TimeUnit = "s" | "ms" | "us";
export const SECONDS: Readonly<Record<TimeUnit, number>> = { s: 1, ms: 1e-3, us: 1e-6 };

/** A rate of a force recording, Hz; outside, the unit of time is another one. */
const LEAST_RATE_HZ = 20;
const MOST_RATE_HZ = 20_000;
/** Steps are differences of doubles: at the very edge both units are asked for. */
const EDGE = 1e-6;
const STEP_TOLERANCE = 0.01;
const SAMPLED_STEPS = 4096;
/** At least this share of steps must differ before uneven steps are put down to rounding of the printed times. */
const ROUNDING_SHARE = 0.05;
const LISTED_ROWS = 5;

const TIME_WORDS = new Set([
  "t",
  "time",
  "times",
  "timestamp",
  "sec",
  "secs",
  "second",
  "seconds",
  "msec",
  "ms",
  "zeit",
  "temps",
]);

/** The first values of a column, and how its header is written. */
export interface TimeCandidate {
  readonly name: string;
  readonly unit: string;
  readonly values: Samples;
}

export type ColumnPace =
  | { readonly kind: "time"; readonly unit: Guess<TimeUnit>; readonly confidence: number; readonly reason: string }
  | { readonly kind: "time-without-unit" }
  | { readonly kind: "counter" }
  | { readonly kind: "none" };

function timeUnitOf(word: string): TimeUnit | undefined {
  const symbol = textUnit(word)?.symbol;
  return symbol === "s" || symbol === "ms" || symbol === "us" ? symbol : undefined;
}

/** Whether a column is the time, a counter, or neither; `isFirst` allows a time column that nothing names so. */
export function columnPace({ name, unit, values }: TimeCandidate, isFirst: boolean): ColumnPace {
  const stepSize = medianStep(values);
  if (values.length < 3 || !(stepSize > 0)) return { kind: "none" };
  const written = timeUnitOf(unit);
  const { risingShare, isEven, isCount } = stepKinds(values, stepSize);
  if (isCount && written === undefined) return { kind: "counter" };
  const words = name.toLowerCase().split(/[^a-zµμ]+/);
  const isNamed = written !== undefined || words.some((word) => TIME_WORDS.has(word));
  if (isNamed ? risingShare < 0.9 : !isFirst || !isEven) return { kind: "none" };
  const unitGuess = written === undefined ? guessedUnit(stepSize) : saidUnit(written);
  if (unitGuess === undefined) return isNamed ? { kind: "time-without-unit" } : { kind: "none" };
  const reason = isNamed ? "its name or unit says time and it rises" : "it is the first column and rises evenly";
  return { kind: "time", unit: unitGuess, confidence: isNamed ? 0.95 : 0.6, reason };
}

function stepKinds(values: Samples, stepSize: number): { risingShare: number; isEven: boolean; isCount: boolean } {
  const steps = Array.from({ length: values.length - 1 }, (_, i) => values[i + 1]! - values[i]!);
  return {
    risingShare: steps.filter((size) => size > 0).length / steps.length,
    isEven: steps.every((size) => Math.abs(size - stepSize) <= STEP_TOLERANCE * stepSize),
    isCount: Number.isInteger(values[0]) && steps.every((size) => size === 1),
  };
}

const saidUnit = (unit: TimeUnit): Guess<TimeUnit> => ({
  value: unit,
  confidence: 0.99,
  reason: "written in the header",
});

/** Seconds or milliseconds, whichever gives a rate of 20 to 20,000 Hz; undefined where both or neither do. */
function guessedUnit(stepSize: number): Guess<TimeUnit> | undefined {
  const fits = (["s", "ms"] as const).filter((unit) => {
    const rateHz = 1 / (stepSize * SECONDS[unit]);
    return rateHz >= LEAST_RATE_HZ * (1 - EDGE) && rateHz <= MOST_RATE_HZ * (1 + EDGE);
  });
  const [only] = fits;
  if (only === undefined || fits.length > 1) return undefined;
  const rateHz = 1 / (stepSize * SECONDS[only]);
  return { value: only, confidence: 0.8, reason: `in ${only} the rate is ${Number(rateHz.toPrecision(6))} Hz` };
}

/** The median of up to 4096 steps, evenly spread. NaN where there is none. */
export function medianStep(values: Samples): number {
  const steps = values.length - 1;
  const count = Math.min(steps, SAMPLED_STEPS);
  if (count < 1) return Number.NaN;
  const sampled = Float64Array.from({ length: count }, (_, k) => {
    const i = Math.floor((k * steps) / count);
    return values[i + 1]! - values[i]!;
  }).sort();
  return sampled[count >> 1]!;
}

/** The rate of a time column, or the samples (from 0) at which it does not rise evenly. */
export type TimePace =
  | { readonly kind: "even"; readonly rateHz: number }
  | { readonly kind: "uneven"; readonly word: string; readonly samples: readonly number[]; readonly count: number };

/**
 * The rate of a whole time column: (n - 1) / (last - first), rounded to 1e-3 Hz where the printed times allow it.
 *
 * Even means: every step within 1 % of the median step, or within what rounding to `decimals` places does.
 *
 * @param values    times in `unit`, n samples, n >= 2
 * @param decimals  the most decimal places with which the times are written
 */
export function timePace(values: Samples, unit: TimeUnit, decimals: number): TimePace {
  const n = values.length;
  const stepSize = medianStep(values);
  const resolution = 10 ** -decimals;
  const samples: number[] = [];
  let word = "";
  let count = 0;
  for (let i = 1; i < n; i++) {
    const size = values[i]! - values[i - 1]!;
    if (stepSize > 0 && Math.abs(size - stepSize) <= STEP_TOLERANCE * stepSize) continue;
    count++;
    if (word === "") word = unevenWord(size, stepSize);
    if (samples.length < LISTED_ROWS) samples.push(i);
  }
  if (count > 0 && !isRounding(values, count, resolution)) return { kind: "uneven", word, samples, count };
  const spanS = (values[n - 1]! - values[0]!) * SECONDS[unit];
  const rateHz = (n - 1) / spanS;
  const roundHz = Math.round(rateHz * 1000) / 1000;
  const allowedS = Math.max(resolution * SECONDS[unit], 1e-12 * spanS);
  return { kind: "even", rateHz: roundHz > 0 && Math.abs((n - 1) / roundHz - spanS) <= allowedS ? roundHz : rateHz };
}

function unevenWord(size: number, stepSize: number): string {
  if (Number.isNaN(size)) return "a missing time";
  if (size <= 0) return "a step back or a repeated time";
  return size > 1.5 * stepSize ? "a gap" : "an uneven step";
}

/** Whether every time lies within one printed place of an even row of times. */
function isRounding(values: Samples, uneven: number, resolution: number): boolean {
  const n = values.length;
  if (uneven < ROUNDING_SHARE * (n - 1)) return false;
  const first = values[0]!;
  const step = (values[n - 1]! - first) / (n - 1);
  // Rounding of the first, the last and this time: half a place each way, with room for the doubles themselves.
  const allowed = resolution * 1.001;
  for (let i = 0; i < n; i++) if (!(Math.abs(values[i]! - first - i * step) <= allowed)) return false;
  return step > 0;
}
