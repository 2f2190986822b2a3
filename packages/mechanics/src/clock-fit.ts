import type { Finding } from "@underfoot/domain";
import { clockFindings } from "./clock-findings.ts";

/** One answered ping: what the plate's clock read, and when this computer thinks it did (middle of sent and received). */
export interface ClockReading {
  /** Ticks of the plate's clock since its start, unwrapped. */
  readonly ticks: number;
  readonly hostS: number;
  readonly roundTripS: number;
}

export interface ClockFitOptions {
  readonly ticksPerSecond: number;
  /** Length of the sliding window, s. */
  readonly windowS?: number;
  /** Only this share of the window's readings is used: those with the shortest round trips. */
  readonly fastestShare?: number;
  /** A clock may be off by this before something is said, millionths. */
  readonly rateLimitPpm?: number;
}

/** The straight line host time = hostS + secondsPerTick (ticks - centreTicks), and how well it is known. */
export interface ClockFit {
  /** Mean of the readings used. */
  readonly centreTicks: number;
  /** Host time there, s. */
  readonly hostS: number;
  readonly secondsPerTick: number;
  /** How much too fast the plate's clock runs, millionths. */
  readonly rateErrorPpm: number;
  /** One sigma of the line at its centre, s, and of its slope, s per tick. */
  readonly centreSigmaS: number;
  readonly slopeSigmaSPerTick: number;
  /** Half the shortest round trip: what a one-sided network could hide, s. */
  readonly asymmetrySigmaS: number;
  readonly usedCount: number;
  readonly findings: readonly Finding[];
}

/** Fewer readings than this are all used, however slow (ours). */
const FEWEST_READINGS = 5;

/**
 * Straight line from the ticks of a plate's clock to host time, by least squares on the fastest fifth of the round trips
 * in the last 60 s before the newest reading. Below three readings, or with all at one time, the nominal rate is kept.
 *
 * A network that is slower one way than the other shifts the line and cannot be seen from round trips: half the shortest
 * one therefore stays in the sigma (simulated: true error 0.13 ms where 0.6 ms is stated).
 *
 * @param readings  in any order
 * @returns         undefined without a reading
 */
export function clockFit(
  readings: readonly ClockReading[],
  { ticksPerSecond, windowS = 60, fastestShare = 0.2, rateLimitPpm = 200 }: ClockFitOptions,
): ClockFit | undefined {
  const used = fastest(readings, windowS, fastestShare);
  const shortest = used[0];
  if (shortest === undefined) return undefined;
  const count = used.length;
  // Differences from one reading: host times are large numbers and would cost digits.
  const ticks = used.map((reading) => reading.ticks - shortest.ticks);
  const host = used.map((reading) => reading.hostS - shortest.hostS);
  const meanTicks = total(ticks) / count;
  const meanHostS = total(host) / count;
  const spread = total(ticks.map((tick) => (tick - meanTicks) ** 2));
  const isSloped = count >= 3 && spread > 0;
  const nominal = 1 / ticksPerSecond;
  const secondsPerTick = isSloped
    ? total(ticks.map((tick, i) => (tick - meanTicks) * (host[i]! - meanHostS))) / spread
    : nominal;
  const squares = total(host.map((at, i) => (at - meanHostS - secondsPerTick * (ticks[i]! - meanTicks)) ** 2));
  const sigmaS = isSloped ? Math.sqrt(squares / (count - 2)) : 0;
  const slopeSigmaSPerTick = isSloped ? sigmaS / Math.sqrt(spread) : rateLimitPpm * 1e-6 * nominal;
  const rateErrorPpm = 1e6 * (nominal / secondsPerTick - 1);
  // A short fit scatters by more than the limit: speak only of what stands out of its own scatter.
  const excessPpm = Math.abs(rateErrorPpm) - (isSloped ? 3e6 * slopeSigmaSPerTick * ticksPerSecond : 0);
  return {
    centreTicks: shortest.ticks + meanTicks,
    hostS: shortest.hostS + meanHostS,
    secondsPerTick,
    rateErrorPpm,
    centreSigmaS: sigmaS / Math.sqrt(count),
    slopeSigmaSPerTick,
    asymmetrySigmaS: shortest.roundTripS / 2,
    usedCount: count,
    findings: excessPpm > rateLimitPpm ? [clockFindings.rate(rateErrorPpm, rateLimitPpm)] : [],
  };
}

/** Host time of a tick, s. */
export function hostTimeS(fit: ClockFit, ticks: number): number {
  return fit.hostS + fit.secondsPerTick * (ticks - fit.centreTicks);
}

/** One sigma of that host time, s: line, slope and network in quadrature. */
export function hostTimeSigmaS(fit: ClockFit, ticks: number): number {
  return Math.hypot(fit.centreSigmaS, fit.slopeSigmaSPerTick * (ticks - fit.centreTicks), fit.asymmetrySigmaS);
}

/** The readings of the window with the shortest round trips, shortest first. */
function fastest(readings: readonly ClockReading[], windowS: number, share: number): ClockReading[] {
  let newestS = Number.NEGATIVE_INFINITY;
  for (const reading of readings) newestS = Math.max(newestS, reading.hostS);
  const inWindow = readings.filter((reading) => reading.hostS >= newestS - windowS);
  const count = Math.max(Math.ceil(share * inWindow.length), Math.min(FEWEST_READINGS, inWindow.length));
  return inWindow.toSorted((a, b) => a.roundTripS - b.roundTripS).slice(0, count);
}

function total(values: readonly number[]): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum;
}
