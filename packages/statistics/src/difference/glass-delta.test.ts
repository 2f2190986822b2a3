import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import { glassDelta, isBootstrapOffered, skewness } from "./glass-delta.ts";

const draw = { seed: 2, streams: random, label: "glass/m/A/B", countResamples: 2000 };
const a = [10, 12, 11, 9, 10.5, 11.5, 9.5, 10.8, 10.2];
const b = [20, 31, 25, 12, 28, 17, 35, 22];

describe("Glass's delta", () => {
  it("is the difference in sds of the reference, with an interval about it that repeats from its seed", () => {
    const found = glassDelta(a, b, draw);
    if (found.kind === "withheld") throw new Error("withheld");
    const meanA = 94.5 / 9;
    const sdA = Math.sqrt(a.reduce((sum, value) => sum + (value - meanA) ** 2, 0) / 8);
    expect(found.value).toBeCloseTo((23.75 - meanA) / sdA, 12);
    expect(found.low).toBeGreaterThan(3);
    expect(found.low).toBeLessThan(found.value);
    expect(found.high).toBeGreaterThan(found.value);
    expect(glassDelta(a, b, draw)).toEqual(found);
  });
  it("moves with neither unit nor zero", () => {
    const moved = (values: number[]) => values.map((value) => 5 * value - 3);
    const [one, other] = [glassDelta(a, b, draw), glassDelta(moved(a), moved(b), draw)];
    if (one.kind === "withheld" || other.kind === "withheld") throw new Error("withheld");
    expect(other.value).toBeCloseTo(one.value, 10);
    expect(other.high).toBeCloseTo(one.high, 8);
  });
  it("is withheld below eight, or where the reference does not scatter", () => {
    expect(glassDelta(a.slice(0, 7), b, draw)).toMatchObject({ kind: "withheld", needed: 8, n: [7, 8] });
    expect(glassDelta(Array(8).fill(3), b, draw)).toMatchObject({ kind: "withheld", reason: "no-scatter" });
  });
});

describe("skewness", () => {
  it("is 0 of symmetric values, and of 0 0 0 1 the 2/√3 of a Bernoulli law with p = ¼ (closed form (1 - 2p)/√(p(1 - p)))", () => {
    expect(skewness([1, 2, 3, 4, 5])).toBeCloseTo(0, 12);
    expect(skewness([0, 0, Number.NaN, 0, 1])).toBeCloseTo(0.5 / Math.sqrt(3 / 16), 12);
    expect(skewness([2, 2])).toBeNaN();
  });
  it("offers a bootstrap for a skewed group of eight or more", () => {
    const skewed = [1, 1, 1, 1, 1, 1, 1, 9];
    expect(isBootstrapOffered(skewed, b)).toBe(true);
    expect(isBootstrapOffered(a, b)).toBe(false);
    expect(isBootstrapOffered(skewed.slice(1), b)).toBe(false);
  });
});
