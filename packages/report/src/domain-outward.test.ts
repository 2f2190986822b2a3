import { expect, test } from "vitest";
import { domainOutward } from "./domain-outward.ts";

test("a scale is rounded outward and holds zero, values and the slope share", () => {
  expect(domainOutward(Float64Array.of(12, 151), [0, 68], 60)).toEqual({ min: 0, max: 200 });
  expect(domainOutward(Float64Array.of(-1.7, 4.9), [0], 4)).toEqual({ min: -2, max: 6 });
  expect(domainOutward(Float64Array.of(0.93, 1.12), [1], 0.2)).toEqual({ min: 0.9, max: 1.15 });
});

test("a flat curve still gets the least width", () => {
  expect(domainOutward(Float64Array.of(0, 0), [0], 4)).toEqual({ min: -2, max: 2 });
});

test("missing values do not count, and nothing but missing values is a scale about zero", () => {
  expect(domainOutward(Float64Array.of(NaN, 3), [0], 1)).toEqual({ min: 0, max: 3 });
  expect(domainOutward(Float64Array.of(NaN), [], 4)).toEqual({ min: -2, max: 2 });
});
