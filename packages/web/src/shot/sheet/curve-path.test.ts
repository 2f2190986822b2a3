import { expect, test } from "vitest";
import { areaPath, curvePath } from "./curve-path.ts";

const place = { x: (value: number) => value * 10, y: (sample: number) => sample };
const all = (n: number): Int32Array => Int32Array.from({ length: n }, (_, i) => i);

test("a gap lifts the pen", () => {
  expect(curvePath(Float64Array.of(1, 2, Number.NaN, 3, 4), all(5), place)).toBe(
    "M10.0 0.0L20.0 1.0M30.0 3.0L40.0 4.0",
  );
});

test("nothing to draw is an empty path", () => {
  expect(curvePath(Float64Array.of(Number.NaN), all(1), place)).toBe("");
  expect(areaPath(new Float64Array(0), all(0), place, { base: 0, side: "both" })).toBe("");
});

test("the areas above and below the base meet at it and do not overlap", () => {
  const values = Float64Array.of(3, 1);
  expect(areaPath(values, all(2), place, { base: 2, side: "above" })).toBe("M20.0 0.0L30.0 0.0L20.0 1.0L20.0 1.0Z");
  expect(areaPath(values, all(2), place, { base: 2, side: "below" })).toBe("M20.0 0.0L20.0 0.0L10.0 1.0L20.0 1.0Z");
});
