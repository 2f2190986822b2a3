import { describe, expect, it } from "vitest";
import { validMean, validSd } from "./valid-mean.ts";

const x = Float64Array.of(1, Number.NaN, -1, 1, -1);

describe("mean and sd of the samples that are there", () => {
  it("skip missing ones", () => {
    expect(validMean(x, 0, 5)).toBe(0);
    expect(validSd(x, 0, 5)).toBeCloseTo(Math.sqrt(4 / 3), 12);
  });

  it("of none: no mean, no spread", () => {
    expect(validMean(x, 1, 2)).toBeNaN();
    expect(validSd(x, 1, 3)).toBe(0);
  });
});
