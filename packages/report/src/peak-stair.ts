import type { PlayerAxes } from "@underfoot/domain";
import type { Measure, Shot } from "@underfoot/mechanics";
import { columnKind } from "./column-kinds.ts";
import { validMeasureOf } from "./measure-of.ts";
import { inMilliseconds } from "./numbers.ts";
import { type Direction, forceColumn } from "./player-force.ts";
import { eventOf, msFromS, sampleAt, type TimeZero } from "./shot-time.ts";

/** Peaks of the three forces are looked for this long before top and after impact, s (mechanics, measures). */
const AROUND_S = 0.15;
/** Two peaks closer than this many sigmas of their distance are "together". */
const TOGETHER_SIGMAS = 2;

/** The peak of one of the three forces in the downswing. */
export interface StairPeak {
  readonly direction: Direction;
  /** The column that shows this force. */
  readonly column: "push" | "ahead" | "up";
  readonly timeMs: number;
  /** Column's unit. */
  readonly value: number;
}

/** From one peak to the next in time. */
export interface StairStep {
  readonly from: Direction;
  readonly to: Direction;
  readonly gapMs: number;
  /** One sigma of the gap, ms; undefined where the catalogue gives none. */
  readonly sigmaMs: number | undefined;
  /** Within the timing uncertainty: drawn dotted. */
  readonly isTogether: boolean;
  /** "55 ms" or "together". */
  readonly text: string;
}

/** Which of the three forces peaks when. */
export interface PeakStair {
  /** Target, ahead, up: the order of the columns. */
  readonly peaks: readonly StairPeak[];
  /** Target to ahead, ahead to up, as drawn; a peak before its neighbour's has a negative gap. */
  readonly steps: readonly StairStep[];
  /** The three in order of time. */
  readonly order: readonly StairPeak[];
  /** Steps along that order. */
  readonly orderSteps: readonly StairStep[];
}

const DIRECTIONS = [
  { direction: "target", column: "push" },
  { direction: "ahead", column: "ahead" },
  { direction: "up", column: "up" },
] as const;

/** Ids of the catalogue's gaps, later less earlier in this order. */
const GAP_IDS = [
  { from: "target", to: "ahead", id: "both.peakGap.targetToAhead" },
  { from: "ahead", to: "up", id: "both.peakGap.aheadToUp" },
  { from: "target", to: "up", id: "both.peakGap.targetToUp" },
] as const;

/** Peaks between top - 150 ms and impact + 150 ms. Undefined without top or impact, or where a force is missing there. */
export function peakStair(
  shot: Shot,
  measures: readonly Measure[],
  axes: PlayerAxes,
  zero: TimeZero,
): PeakStair | undefined {
  const top = eventOf(shot, "top");
  const impact = eventOf(shot, "impact");
  if (top === undefined || impact === undefined) return undefined;
  const first = sampleAt(shot, top.timeS - AROUND_S);
  const last = sampleAt(shot, impact.timeS + AROUND_S);
  const peaks: StairPeak[] = [];
  for (const { direction, column } of DIRECTIONS) {
    const force = forceColumn(shot, shot.both, axes, direction);
    const place = highest(force, first, last);
    if (place === undefined) return undefined;
    const value = columnKind(column).fromMeasure(force[Math.round(place)]!, shot);
    peaks.push({ direction, column, timeMs: msFromS(zero, place / shot.rateHz), value });
  }
  const order = [...peaks].sort((a, b) => a.timeMs - b.timeMs);
  const step = (from: StairPeak, to: StairPeak): StairStep => stairStep(measures, axes, from, to);
  return {
    peaks,
    steps: [step(peaks[0]!, peaks[1]!), step(peaks[1]!, peaks[2]!)],
    order,
    orderSteps: [step(order[0]!, order[1]!), step(order[1]!, order[2]!)],
  };
}

/** Place of the highest sample, refined by the parabola through it and its neighbours; undefined beside a gap. */
function highest(force: Readonly<Float64Array>, first: number, last: number): number | undefined {
  let at = first;
  for (let i = first; i <= last; i++) {
    if (Number.isNaN(force[i]!)) return undefined;
    if (force[i]! > force[at]!) at = i;
  }
  if (at === first || at === last) return at;
  const before = force[at - 1]!;
  const after = force[at + 1]!;
  const bend = before - 2 * force[at]! + after;
  return bend < 0 ? at + (before - after) / (2 * bend) : at;
}

function stairStep(measures: readonly Measure[], axes: PlayerAxes, from: StairPeak, to: StairPeak): StairStep {
  const gap = GAP_IDS.find(
    ({ from: a, to: b }) =>
      (a === from.direction && b === to.direction) || (a === to.direction && b === from.direction),
  );
  const measure = gap === undefined ? undefined : validMeasureOf(measures, gap.id, axes);
  const sign = gap?.from === from.direction ? 1 : -1;
  const gapMs = measure === undefined ? to.timeMs - from.timeMs : sign * measure.value;
  const isTogether = measure !== undefined && Math.abs(gapMs) < TOGETHER_SIGMAS * measure.sigma;
  return {
    from: from.direction,
    to: to.direction,
    gapMs,
    sigmaMs: measure?.sigma,
    isTogether,
    text: isTogether ? "together" : inMilliseconds(Math.abs(gapMs), measure?.sigma).text,
  };
}
