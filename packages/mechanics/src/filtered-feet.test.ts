import { random } from "@underfoot/domain";
import { butterworthLowPass, standardDeviation, zeroPhase } from "@underfoot/signal";
import { describe, expect, it } from "vitest";
import { noiseShare } from "./filtered-feet.ts";

describe("noise that the filter lets through", () => {
  it("follows from raw minus filtered: the share times its sd is the sd of filtered white noise (Monte Carlo)", () => {
    const draw = random(4, "white");
    const rateHz = 1000;
    const raw = Float64Array.from({ length: 200_000 }, () => draw.normal());
    for (const cutoffHz of [15, 25, 50]) {
      const filtered = zeroPhase(raw, butterworthLowPass({ cutoffHz, rateHz }));
      const residual = standardDeviation(raw.map((value, i) => value - filtered[i]!));
      const through = standardDeviation(filtered);
      expect(Math.abs((noiseShare(cutoffHz, rateHz) * residual) / through - 1)).toBeLessThan(0.03);
    }
  });

  it("without a filter is all of it", () => {
    expect(noiseShare(undefined, 1000)).toBeGreaterThan(1);
    expect(noiseShare(undefined, 1000)).toBeLessThan(1.06);
  });
});
