import type { ComparedCurveRow } from "@underfoot/compare";

/** Equal steps in time from impact, ms. */
export interface PairGrid {
  readonly firstMs: number;
  readonly stepMs: number;
  readonly countPoints: number;
}

/** An event line across all pairs. */
export interface PairEvent {
  readonly event: "start" | "top" | "delivery" | "impact" | "finish";
  readonly label: string;
  readonly ms: number;
  /** Estimated in some shot: dotted. */
  readonly isEstimated: boolean;
}

/** Where the difference leaves what is allowed. */
interface PairStretch {
  readonly fromMs: number;
  readonly toMs: number;
  readonly firstPoint: number;
  readonly lastPoint: number;
  readonly side: "above" | "below";
}

/** What of a compared curve is drawn as it is. */
type Drawn =
  | "column"
  | "axes"
  | "title"
  | "unit"
  | "meanA"
  | "meanB"
  | "difference"
  | "slopeShare"
  | "allowedLow"
  | "allowedHigh"
  | "singles"
  | "clusters";

/** A curve of A with that of B, and B minus A. NaN where a shot has no value. */
export interface PairCurve extends Pick<ComparedCurveRow, Drawn> {
  readonly stretches: readonly PairStretch[];
}

/** Time of a point of the grid, ms from impact. */
export function pointMs({ firstMs, stepMs }: PairGrid, point: number): number {
  return firstMs + point * stepMs;
}

/** The point nearest to a time, inside the grid. */
export function pointAt({ firstMs, stepMs, countPoints }: PairGrid, ms: number): number {
  return Math.min(countPoints - 1, Math.max(0, Math.round((ms - firstMs) / stepMs)));
}
