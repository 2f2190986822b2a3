import { expect, test } from "vitest";
import { validRuns } from "./valid-runs.ts";

test("gives each stretch without a missing sample", () => {
  const x = Float64Array.of(NaN, 1, 2, NaN, NaN, 3);
  expect(validRuns(x)).toEqual([
    { first: 1, end: 3 },
    { first: 5, end: 6 },
  ]);
  expect(validRuns(Float64Array.of(NaN))).toEqual([]);
  expect(validRuns(Float64Array.of(1))).toEqual([{ first: 0, end: 1 }]);
});
