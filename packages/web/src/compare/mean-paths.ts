import type { DrawnComparison } from "./drawn-comparison.ts";
import { type PairEvent, pointAt } from "./pairs/pair-curves.ts";

/** Place of the pressure, mm from the middle between the feet. */
export interface PathPoint {
  readonly targetMm: number;
  readonly aheadMm: number;
}

export interface MeanPaths {
  readonly a: readonly PathPoint[];
  readonly b: readonly PathPoint[];
  readonly events: readonly (Pick<PairEvent, "event" | "label"> & { readonly a: PathPoint; readonly b: PathPoint })[];
}

/** The curves that a path is made of. */
export const PATH_CURVES = ["both.copTarget", "both.copAhead"] as const;

/** The two mean paths; undefined where they are not known anywhere. */
export function pathsOf({ curves, events, grid }: DrawnComparison): MeanPaths | undefined {
  const [target, ahead] = PATH_CURVES.map((name) => curves.find(({ column }) => column === name));
  if (target === undefined || ahead === undefined) return undefined;
  const points = (side: "meanA" | "meanB"): readonly PathPoint[] =>
    target[side].map((targetMm, q) => ({ targetMm, aheadMm: ahead[side][q] ?? Number.NaN }));
  const [a, b] = [points("meanA"), points("meanB")];
  const isKnown = [...a, ...b].some(({ targetMm, aheadMm }) => Number.isFinite(targetMm + aheadMm));
  const missing: PathPoint = { targetMm: Number.NaN, aheadMm: Number.NaN };
  const at = (side: readonly PathPoint[], ms: number): PathPoint => side[pointAt(grid, ms)] ?? missing;
  return isKnown
    ? { a, b, events: events.map(({ event, label, ms }) => ({ event, label, a: at(a, ms), b: at(b, ms) })) }
    : undefined;
}

/** One scale for both directions: a rotation of the ground, never a mirror image; the flag is on the right. */
export function pathScale(
  points: readonly PathPoint[],
  { width, height, isAheadDown }: { readonly width: number; readonly height: number; readonly isAheadDown: boolean },
) {
  const known = points.filter(({ targetMm, aheadMm }) => Number.isFinite(targetMm + aheadMm));
  const range = (of: (point: PathPoint) => number): readonly [number, number] => {
    const values = known.map(of);
    return [Math.min(...values), Math.max(...values)];
  };
  const [targets, aheads] = [range(({ targetMm }) => targetMm), range(({ aheadMm }) => aheadMm)];
  const span = ([least, most]: readonly [number, number]): number => Math.max(LEAST_SPAN_MM, most - least);
  const pxPerMm = Math.max(
    0,
    Math.min((width - 2 * MARGIN_PX) / span(targets), (height - 2 * MARGIN_PX) / span(aheads)),
  );
  const middle = ([least, most]: readonly [number, number]): number => (least + most) / 2;
  const down = isAheadDown ? 1 : -1;
  return {
    pxPerMm,
    x: (targetMm: number): number => width / 2 + (targetMm - middle(targets)) * pxPerMm,
    y: (aheadMm: number): number => height / 2 + down * (aheadMm - middle(aheads)) * pxPerMm,
  };
}

const MARGIN_PX = 30;
const LEAST_SPAN_MM = 60;
