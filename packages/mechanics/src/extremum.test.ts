import { describe, expect, test } from "vitest";
import { extremum, hasTwoPeaks } from "./extremum.ts";

const parabola = Float64Array.from({ length: 21 }, (_, i) => 5 - (i - 9.3) ** 2);
const WHOLE = { first: 0, end: 21 };

describe("extremum of a curve in a window", () => {
  test("is exact for a parabola, largest and smallest", () => {
    const peak = extremum(parabola, WHOLE, 1)!;
    expect(peak.value).toBeCloseTo(5, 12);
    expect(peak.position).toBeCloseTo(9.3, 12);
    expect(peak.edge).toBe(0);
    expect(
      extremum(
        parabola.map((x) => -x),
        WHOLE,
        -1,
      )!.position,
    ).toBeCloseTo(9.3, 12);
  });

  test("at an end of the window it is the sample there", () => {
    expect(extremum(parabola, { first: 12, end: 21 }, 1)).toMatchObject({
      position: 12,
      edge: -1,
      value: parabola[12],
    });
    expect(extremum(parabola, { first: 0, end: 8 }, 1)).toMatchObject({ position: 7, edge: 1 });
  });

  test("missing samples are passed over; nothing but missing samples has none, nor an empty window", () => {
    const holed = parabola.map((x, i) => (i === 9 ? Number.NaN : x));
    expect(extremum(holed, WHOLE, 1)).toMatchObject({ sample: 10, position: 10 });
    expect(extremum(new Float64Array(3).fill(Number.NaN), { first: 0, end: 3 }, 1)).toBeUndefined();
    expect(extremum(parabola, { first: 4, end: 4 }, 1)).toBeUndefined();
  });
});

describe("two peaks", () => {
  const options = { side: 1 as const, tolerance: 4, rateHz: 1000 };
  const curve = (f: (ms: number) => number): Float64Array<ArrayBuffer> =>
    Float64Array.from({ length: 400 }, (_, i) => f(i));
  const hill = (middle: number, width: number) => (ms: number) => 100 * Math.exp(-(((ms - middle) / width) ** 2));
  const window = { first: 0, end: 400 };
  const asked = (c: Float64Array<ArrayBuffer>): boolean => hasTwoPeaks(c, window, extremum(c, window, 1)!, options);

  test("a single hill has one", () => expect(asked(curve(hill(200, 40)))).toBe(false));
  test("two hills within the tolerance have two", () => {
    expect(asked(curve((t) => hill(100, 30)(t) + 0.97 * hill(300, 30)(t)))).toBe(true);
    expect(asked(curve((t) => hill(100, 30)(t) + 0.94 * hill(300, 30)(t)))).toBe(false);
  });
  test("a hill that is flat 50 ms from its top has no single time", () =>
    expect(asked(curve(hill(200, 300)))).toBe(true));
  test("a curve still near its peak at the window's end has none", () => {
    expect(asked(curve((t) => t / 4))).toBe(true);
    expect(asked(curve((t) => hill(200, 40)(t) + (t > 390 ? 98 : 0)))).toBe(true);
  });
});
