import type { EventName, PlayerAxes } from "@underfoot/domain";
import type { FootSeries, Measure, Shot } from "@underfoot/mechanics";
import {
  inBodyWeights,
  inCentimetres,
  inMetresPerSecond,
  inNewtonMetres,
  inNewtons,
  inPercent,
  type NumberOptions,
  type NumberText,
} from "./numbers.ts";
import { type Direction, forceColumn, forceSigmaN, slopeShareN } from "./player-force.ts";

/** Names of colour tokens; the page knows the colours. */
export type ColourToken = "lead" | "trail" | "both" | "target" | "ahead" | "up";

export type ColumnKindId =
  | "travel"
  | "speed"
  | "push"
  | "ahead"
  | "up"
  | "turn"
  | "couple"
  | "leadShare"
  | "leadPush"
  | "trailPush"
  | "leadAhead"
  | "trailAhead"
  | "leadUp"
  | "trailUp";

/** One kind of falling column: what it shows, how it is drawn and how its numbers are written. */
export interface ColumnKind {
  readonly id: ColumnKindId;
  readonly title: string;
  /** The word a screen reader says before the value. */
  readonly spoken: string;
  /** Unit of the column's values on the page. */
  readonly unit: string;
  readonly token: ColourToken;
  /** Lengths of dashes and gaps in px; empty is a solid line. */
  readonly dash: readonly number[];
  /** Where the thin zero line stands, in the column's unit, and what is written on it. */
  readonly zero: number;
  readonly zeroText: string;
  /** The scale is at least this wide, in the column's unit. */
  readonly leastSpan: number;
  /** Whole recording in the column's unit; NaN where missing or not to be trusted. Undefined: this shot has no such column. */
  readonly series: (shot: Shot, axes: PlayerAxes) => Float64Array<ArrayBuffer> | undefined;
  /** One sigma, same unit and length, where it is known at every sample. */
  readonly sigmas?: (shot: Shot, axes: PlayerAxes) => Float64Array<ArrayBuffer>;
  /** The slope's share of it, where it is the same at every instant, in the column's unit. */
  readonly base?: (shot: Shot, axes: PlayerAxes) => number;
  /** Beginning of the measure ids of its peak (`.peak`, `.peakTime`), where the catalogue has them. */
  readonly peakId?: string;
  /** Beginning of the measure ids at an event. */
  readonly eventId?: string;
  /** From a measure of the catalogue to the column's unit. */
  readonly fromMeasure: (value: number, shot: Shot) => number;
  /** Writes a value given in the column's unit. */
  readonly write: (value: number, sigma?: number, options?: NumberOptions) => NumberText;
}

/** Dashes, so that colour is never alone. */
const SOLID: readonly number[] = [];
const TRAIL_DASH = [8, 5] as const;
const AHEAD_DASH = [11, 4, 2, 4] as const;
const UP_DASH = [16, 5] as const;

const same = (value: number): number => value;

function scaledColumn(column: Readonly<Float64Array>, factor: number): Float64Array<ArrayBuffer> {
  const out = new Float64Array(column.length);
  for (let i = 0; i < out.length; i++) out[i] = column[i]! * factor;
  return out;
}

const inCm = (valueCm: number, sigmaCm?: number, options?: NumberOptions): NumberText =>
  inCentimetres(valueCm / 100, sigmaCm === undefined ? undefined : sigmaCm / 100, options);

/** One sigma of a total force at every sample, in N divided by `unitN`. */
function forceSigmas(shot: Shot, axes: PlayerAxes, direction: Direction, unitN: number): Float64Array<ArrayBuffer> {
  const sigmaN = forceSigmaN(shot, axes, direction, "absolute");
  const out = new Float64Array(shot.sampleCount);
  for (let i = 0; i < out.length; i++) out[i] = sigmaN(i) / unitN;
  return out;
}

/** A force column of one foot. */
function footForce(foot: "lead" | "trail", direction: Direction, id: ColumnKindId): ColumnKind {
  const what = direction === "target" ? "push" : direction;
  const isUp = direction === "up";
  const capital = foot === "lead" ? "Lead" : "Trail";
  return {
    id,
    title: direction === "target" ? `${capital} push to target` : `${capital} ${direction}`,
    spoken: `${foot} ${what}`,
    unit: isUp ? "BW" : "N",
    token: foot,
    dash: foot === "lead" ? SOLID : TRAIL_DASH,
    zero: 0,
    zeroText: "0",
    leastSpan: isUp ? 0.2 : 40,
    series: (shot, axes) => {
      const series: FootSeries | undefined = shot[foot];
      if (series === undefined) return undefined;
      const force = forceColumn(shot, series, axes, direction);
      return isUp ? scaledColumn(force, 1 / shot.weightN) : force;
    },
    peakId: `${foot}.${direction}`,
    fromMeasure: isUp ? (value, shot) => value / shot.weightN : same,
    write: isUp ? inBodyWeights : inNewtons,
  };
}

