import type { Lozenge, MeasureRow } from "@underfoot/compare";

/** How a row is marked: a lozenge of condition against condition or shot against usual, a bar of two shots, or nothing. */
export type Mark = Lozenge | "bar";

/** Where the mark of a row and its grey block stand, in steps of the smallest change that leaves her scatter. */
export interface MeasureMark {
  readonly mark: Mark;
  /** Of the difference with the slope's share in it; NaN: nothing to draw. */
  readonly at: number;
  /** The slope's share: middle of the grey block. */
  readonly slope: number;
  /** False where there is no scatter to draw. */
  readonly hasBlock: boolean;
}

/** Steps beyond this are drawn at the edge, with an open end and the number. */
const FARTHEST_STEPS = 6;
/** A mark on the edge needs half its own width beside it, steps. */
const MARK_STEPS = 0.15;
/** Numbers that have room on the scale. */
const MOST_TICKS = 8;

/** One step of a row, unit of the measure; NaN without scatter. */
function stepOf(row: MeasureRow): number {
  if (row.kind === "conditions") return row.mdc;
  if (row.kind === "shot-pair") return row.mdcSingle ?? Number.NaN;
  return row.band.kind === "withheld" ? Number.NaN : (row.band.high - row.band.low) / 2;
}

function markOf(row: MeasureRow): Mark {
  if (row.kind === "conditions") return row.lozenge;
  if (row.kind === "shot-pair") return "bar";
  if (!Number.isFinite(row.steps)) return "too-few";
  return Math.abs(row.steps) >= 1 ? "beyond-alone" : "within";
}

/** Fewer shots a side have no scatter to speak of. */
const LEAST_FOR_BLOCK = 5;

function hasScatter(row: MeasureRow): boolean {
  if (!Number.isFinite(row.steps)) return false;
  return row.kind !== "conditions" || Math.min(row.a.n, row.b.n) >= LEAST_FOR_BLOCK;
}

/** The mark of a row. One shot outside its usual band is never more than beyond alone: 1 in 20 falls outside by chance. */
export function measureMark(row: MeasureRow): MeasureMark {
  const step = stepOf(row);
  const slope = step > 0 ? row.slopeShare / step : 0;
  return { mark: markOf(row), at: row.steps + slope, slope, hasBlock: hasScatter(row) };
}

/** Rows by the size of what is beyond gravity, the largest first; those that cannot be told last. */
export function bySize<R extends Pick<MeasureRow, "steps">>(rows: readonly R[]): readonly R[] {
  const size = ({ steps }: R): number => (Number.isNaN(steps) ? -1 : Math.abs(steps));
  return rows.toSorted((one, other) => size(other) - size(one));
}

/** The scale that all rows share, in whole steps on both sides of no change. */
export interface StepScale {
  readonly min: number;
  readonly max: number;
  readonly ticks: readonly number[];
  /** Share of the width from the left, 0 to 1, of a step; at the edge where it lies outside. */
  readonly share: (step: number) => number;
  readonly isOutside: (step: number) => boolean;
}

/** The least whole steps that hold every mark and block, six at most to a side. */
export function stepScale(marks: readonly MeasureMark[]): StepScale {
  const known = marks.filter(({ at }) => Number.isFinite(at));
  const ends = known.flatMap(({ at, slope }) => [at, slope - 1, slope + 1]);
  const min = Math.max(-FARTHEST_STEPS, Math.floor(Math.min(-1, ...ends) - MARK_STEPS));
  const max = Math.min(FARTHEST_STEPS, Math.ceil(Math.max(1, ...ends) + MARK_STEPS));
  const apart = max - min < MOST_TICKS ? 1 : 2;
  return {
    min,
    max,
    ticks: Array.from({ length: max - min + 1 }, (_, k) => min + k).filter((tick) => tick % apart === 0),
    share: (step) => (Math.min(max, Math.max(min, step)) - min) / (max - min),
    isOutside: (step) => step < min || step > max,
  };
}
