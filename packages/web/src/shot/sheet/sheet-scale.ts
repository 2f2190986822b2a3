import type { TurfPoint } from "@underfoot/domain";
import type { SheetLayout } from "./sheet-layout.ts";

/** The one scale of a sheet: plan and fall share `xTarget`, every column shares `yTime`. All results in px. */
export interface SheetScale {
  readonly pxPerM: number;
  readonly xTarget: (targetM: number) => number;
  /** Place on the plan: a rotation of the ground, never a mirror image. */
  readonly yAhead: (aheadM: number) => number;
  /** Time falls. Times are ms from the shot's zero, as the sheet's model has them. */
  readonly yTime: (timeMs: number) => number;
  readonly msAt: (yPx: number) => number;
}

export interface SheetExtent {
  /** What must be seen on the plan: soles, CoP, or plates where there are no soles. */
  readonly points: readonly TurfPoint[];
  readonly startMs: number;
  readonly endMs: number;
  /** Toes point down the screen: right-handed. */
  readonly isAheadDown: boolean;
}

/** Above the feet: caption, arrow scale and heights; below them: the load numbers. */
const PLAN_HEAD_PX = 74;
const PLAN_FOOT_PX = 84;
const PLAN_SIDE_PX = 26;

/**
 * The scale of one sheet. The flag is always on the right, so the target direction runs right; seen from above,
 * a right-handed player's toes then point down the screen and a left-handed player's up.
 */
export function sheetScale(layout: SheetLayout, { points, startMs, endMs, isAheadDown }: SheetExtent): SheetScale {
  const targets = points.map((point) => point.targetM);
  const aheads = points.map((point) => point.aheadM);
  const [leastTarget, mostTarget] = ends(targets);
  const [leastAhead, mostAhead] = ends(aheads);
  const { plan } = layout;
  const pxPerM = Math.min(
    (plan.width - 2 * PLAN_SIDE_PX) / (mostTarget - leastTarget),
    (plan.height - PLAN_HEAD_PX - PLAN_FOOT_PX) / (mostAhead - leastAhead),
  );
  const middleTarget = (leastTarget + mostTarget) / 2;
  const middleAhead = (leastAhead + mostAhead) / 2;
  const middleX = plan.x + plan.width / 2;
  const middleY = plan.y + (PLAN_HEAD_PX + plan.height - PLAN_FOOT_PX) / 2;
  const downTheScreen = isAheadDown ? 1 : -1;
  const { fallTop, fallBottom } = layout;
  const pxPerMs = (fallBottom - fallTop) / (endMs - startMs);
  return {
    pxPerM,
    xTarget: (targetM) => middleX + (targetM - middleTarget) * pxPerM,
    yAhead: (aheadM) => middleY + downTheScreen * (aheadM - middleAhead) * pxPerM,
    yTime: (timeMs) => fallTop + (timeMs - startMs) * pxPerMs,
    msAt: (yPx) => startMs + (yPx - fallTop) / pxPerMs,
  };
}

/** Least and most of some metres, at least 20 cm apart so that a plan of one point still has a scale. */
function ends(valuesM: readonly number[]): readonly [number, number] {
  const known = valuesM.filter(Number.isFinite);
  if (known.length === 0) return [-0.4, 0.4];
  const least = Math.min(...known);
  const most = Math.max(...known);
  const missing = Math.max(0, 0.2 - (most - least)) / 2;
  return [least - missing, most + missing];
}
