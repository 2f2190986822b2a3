import { describe, expect, it } from "vitest";
import { random } from "../../domain/src/random.ts";
import { quantileOf } from "./quantile-of.ts";
import { quantileOfOrdered } from "./samples.ts";

describe("a quantile without ordering the sample", () => {
  const stream = random(7, "quantiles");
  const samples = {
    short: Float64Array.from({ length: 37 }, () => stream.normal()),
    long: Float64Array.from({ length: 5000 }, () => stream.normal()),
    "mostly ties": Float64Array.from({ length: 5000 }, () => stream.below(3)),
    rising: Float64Array.from({ length: 5000 }, (_, k) => k),
    "tail at the front": Float64Array.from({ length: 5000 }, (_, k) => (k % 13 === 0 ? -1e9 : k)),
    one: Float64Array.of(4),
  };
  it.each(Object.keys(samples))("is that of the ordered sample: %s", (name) => {
    const values = samples[name as keyof typeof samples];
    const before = values.slice();
    const ordered = values.slice().sort();
    for (const share of [0, 1e-4, 0.0251, 0.3, 0.5, 0.5001, 0.77, 0.975, 0.99999, 1])
      expect(quantileOf(values, share)).toBe(quantileOfOrdered(ordered, share));
    expect(values).toEqual(before);
  });
  it("has none outside 0 .. 1", () => {
    expect(quantileOf(samples.short, 1.01)).toBeNaN();
    expect(quantileOf(samples.short, Number.NaN)).toBeNaN();
  });
});
