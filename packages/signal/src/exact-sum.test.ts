import fc from "fast-check";
import { expect, test } from "vitest";
import { exactSum } from "./exact-sum.ts";

test.each([
  [[], 0],
  [[1e100, 1, -1e100], 1],
  [Array.from({ length: 10 }, () => 0.1), 1],
  // Ties of the last rounding, decided by the part below (test cases of Python's math.fsum, from memory).
  [[1e16, 1, 1e-16], 1e16 + 2],
  [[1e16 - 2, 1 - 2 ** -53, -(1e16 - 2), -(1 - 2 ** -53)], 0],
  [[2 ** 53, -0.5, -(2 ** -54)], 2 ** 53 - 1],
])("%j", (values, wanted) => {
  expect(exactSum(values)).toBe(wanted);
});

test("NaN and infinities go through", () => {
  expect(exactSum([1, Number.NaN])).toBeNaN();
  expect(exactSum([1, Number.POSITIVE_INFINITY])).toBe(Number.POSITIVE_INFINITY);
});

test("order does not matter, and adding the negatives gives 0", () => {
  const numbers = fc.array(fc.double({ min: -1e12, max: 1e12, noNaN: true }), { maxLength: 60 });
  fc.assert(
    fc.property(numbers, (values) => {
      expect(exactSum(values.toReversed())).toBe(exactSum(values));
      expect(exactSum([...values, ...values.map((v) => -v)])).toBe(0);
    }),
  );
});
