import fc from "fast-check";
import { expect, test } from "vitest";
import { thinned } from "./thinned.ts";

const curve = fc
  .array(fc.oneof({ weight: 20, arbitrary: fc.double({ noNaN: true }) }, { weight: 1, arbitrary: fc.constant(NaN) }), {
    minLength: 1,
    maxLength: 400,
  })
  .map((values) => Float64Array.from(values));

test("at most two points a pixel, in order, least and largest kept", () => {
  fc.assert(
    fc.property(curve, fc.integer({ min: 1, max: 200 }), (values, pixels) => {
      const kept = [...thinned(values, pixels)];
      expect(kept).toEqual([...new Set(kept)].sort((a, b) => a - b));
      const points = kept.map((i) => values[i]!).filter((value) => !Number.isNaN(value));
      expect(points.length).toBeLessThanOrEqual(2 * pixels);
      const all = [...values].filter((value) => !Number.isNaN(value));
      if (all.length === 0) return;
      expect([Math.min(...points), Math.max(...points)]).toEqual([Math.min(...all), Math.max(...all)]);
    }),
  );
});

test("every curve with as many pixels as samples is kept whole", () => {
  fc.assert(
    fc.property(curve, (values) => {
      expect(thinned(values, values.length)).toEqual(Int32Array.from(values.keys()));
    }),
  );
});

test("a gap of a pixel or more lifts the pen", () => {
  const values = Float64Array.from({ length: 1000 }, (_, i) => (i >= 500 && i < 520 ? NaN : i));
  expect([...thinned(values, 100)].some((i) => Number.isNaN(values[i]!))).toBe(true);
});
