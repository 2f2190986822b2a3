import {
  type Comparison,
  columnParts,
  type MeanEvents,
  type MeasureRow,
  type ShotAgainstShot,
  type ShotAgainstUsual,
} from "@underfoot/compare";
import { EVENT_LABELS } from "@underfoot/report";
import { type PairCurve, type PairEvent, type PairGrid, pointAt } from "./pairs/pair-curves.ts";

/** Whatever was compared. */
export type AnyComparison = Comparison | ShotAgainstUsual | ShotAgainstShot;

/** What the page draws of a comparison. */
export interface DrawnComparison {
  readonly grid: PairGrid;
  readonly curves: readonly PairCurve[];
  readonly events: readonly PairEvent[];
  readonly rows: readonly MeasureRow[];
}

const LINES = ["start", "top", "delivery", "impact", "finish"] as const;

/** Event lines at the mean of all shots; only impact is the same instant in each of them. */
function eventLines(eventsMs: MeanEvents, isEveryEventShared: boolean): readonly PairEvent[] {
  return LINES.flatMap((event) => {
    const ms = eventsMs[event];
    if (ms === undefined) return [];
    return [{ event, label: EVENT_LABELS[event].label, ms, isEstimated: event !== "impact" && !isEveryEventShared }];
  });
}

const apart = (to: readonly number[], from: readonly number[]): number[] =>
  to.map((value, q) => value - (from[q] ?? Number.NaN));

function usualCurves({ curves, usual }: ShotAgainstUsual): Pick<DrawnComparison, "grid" | "curves"> {
  const grid = { ...usual.grid, countPoints: curves[0]?.values.length ?? 0 };
  return {
    grid,
    curves: curves.map(({ column, title, unit, mean, low, high, values, stretches, singles }) => ({
      ...{ column, title, unit, axes: columnParts(column).axes, meanA: mean, meanB: values },
      difference: apart(values, mean),
      slopeShare: values.map(() => 0),
      allowedLow: apart(low, mean),
      allowedHigh: apart(high, mean),
      stretches: stretches.map((stretch) => ({
        ...stretch,
        firstPoint: pointAt(grid, stretch.fromMs),
        lastPoint: pointAt(grid, stretch.toMs),
      })),
      ...(singles === undefined ? {} : { singles: { a: singles, b: [values] } }),
    })),
  };
}

function shotCurves({ curves, grid }: ShotAgainstShot): Pick<DrawnComparison, "grid" | "curves"> {
  return {
    grid: { ...grid, countPoints: curves[0]?.a.length ?? 0 },
    curves: curves.map(({ column, title, unit, a, b, difference, slopeShare }) => ({
      ...{ column, title, unit, axes: columnParts(column).axes, meanA: a, meanB: b, difference, slopeShare },
      ...{ allowedLow: [], allowedHigh: [], stretches: [] },
    })),
  };
}

const NO_CURVES = { grid: { firstMs: -700, stepMs: 2, countPoints: 0 }, curves: [] };

/** The falling pairs, event lines and rows of a comparison. Events outside the curves' window have no line. */
export function drawnComparison(compared: AnyComparison): DrawnComparison {
  const drawn = everythingDrawn(compared);
  const { firstMs, stepMs, countPoints } = drawn.grid;
  const lastMs = firstMs + stepMs * (countPoints - 1);
  return { ...drawn, events: drawn.events.filter(({ ms }) => ms >= firstMs && ms <= lastMs) };
}

function everythingDrawn(compared: AnyComparison): DrawnComparison {
  const { measures: rows, eventsMs } = compared;
  switch (compared.kind) {
    case "conditions": {
      const { curves } = compared;
      if (curves === undefined) return { ...NO_CURVES, rows, events: eventLines(eventsMs, false) };
      const { registration } = curves;
      const isByEvents = registration.kind === "events";
      const shared = Object.fromEntries(registration.events.map((event, k) => [event, registration.targetsMs[k]]));
      return {
        grid: registration,
        curves: curves.curves,
        rows,
        events: isByEvents ? eventLines(shared, true) : eventLines(eventsMs, false),
      };
    }
    case "shot-usual":
      return { ...usualCurves(compared), rows, events: eventLines(eventsMs, compared.usual.grid.kind === "events") };
    case "shot-pair":
      return { ...shotCurves(compared), rows, events: eventLines(eventsMs, compared.grid.kind === "events") };
  }
}
