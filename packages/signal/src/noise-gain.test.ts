import { expect, test } from "vitest";
import scipy from "../../../reference/signal-scipy.json" with { type: "json" };
import { butterworthLowPass } from "./low-pass.ts";
import { standardDeviation } from "./mean.ts";
import { derivativeNoiseGainPerS, noiseGain } from "./noise-gain.ts";
import { zeroPhase } from "./zero-phase.ts";

test.each(scipy.noise.rows)("near the digital filter's own power by quadrature, $cutoffHz Hz at $rateHz Hz", (row) => {
  expect(noiseGain(row) / row.digital).toBeCloseTo(1, 2);
  expect(derivativeNoiseGainPerS(row) / row.digitalDerivativePerS).toBeCloseTo(1, 2);
});

test("the closed form to all digits", () => {
  // A separate Python program, beta function: 10, 25, 50 Hz at 1000 Hz.
  const wanted = [
    [10, 0.14411030249747822, 6.516406859647097],
    [25, 0.22785839509394137, 25.758359796037503],
    [50, 0.32224043264241903, 72.85564353608422],
  ] as const;
  for (const [cutoffHz, noise, derivative] of wanted) {
    expect(noiseGain({ cutoffHz, rateHz: 1000 })).toBeCloseTo(noise, 10);
    expect(derivativeNoiseGainPerS({ cutoffHz, rateHz: 1000 })).toBeCloseTo(derivative, 6);
  }
});

test("filtered white noise has that standard deviation", () => {
  let state = 1;
  // Sum of twelve uniform numbers less 6: sd 1 (Park-Miller generator).
  const white = Float64Array.from({ length: 60_000 }, () => {
    let sum = -6;
    for (let k = 0; k < 12; k++) {
      state = (16807 * state) % 2147483647;
      sum += state / 2147483647;
    }
    return sum;
  });
  const filtered = zeroPhase(white, butterworthLowPass({ cutoffHz: 25, rateHz: 1000 }));
  const slope = filtered.subarray(1).map((value, i) => (value - filtered[i]!) * 1000);
  expect(standardDeviation(filtered) / noiseGain({ cutoffHz: 25, rateHz: 1000 })).toBeCloseTo(1, 1);
  expect(standardDeviation(slope) / derivativeNoiseGainPerS({ cutoffHz: 25, rateHz: 1000 })).toBeCloseTo(1, 1);
});
