import { expect, test } from "vitest";
import scipy from "../../../reference/signal-scipy.json" with { type: "json" };
import { mean, standardDeviation } from "./mean.ts";

test("equal NumPy's mean and std(ddof=1)", () => {
  const x = Float64Array.from(scipy.x);
  expect(mean(x)).toBeCloseTo(scipy.mean, 10);
  expect(standardDeviation(x)).toBeCloseTo(scipy.standardDeviation, 10);
});

test("of a stretch [first, end)", () => {
  const x = Float64Array.of(100, 2, 4, 6, 100);
  expect(mean(x, 1, 4)).toBe(4);
  expect(standardDeviation(x, 1, 4)).toBe(2);
});

test("mixed sizes do not lose the small ones", () => {
  expect(mean(Float64Array.of(1e16, 1, 1, -1e16))).toBe(0.5);
});

test("nothing, one, and a missing sample", () => {
  expect(mean(new Float64Array(0))).toBeNaN();
  expect(mean(Float64Array.of(3))).toBe(3);
  expect(standardDeviation(Float64Array.of(3))).toBeNaN();
  expect(mean(Float64Array.of(1, Number.NaN))).toBeNaN();
});