/** Every column that can stand on the sheet, in the order of the menu. */
export const COLUMN_KINDS: readonly ColumnKind[] = [
  {
    id: "travel",
    title: "Travel",
    spoken: "travel to target",
    unit: "cm",
    token: "target",
    dash: SOLID,
    zero: 0,
    zeroText: "0",
    leastSpan: 4,
    series: (shot, axes) => scaledColumn(shot[axes].travelTargetM, 100),
    sigmas: (shot, axes) => scaledColumn(shot[axes].travelTargetSigmaM, 100),
    eventId: "both.travelTarget.at",
    fromMeasure: (valueMm) => valueMm / 10,
    write: inCm,
  },
  {
    id: "speed",
    title: "Speed",
    spoken: "speed to target",
    unit: "m/s",
    token: "target",
    dash: SOLID,
    zero: 0,
    zeroText: "0",
    leastSpan: 0.2,
    series: (shot, axes) => scaledColumn(shot[axes].speedTargetMPerS, 1),
    sigmas: (shot, axes) => scaledColumn(shot[axes].speedTargetSigmaMPerS, 1),
    peakId: "both.speedTarget",
    eventId: "both.speedTarget.at",
    fromMeasure: same,
    write: inMetresPerSecond,
  },
  {
    id: "push",
    title: "Push to target",
    spoken: "push",
    unit: "N",
    token: "target",
    dash: SOLID,
    zero: 0,
    zeroText: "0",
    leastSpan: 60,
    series: (shot, axes) => forceColumn(shot, shot.both, axes, "target"),
    sigmas: (shot, axes) => forceSigmas(shot, axes, "target", 1),
    base: (shot, axes) => slopeShareN(shot, axes).target,
    peakId: "both.target",
    eventId: "both.target.at",
    fromMeasure: same,
    write: inNewtons,
  },
  {
    id: "ahead",
    title: "Ahead",
    spoken: "push ahead",
    unit: "N",
    token: "ahead",
    dash: AHEAD_DASH,
    zero: 0,
    zeroText: "0",
    leastSpan: 60,
    series: (shot, axes) => forceColumn(shot, shot.both, axes, "ahead"),
    sigmas: (shot, axes) => forceSigmas(shot, axes, "ahead", 1),
    base: (shot, axes) => slopeShareN(shot, axes).ahead,
    peakId: "both.ahead",
    eventId: "both.ahead.at",
    fromMeasure: same,
    write: inNewtons,
  },
  {
    id: "up",
    title: "Up",
    spoken: "up",
    unit: "BW",
    token: "up",
    dash: UP_DASH,
    zero: 1,
    zeroText: "1 BW",
    leastSpan: 0.2,
    series: (shot, axes) => scaledColumn(forceColumn(shot, shot.both, axes, "up"), 1 / shot.weightN),
    sigmas: (shot, axes) => forceSigmas(shot, axes, "up", shot.weightN),
    peakId: "both.up",
    eventId: "both.up.at",
    fromMeasure: (valueN, shot) => valueN / shot.weightN,
    write: inBodyWeights,
  },
  {
    id: "turn",
    title: "Turning torque",
    spoken: "turning torque",
    unit: "N m",
    token: "both",
    dash: SOLID,
    zero: 0,
    zeroText: "0",
    leastSpan: 10,
    series: (shot) => scaledColumn(shot.both.freeMomentNm, 1),
    peakId: "both.turn",
    eventId: "both.turn.at",
    fromMeasure: same,
    write: inNewtonMetres,
  },
  {
    id: "couple",
    title: "Couple of the feet",
    spoken: "couple",
    unit: "N m",
    token: "both",
    dash: SOLID,
    zero: 0,
    zeroText: "0",
    leastSpan: 10,
    series: (shot) => (hasBothFeet(shot) ? scaledColumn(shot.coupleNm, 1) : undefined),
    peakId: "both.couple",
    eventId: "both.couple.at",
    fromMeasure: same,
    write: inNewtonMetres,
  },
  {
    id: "leadShare",
    title: "Lead share",
    spoken: "lead share",
    unit: "%",
    token: "lead",
    dash: SOLID,
    zero: 50,
    zeroText: "50",
    leastSpan: 20,
    series: (shot) => (hasBothFeet(shot) ? scaledColumn(shot.leadShare, 100) : undefined),
    peakId: "lead.share",
    eventId: "lead.share.at",
    fromMeasure: same,
    write: inPercent,
  },
  footForce("lead", "target", "leadPush"),
  footForce("trail", "target", "trailPush"),
  footForce("lead", "ahead", "leadAhead"),
  footForce("trail", "ahead", "trailAhead"),
  footForce("lead", "up", "leadUp"),
  footForce("trail", "up", "trailUp"),
];

/** The five that stand on the sheet until someone swaps one. */
export const DEFAULT_COLUMNS: readonly ColumnKindId[] = ["travel", "speed", "push", "ahead", "up"];

/** More than these do not fit beside each other. */
export const MOST_COLUMNS = 5;

export function columnKind(id: ColumnKindId): ColumnKind {
  const kind = COLUMN_KINDS.find((candidate) => candidate.id === id);
  if (kind === undefined) throw new RangeError(`there is no column "${id}"`);
  return kind;
}

function hasBothFeet(shot: Shot): boolean {
  return shot.lead !== undefined && shot.trail !== undefined;
}

/** A measure's number and uncertainty in the unit of a column. */
export function measureInColumn(
  kind: ColumnKind,
  shot: Shot,
  measure: Measure,
): { readonly value: number; readonly sigma: number } {
  return { value: kind.fromMeasure(measure.value, shot), sigma: Math.abs(kind.fromMeasure(measure.sigma, shot)) };
}

/** Measure id of a column at an event. */
export function columnEventId(kind: ColumnKind, event: EventName): string | undefined {
  return kind.eventId === undefined ? undefined : `${kind.eventId}.${event}`;
}
