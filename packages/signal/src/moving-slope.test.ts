import { expect, test } from "vitest";
import scipy from "../../../reference/signal-scipy.json" with { type: "json" };
import { movingSlope } from "./moving-slope.ts";

test("equals SciPy's savgol_filter of degree 1, first derivative", () => {
  const { windowSamples, rateHz, slope } = scipy.movingSlope;
  const found = movingSlope(Float64Array.from(scipy.x), { windowSamples, rateHz });
  expect(found.subarray(0, 5).every(Number.isNaN)).toBe(true);
  expect(found.subarray(-5).every(Number.isNaN)).toBe(true);
  const scale = Math.max(...slope.map(Math.abs));
  slope.forEach((wanted, i) => {
    expect(Math.abs(found[i + 5]! - wanted)).toBeLessThan(1e-10 * scale);
  });
});

test("stays exact over a long recording on a large load", () => {
  const x = Float64Array.from({ length: 100_000 }, (_, i) => 800 + 0.25 * (i % 1000));
  const found = movingSlope(x, { windowSamples: 51, rateHz: 1000 });
  expect(found[99_500]).toBeCloseTo(250, 8);
});

test("windows that touch a missing sample, or do not fit, are NaN", () => {
  const x = Float64Array.from({ length: 20 }, (_, i) => 3 * i);
  x[10] = Number.NaN;
  const found = [...movingSlope(x, { windowSamples: 5, rateHz: 10 })];
  const wanted = found.map((_, i) => ((i >= 2 && i <= 7) || (i >= 13 && i <= 17) ? 30 : Number.NaN));
  expect(found.map((value) => Number(value.toFixed(9)))).toEqual(wanted);
  expect([...movingSlope(new Float64Array(2), { windowSamples: 3, rateHz: 1 })]).toEqual([NaN, NaN]);
});

test.each([1, 2, 50, Number.NaN])("a window of %d samples is refused", (windowSamples) => {
  expect(() => movingSlope(new Float64Array(100), { windowSamples, rateHz: 1000 })).toThrow(RangeError);
});
