import { expect, test } from "vitest";
import type { DrawnComparison } from "./drawn-comparison.ts";
import { pathScale, pathsOf } from "./mean-paths.ts";
import type { PairCurve } from "./pairs/pair-curves.ts";

const curve = (column: string, meanA: readonly number[], meanB: readonly number[]): PairCurve => ({
  ...{ column, axes: undefined, title: column, unit: "mm", meanA, meanB },
  ...{ difference: [], slopeShare: [], allowedLow: [], allowedHigh: [], stretches: [] },
});
const drawn: DrawnComparison = {
  grid: { firstMs: -2, stepMs: 2, countPoints: 2 },
  rows: [],
  events: [{ event: "impact", label: "impact", ms: 0, isEstimated: false }],
  curves: [curve("both.copTarget", [0, 100], [10, 110]), curve("both.copAhead", [5, 15], [Number.NaN, 20])],
};

test("paths join target and ahead, and know where the events are", () => {
  const paths = pathsOf(drawn);
  expect(paths?.a).toEqual([
    { targetMm: 0, aheadMm: 5 },
    { targetMm: 100, aheadMm: 15 },
  ]);
  expect(paths?.events).toEqual([
    { event: "impact", label: "impact", a: { targetMm: 100, aheadMm: 15 }, b: { targetMm: 110, aheadMm: 20 } },
  ]);
  expect(pathsOf({ ...drawn, curves: drawn.curves.slice(0, 1) })).toBeUndefined();
});

test("the flag is on the right for both hands; toes are down for a right-handed player, up for a left-handed one", () => {
  const points = [
    { targetMm: 0, aheadMm: 0 },
    { targetMm: 100, aheadMm: 50 },
  ];
  for (const isAheadDown of [true, false]) {
    const { x, y } = pathScale(points, { width: 400, height: 260, isAheadDown });
    expect(x(100)).toBeGreaterThan(x(0));
    expect(y(50) > y(0)).toBe(isAheadDown);
    expect(Math.abs(x(10) - x(0))).toBeCloseTo(Math.abs(y(10) - y(0)), 9);
  }
});
