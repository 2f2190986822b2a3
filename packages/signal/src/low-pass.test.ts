import { describe, expect, test } from "vitest";
import scipy from "../../../reference/signal-scipy.json" with { type: "json" };
import { butterworthLowPass, designCutoffK, type LowPass, lowPassFromDesignFrequency } from "./low-pass.ts";

/** Power gain at a frequency: the squared size of H(e^jw), by hand from the coefficients. Two passes have this as gain. */
function gainOfBothPasses({ b0, b1, b2, a1, a2 }: LowPass, frequencyHz: number, rateHz: number): number {
  const w = (2 * Math.PI * frequencyHz) / rateHz;
  const size2 = (c0: number, c1: number, c2: number): number =>
    (c0 + c1 * Math.cos(w) + c2 * Math.cos(2 * w)) ** 2 + (c1 * Math.sin(w) + c2 * Math.sin(2 * w)) ** 2;
  return size2(b0, b1, b2) / size2(1, a1, a2);
}

function expectCoefficients(filter: LowPass, b: readonly number[], a: readonly number[]): void {
  [filter.b0, filter.b1, filter.b2].forEach((value, k) => {
    expect(Math.abs(value - b[k]!)).toBeLessThan(1e-12);
  });
  [1, filter.a1, filter.a2].forEach((value, k) => {
    expect(Math.abs(value - a[k]!)).toBeLessThan(1e-12);
  });
}

describe("coefficients equal SciPy's butter", () => {
  test.each(scipy.filters)("$cutoffHz Hz at $rateHz Hz", ({ cutoffHz, rateHz, b, a }) => {
    expectCoefficients(butterworthLowPass({ cutoffHz, rateHz }), b, a);
  });

  test("and from a design frequency without the correction", () => {
    const { designHz, rateHz, b, a } = scipy.designFrequency;
    expectCoefficients(lowPassFromDesignFrequency(designHz, rateHz), b, a);
  });
});

test.each([
  [25, 200],
  [6, 200],
  [25, 1000],
  [90, 200],
])("both passes of %d Hz at %d Hz let through 1/sqrt(2) at the cut-off", (cutoffHz, rateHz) => {
  const gain = gainOfBothPasses(butterworthLowPass({ cutoffHz, rateHz }), cutoffHz, rateHz);
  expect(Math.abs(gain - Math.SQRT1_2)).toBeLessThan(1e-9);
});

test("dividing the frequency before the tangent would be wrong: 0.732 instead of 0.707 at 25 Hz and 200 Hz", () => {
  const wrong = lowPassFromDesignFrequency(25 / 0.8022432629231502, 200);
  expect(gainOfBothPasses(wrong, 25, 200)).toBeCloseTo(0.732, 3);
});

test.each([0, -1, 500, 600, Number.NaN])("a cut-off of %d Hz at 1000 Hz is refused", (cutoffHz) => {
  expect(() => designCutoffK(cutoffHz, 1000)).toThrow(RangeError);
});
