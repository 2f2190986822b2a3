import { columnParts, type ShotAgainstUsual } from "@underfoot/compare";
import type { Shot } from "@underfoot/mechanics";
import { COLUMN_KINDS, type ColumnKindId, type SheetModel } from "@underfoot/report";

/** The curve that can be compared behind each column of the sheet. */
export const CURVE_OF_COLUMN: Readonly<Record<ColumnKindId, string>> = {
  travel: "both.travelTarget",
  speed: "both.speedTarget",
  push: "both.target",
  ahead: "both.ahead",
  up: "both.up",
  turn: "both.turn",
  couple: "both.couple",
  leadShare: "lead.share",
  leadPush: "lead.target",
  trailPush: "trail.target",
  leadAhead: "lead.ahead",
  trailAhead: "trail.ahead",
  leadUp: "lead.up",
  trailUp: "trail.up",
};

/** Where the curve of one more shot of the condition is expected, in the column's unit; one value a point. */
export interface UsualBandOfColumn {
  readonly timesMs: readonly number[];
  /** NaN where nothing is drawn. */
  readonly low: readonly number[];
  readonly high: readonly number[];
}

export type UsualBands = Readonly<Partial<Record<ColumnKindId, UsualBandOfColumn>>>;

/**
 * The usual bands of a sheet's columns, in the sheet's time. Where the other shots stand on another lie, the band moves by what the slope's
 * share differs. Empty where there are fewer than five other shots, and where the shot has no impact to count time from.
 */
export function usualBands(
  { curves, usual, isBetweenLies }: Pick<ShotAgainstUsual, "curves" | "usual" | "isBetweenLies">,
  { columns, time }: Pick<SheetModel, "columns" | "time">,
  shot: Shot,
): UsualBands {
  if (time.zero.kind !== "impact" || usual.grid.kind !== "impact") return {};
  const { firstMs, stepMs } = usual.grid;
  const bands = columns.flatMap(({ id, base }): [ColumnKindId, UsualBandOfColumn][] => {
    const curve = curves.find(({ column }) => columnParts(column).id === CURVE_OF_COLUMN[id]);
    const kind = COLUMN_KINDS.find((one) => one.id === id);
    if (curve === undefined || kind === undefined || curve.status !== "band") return [];
    const timesMs = curve.low.map((_, q) => firstMs + q * stepMs);
    const isShown = timesMs.map((ms) => ms >= time.startMs && ms <= time.endMs);
    const placed = (values: readonly number[]): number[] =>
      values.map((value, q) => {
        if (isShown[q] !== true) return Number.NaN;
        const shift =
          isBetweenLies && base !== undefined ? base.value - kind.fromMeasure(curve.slopeShare[q] ?? 0, shot) : 0;
        return kind.fromMeasure(value, shot) + shift;
      });
    return [[id, { timesMs, low: placed(curve.low), high: placed(curve.high) }]];
  });
  return Object.fromEntries(bands);
}
