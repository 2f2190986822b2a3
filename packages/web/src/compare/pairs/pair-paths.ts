import type { CurvePlace } from "../../shot/sheet/curve-path.ts";

const px = (value: number): string => value.toFixed(1);

/** Runs of points at which both curves are known. */
function runs(
  low: readonly number[],
  high: readonly number[],
  first: number,
  last: number,
): readonly (readonly [number, number])[] {
  const found: [number, number][] = [];
  let from = -1;
  for (let q = first; q <= last + 1; q++) {
    const isKnown = q <= last && Number.isFinite(low[q]) && Number.isFinite(high[q]);
    if (isKnown && from < 0) from = q;
    if (!isKnown && from >= 0) {
      found.push([from, q - 1]);
      from = -1;
    }
  }
  return found;
}

/**
 * The area between two falling curves, from one point to another; a gap in either is a gap.
 * @param low   n values, NaN where missing
 * @param high  likewise; which of the two is the greater does not matter
 */
export function betweenPath(
  low: readonly number[],
  high: readonly number[],
  place: CurvePlace,
  [first, last]: readonly [number, number] = [0, low.length - 1],
): string {
  return runs(low, high, Math.max(0, first), Math.min(low.length - 1, last))
    .map(([from, to]) => {
      const points: string[] = [];
      for (let q = from; q <= to; q++) points.push(`${px(place.x(low[q]!))} ${px(place.y(q))}`);
      for (let q = to; q >= from; q--) points.push(`${px(place.x(high[q]!))} ${px(place.y(q))}`);
      return `M${points.join("L")}Z`;
    })
    .join("");
}

/**
 * What of a difference lies beyond the allowed band, inside a stretch that was found beyond: filled with ink. Between the stretches nothing is
 * filled, even where the line leaves the band by a hair.
 */
export function excessPath(
  {
    difference,
    allowedLow,
    allowedHigh,
  }: {
    readonly difference: readonly number[];
    readonly allowedLow: readonly number[];
    readonly allowedHigh: readonly number[];
  },
  stretch: { readonly firstPoint: number; readonly lastPoint: number; readonly side: "above" | "below" },
  place: CurvePlace,
): string {
  const edge = stretch.side === "above" ? allowedHigh : allowedLow;
  return betweenPath(difference, edge, place, [stretch.firstPoint, stretch.lastPoint]);
}
