import { describe, expect, test } from "vitest";
import type { PairCurve } from "./pair-curves.ts";
import { pointAt, pointMs } from "./pair-curves.ts";
import { bothDomain, boxX, differenceDomain, pairLayout, pairRoom, scaleTicks } from "./pair-layout.ts";
import { betweenPath, excessPath } from "./pair-paths.ts";

const place = { x: (value: number) => value, y: (sample: number) => 10 * sample };
const curve: PairCurve = {
  ...{ column: "both.target turf", axes: "turf", title: "Push to target", unit: "N", stretches: [] },
  meanA: [0, 10, 20],
  meanB: [60, 75, 130],
  difference: [60, 65, 110],
  slopeShare: [68, 68, 68],
  allowedLow: [48, 48, 48],
  allowedHigh: [88, 88, 88],
};

describe("the room of falling pairs", () => {
  test("three pairs beside each other, two on a phone, all inside the picture and apart", () => {
    for (const [width, count] of [
      [680, 3],
      [788, 3],
      [358, 2],
      [288, 2],
    ] as const) {
      expect(pairRoom(width)).toBe(count);
      const { pairs, lineLeft, lineRight } = pairLayout(width, count);
      const boxes = pairs.flatMap(({ both, difference }) => [both, difference]);
      expect(boxes[0]?.x).toBeGreaterThan(lineLeft);
      for (const [k, box] of boxes.entries())
        expect(box.x + box.width).toBeLessThanOrEqual((boxes[k + 1]?.x ?? lineRight + 1) - 1);
      expect(Math.min(...boxes.map((box) => box.width))).toBeGreaterThan(36);
    }
  });

  test("the difference's scale holds the allowed band, the slope's share and zero; the other holds both curves", () => {
    const { min, max } = differenceDomain(curve);
    expect(min).toBeLessThanOrEqual(0);
    expect(max).toBeGreaterThanOrEqual(110);
    expect(bothDomain(curve)).toMatchObject({ min: 0 });
    expect(bothDomain({ ...curve, singles: { a: [[-50, 0, 5]], b: [[1, 2, 300]] } }).max).toBeGreaterThanOrEqual(300);
    // A curve that hardly moves is not blown up: 40 N at least.
    const still = bothDomain({ ...curve, meanA: [1, 1, 1], meanB: [2, 2, 2] });
    expect(still.max - still.min).toBeGreaterThanOrEqual(40);
  });

  test("values outside a scale stand at its edge", () => {
    const x = boxX({ min: 0, max: 10 }, { x: 100, width: 50 });
    expect([x(0), x(5), x(10), x(99), x(-99)]).toEqual([100, 125, 150, 150, 100]);
  });

  test("numbers of a scale are round and apart", () => {
    expect(scaleTicks({ min: -20, max: 100 }, 80, 40)).toEqual([0, 100]);
    expect(scaleTicks({ min: 50, max: 90 }, 60, 26)).toEqual([60, 80]);
    expect(scaleTicks({ min: -0.05, max: 0.15 }, 60, 30)).toEqual([0, 0.1]);
  });
});

describe("what is filled", () => {
  test("a band is closed around its two edges and open where one is missing", () => {
    expect(betweenPath([1, 2], [5, 6], place)).toBe("M1.0 0.0L2.0 10.0L6.0 10.0L5.0 0.0Z");
    expect(betweenPath([1, Number.NaN, 3, 4], [5, 6, 7, 8], place)).toBe(
      "M1.0 0.0L5.0 0.0ZM3.0 20.0L4.0 30.0L8.0 30.0L7.0 20.0Z",
    );
    expect(betweenPath([], [], place)).toBe("");
  });

  test("ink fills from the edge of the band to the difference, inside the stretch only", () => {
    const above = excessPath(curve, { firstPoint: 2, lastPoint: 2, side: "above" }, place);
    expect(above).toBe("M110.0 20.0L88.0 20.0Z");
    const below = excessPath(
      { ...curve, difference: [20, 60, 60] },
      { firstPoint: 0, lastPoint: 0, side: "below" },
      place,
    );
    expect(below).toBe("M20.0 0.0L48.0 0.0Z");
  });
});

test("points and times of the grid", () => {
  const grid = { firstMs: -700, stepMs: 2, countPoints: 501 };
  expect(pointMs(grid, 350)).toBe(0);
  expect([pointAt(grid, 0), pointAt(grid, -9999), pointAt(grid, 9999)]).toEqual([350, 0, 500]);
});
