import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import { countConditionLabellings, eachConditionLabelling } from "./condition-labellings.ts";
import { anyDifference, contrast, interaction, welchF } from "./contrast.ts";
import { drift } from "./drift.ts";
import { permutationP } from "./permutation.ts";
import { welch } from "./welch.ts";

/** SciPy's f_oneway(equal_var=False) by reference/statistics-curves.py. */
const reference = JSON.parse(
  readFileSync(join(import.meta.dirname, "../../../../reference/statistics-curves.json"), "utf8"),
).welchF;
const draw = { seed: 1, streams: random, label: "contrast/m" };
function given<T extends { kind: string }>(result: T): Exclude<T, { kind: "withheld" }> {
  expect(result.kind).not.toBe("withheld");
  return result as Exclude<T, { kind: "withheld" }>;
}
function normals(count: number, seed: number): number[] {
  const stream = random(seed, "values");
  return Array.from({ length: count }, () => stream.normal());
}

describe("contrasts", () => {
  const groups = [
    [3, 5, 4, 7],
    [6, 9, 8],
    [1, 2, 4, 3, 2],
  ];
  it("of two conditions are Welch's difference", () => {
    const one = given(contrast(groups, [-1, 1, 0]));
    const two = given(welch(groups[0] ?? [], groups[1] ?? []));
    for (const name of ["value", "se", "t", "nu", "p", "low", "high"] as const)
      expect(one[name]).toBeCloseTo(two[name], 12);
    expect(one.n).toEqual([4, 3]);
  });
  it("have the error of their parts without pooling", () => {
    const half = given(contrast(groups, [-0.5, -0.5, 1]));
    // Variances 35/12, 7/3, 13/10 over 4, 3, 5, by hand.
    expect(half.se ** 2).toBeCloseTo(0.25 * (35 / 48) + 0.25 * (7 / 9) + 13 / 50, 12);
    expect(half.value).toBeCloseTo(2.4 - (4.75 + 23 / 3) / 2, 12);
  });
  it("are refused where weights do not sum to 0, withheld for too few or no scatter", () => {
    expect(() => contrast(groups, [1, 1, -1])).toThrow(RangeError);
    expect(() => contrast(groups, [1, -1])).toThrow(RangeError);
    expect(
      contrast(
        [
          [1, 2],
          [1, 2, 3],
        ],
        [-1, 1],
      ),
    ).toMatchObject({ kind: "withheld", reason: "too-few" });
    expect(
      contrast(
        [
          [1, 1, 1],
          [2, 2, 2],
        ],
        [-1, 1],
      ),
    ).toMatchObject({ kind: "withheld", reason: "no-scatter" });
  });
});

describe("the interaction of two factors", () => {
  const cells = Array.from({ length: 32 }, (_, k) => k % 4);
  const noise = normals(32, 3);
  it("is found where one factor acts at one level of the other only", () => {
    const values = noise.map((value, k) => value + (cells[k] === 3 ? 4 : 0));
    const found = given(interaction(values, cells, draw));
    expect(found.difference.value).toBeGreaterThan(1.5);
    expect(found.p).toBeLessThan(0.01);
    // Permuted residuals and Welch's t agree where nothing is odd about the scatter.
    expect(Math.abs(found.p - found.difference.p)).toBeLessThan(0.01);
  });
  it("does not mistake two main effects for one: adding them changes nothing", () => {
    const added = noise.map((value, k) => value + 30 * (cells[k]! & 1) - 50 * (cells[k]! >> 1));
    const plain = given(interaction(noise, cells, draw));
    const both = given(interaction(added, cells, draw));
    expect(both.difference.value).toBeCloseTo(plain.difference.value, 9);
    expect(both.p).toBeCloseTo(plain.p, 2);
    expect(interaction([1, 2, 3, 4], [0, 1, 2, 3], draw)).toMatchObject({ kind: "withheld" });
  });
});

