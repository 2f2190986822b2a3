import { expect, test } from "vitest";
import { parabolicPeak } from "./parabolic-peak.ts";

test("finds the top of a parabola between samples", () => {
  const x = Float64Array.from({ length: 7 }, (_, i) => 10 - 2 * (i - 3.3) ** 2);
  const { offset, value } = parabolicPeak(x, 3);
  expect(offset).toBeCloseTo(0.3, 12);
  expect(value).toBeCloseTo(10, 12);
});

test("is the sample itself at an end, on a flat top, or beside a missing sample", () => {
  const x = Float64Array.of(5, 5, 5, Number.NaN, 2);
  expect(parabolicPeak(x, 0)).toEqual({ offset: 0, value: 5 });
  expect(parabolicPeak(x, 1)).toEqual({ offset: 0, value: 5 });
  expect(parabolicPeak(x, 2)).toEqual({ offset: 0, value: 5 });
  expect(parabolicPeak(x, 4)).toEqual({ offset: 0, value: 2 });
});
