import { expect, test } from "vitest";
import { valueAt } from "./value-at.ts";

test("lies on the straight line between samples; NaN outside", () => {
  const x = Float64Array.of(1, 3, Number.NaN, 7);
  expect(valueAt(x, 0.25)).toBe(1.5);
  expect(valueAt(x, 1)).toBe(3);
  expect(valueAt(x, 3)).toBe(7);
  for (const outside of [-0.1, 3.1, 1.5, Number.NaN]) expect(valueAt(x, outside)).toBeNaN();
  expect(valueAt(new Float64Array(0), 0)).toBeNaN();
});