describe("several conditions", () => {
  it("meet SciPy's F of Welch", () => {
    const found = given(welchF(reference.groups));
    expect(found.f / reference.f).toBeCloseTo(1, 11);
    expect(found.p / reference.p).toBeCloseTo(1, 10);
  });
  it("of two are the square of Welch's t", () => {
    const [a, b] = reference.groups;
    const [f, t] = [given(welchF([a, b])), given(welch(a, b))];
    expect(f.f).toBeCloseTo(t.t ** 2, 10);
    expect(f.p).toBeCloseTo(t.p, 12);
    expect(f.nuWithin).toBeCloseTo(t.nu, 10);
  });
  it("are asked together, then by pairs as one family", () => {
    const values = [...normals(6, 1), ...normals(6, 2), ...normals(6, 3).map((value) => value + 4)];
    const groups = values.map((_, k) => Math.floor(k / 6));
    const found = given(anyDifference(values, { groups }, draw));
    expect(found).toMatchObject({ arrangements: "drawn", seed: 1, n: [6, 6, 6] });
    expect(found.p).toBeLessThan(0.01);
    const [first, second, third] = found.pairs;
    expect([first?.a, first?.b, third?.a, third?.b]).toEqual([0, 1, 1, 2]);
    expect(first?.adjustedP).toBeGreaterThan(0.05);
    expect(second?.adjustedP).toBeLessThan(0.05);
    const alone = permutationP(values.slice(0, 12), { groups: groups.slice(0, 12) }, draw);
    expect(first?.permutation.p).toBeCloseTo(alone.p, 12);
  });
  it("of two conditions have the p of Welch's t by labels", () => {
    const values = normals(9, 8);
    const labelled = { groups: [0, 0, 0, 0, 1, 1, 1, 1, 1] };
    expect(given(anyDifference(values, labelled, draw)).p).toBeCloseTo(permutationP(values, labelled, draw).p, 12);
  });
  it("are withheld for too few, and without scatter in one", () => {
    expect(
      welchF([
        [1, 2],
        [1, 2, 3],
      ]),
    ).toMatchObject({ kind: "withheld", needed: 3 });
    expect(
      welchF([
        [1, 1, 1],
        [1, 2, 3],
      ]),
    ).toMatchObject({ kind: "withheld", reason: "no-scatter" });
    expect(anyDifference([1, 2, 3], { groups: [0, 0, 0] }, draw)).toMatchObject({ kind: "withheld" });
  });
});

describe("labellings of several conditions", () => {
  it("are all visited once, within blocks", () => {
    const seen = new Set<string>();
    const labelled = { groups: [0, 1, 2, 0, 1, 1], blocks: [0, 0, 0, 1, 1, 1] };
    eachConditionLabelling(labelled, (groups) => seen.add(Array.from(groups).join("")));
    expect(countConditionLabellings(labelled)).toBe(18);
    expect(seen.size).toBe(18);
    expect(seen).toContain("012011");
    expect(countConditionLabellings({ groups: Array.from({ length: 15 }, (_, k) => k % 3) })).toBe(756_756);
  });
});

describe("drift", () => {
  it("is found where a measure rises through the session, and says which way", () => {
    const rising = [1, 3, 2, 4, 5, 7, 6, 8];
    expect(given(drift(rising, draw))).toMatchObject({ isDrift: true, direction: "rising", n: 8 });
    expect(given(drift(rising.toReversed(), draw)).direction).toBe("falling");
    expect(given(drift([1, 5, 2, 6, 3, 4, 1.5, 5.5], draw)).isDrift).toBe(false);
  });
  it("needs eight, leaves out what is missing, takes the session's shot numbers", () => {
    expect(drift([1, 2, 3, 4, 5, 6, 7], draw)).toMatchObject({ kind: "withheld", needed: 8 });
    expect(given(drift([1, 2, Number.NaN, 3, 4, 5, 6, 7, 8], draw)).n).toBe(8);
    expect(given(drift([1, 2, 3, 4, 5, 6, 7, 8], draw, [9, 8, 7, 6, 5, 4, 3, 2])).rho).toBeCloseTo(-1, 12);
  });
});
