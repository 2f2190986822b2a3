import { expect, test } from "vitest";
import scipy from "../../../reference/signal-scipy.json" with { type: "json" };
import { resampledCubic } from "./resampled-cubic.ts";

test("equals SciPy's BarycentricInterpolator on four neighbours", () => {
  const { positions, values } = scipy.resampled;
  resampledCubic(Float64Array.from(scipy.x), Float64Array.from(positions)).forEach((value, i) => {
    expect(value).toBeCloseTo(values[i]!, 9);
  });
});

test("equals a separate Python program, NaN outside", () => {
  const x = Float64Array.of(
    50,
    75.711504,
    89.39231,
    84.641016,
    63.680806,
    36.319194,
    15.358984,
    10.60769,
    24.288496,
    50,
    75.711504,
    89.39231,
  );
  const positions = Float64Array.of(0, 0.25, 1.5, 4.75, 9.999, 11, 11.2, -0.1);
  const wanted = [50, 57.205677265625006, 84.455831875, 43.05957509375, 75.6897967153228, 89.39231];
  const found = resampledCubic(x, positions);
  wanted.forEach((value, i) => {
    expect(found[i]).toBeCloseTo(value, 9);
  });
  expect(found[6]).toBeNaN();
  expect(found[7]).toBeNaN();
});

// Largest error at 1000 Hz as a share of the amplitude: the size of x'''' h⁴ 3/128 for the middle of four points.
test.each([
  [10, 3e-7],
  [20, 6e-6],
  [50, 2.5e-4],
])("a sine of %d Hz is right to %d of its amplitude", (frequencyHz, limit) => {
  const w = (2 * Math.PI * frequencyHz) / 1000;
  const x = Float64Array.from({ length: 400 }, (_, i) => Math.sin(w * i));
  const positions = Float64Array.from({ length: 1000 }, (_, i) => 5 + 0.3713 * i);
  const errors = resampledCubic(x, positions).map((value, i) => Math.abs(value - Math.sin(w * positions[i]!)));
  const worst = Math.max(...errors);
  expect(worst).toBeLessThan(limit * 1.3);
  expect(worst).toBeGreaterThan(limit / 3);
});

test("a missing neighbour makes NaN, an exact hit does not ask its neighbours", () => {
  const x = Float64Array.of(1, 2, Number.NaN, 4, 5, 6, 7, 8);
  expect([...resampledCubic(x, Float64Array.of(1, 1.5, 3.5, 4.5, 5.5))]).toEqual([2, NaN, NaN, 5.5, 6.5]);
});

test("fewer than four samples cannot be interpolated", () => {
  expect(resampledCubic(Float64Array.of(1, 2, 3), Float64Array.of(1))[0]).toBeNaN();
  expect(() => resampledCubic(new Float64Array(5), new Float64Array(2), new Float64Array(3))).toThrow(RangeError);
});
