import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { random } from "../../domain/src/random.ts";
import { hedgesG } from "./difference/effect-size.ts";
import { benjaminiHochberg, holm, maxTFamily } from "./difference/multiplicity.ts";
import { permutationP } from "./difference/permutation.ts";
import { welch } from "./difference/welch.ts";
import { studentQuantile, studentTails } from "./distributions/student-t.ts";
import { drawnOrder } from "./planning/drawn-order.ts";
import { usualBand } from "./scatter/usual-band.ts";

const value = fc.integer({ min: -1000, max: 1000 }).map((n) => n / 8);
const group = fc.array(value, { minLength: 3, maxLength: 6 });
const ask = { seed: 1, streams: random, label: "law" };
const near = (got: number, wanted: number, scale: number): void =>
  expect(Math.abs(got - wanted)).toBeLessThanOrEqual(1e-9 * Math.max(1, scale));
const labels = (a: readonly number[], b: readonly number[]) => ({ groups: [...a.map(() => 0), ...b.map(() => 1)] });

describe("laws", () => {
  it("a band contains its mean, moves with the data and grows with their scale; the order of shots does not matter", () => {
    fc.assert(
      fc.property(fc.array(value, { minLength: 5, maxLength: 12 }), value, (values, shift) => {
        const band = usualBand(values);
        const moved = usualBand(values.map((one) => 4 * one + shift).toReversed());
        if (band.kind === "withheld" || moved.kind === "withheld") throw new Error("withheld");
        expect(band.low).toBeLessThanOrEqual(band.value);
        expect(band.high).toBeGreaterThanOrEqual(band.value);
        near(moved.low, 4 * band.low + shift, 1e4);
        near(moved.high, 4 * band.high + shift, 1e4);
      }),
    );
  });
  it("swapping the conditions turns the sign of a difference and of g, and keeps every p", () => {
    fc.assert(
      fc.property(group, group, (a, b) => {
        const [one, other] = [welch(a, b), welch(b, a)];
        if (one.kind === "withheld" || other.kind === "withheld") return expect(one.kind).toBe(other.kind);
        expect(other.value).toBe(-one.value);
        near(other.p, one.p, 1);
        const [g, turned] = [hedgesG(a, b), hedgesG(b, a)];
        if (g.kind === "effect-size" && turned.kind === "effect-size") near(turned.low, -g.high, 100);
        near(permutationP([...b, ...a], labels(b, a), ask).p, permutationP([...a, ...b], labels(a, b), ask).p, 1);
      }),
      { numRuns: 60 },
    );
  });
  it("a permutation p is a multiple of one labelling and never below it", () => {
    fc.assert(
      fc.property(group, group, (a, b) => {
        const { p, countArrangements } = permutationP([...a, ...b], labels(a, b), ask);
        expect(p).toBeGreaterThanOrEqual(1 / countArrangements);
        near(p * countArrangements, Math.round(p * countArrangements), 1e3);
      }),
    );
  });
  it("adjusted p are never below raw ones, and one more measure never lowers another's", () => {
    const shots = fc.array(value, { minLength: 8, maxLength: 8 });
    fc.assert(
      fc.property(fc.array(shots, { minLength: 2, maxLength: 4 }), (measures) => {
        const labelled = { groups: [0, 1, 0, 1, 0, 1, 0, 1] };
        const all = maxTFamily(measures, labelled, ask);
        const fewer = maxTFamily(measures.slice(1), labelled, ask);
        for (let m = 0; m < measures.length; m++) {
          expect(all.adjusted[m]!).toBeGreaterThanOrEqual(all.p[m]! - 1e-12);
          if (m > 0) expect(all.adjusted[m]!).toBeGreaterThanOrEqual(fewer.adjusted[m - 1]! - 1e-12);
        }
      }),
    );
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 20 }), (p) => {
        const [h, q] = [holm(p), benjaminiHochberg(p)];
        for (let k = 0; k < p.length; k++) {
          expect(q[k]!).toBeGreaterThanOrEqual(p[k]! * (1 - 1e-12));
          expect(h[k]!).toBeGreaterThanOrEqual(q[k]! * (1 - 1e-12));
          expect(h[k]!).toBeLessThanOrEqual(1);
        }
      }),
    );
  });
  it("of two measures the one with the larger |t| never has the larger adjusted p", () => {
    const shots = fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 10, maxLength: 10 });
    fc.assert(
      fc.property(fc.array(shots, { minLength: 3, maxLength: 3 }), (measures) => {
        const family = maxTFamily(measures, labels([0, 0, 0, 0, 0], [1, 1, 1, 1, 1]), ask);
        const sizes = measures.map((values) => {
          const difference = welch(values.slice(0, 5), values.slice(5));
          return difference.kind === "withheld" ? 0 : Math.abs(difference.t);
        });
        const plain = [0, 1, 2].filter((m) => !family.unequal.includes(m));
        for (const m of plain)
          for (const other of plain)
            if (sizes[m]! > sizes[other]! + 1e-9)
              expect(family.adjusted[m]!).toBeLessThanOrEqual(family.adjusted[other]!);
      }),
      { numRuns: 200, seed: 20250101 },
    );
  });
  it("a quantile is where the distribution reaches its share", () => {
    const nu = fc.double({ min: 0.5, max: 500, noNaN: true });
    fc.assert(
      fc.property(fc.double({ min: 1e-9, max: 0.999, noNaN: true }), nu, (p, degrees) => {
        expect(studentTails(studentQuantile(p, degrees), degrees).lower / p).toBeCloseTo(1, 10);
      }),
    );
  });
  it("equal seeds draw equal orders, and every block is whole", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 6 }),
        fc.integer({ min: 1, max: 5 }),
        fc.nat(),
        (blocks, conditions, seed) => {
          const asked = {
            plan: { kind: "blocked", countBlocks: blocks, countEachPerBlock: 2 } as const,
            conditions: Array.from({ length: conditions }, (_, c) => c),
            seed,
          };
          const order = drawnOrder(asked, random);
          expect(drawnOrder(asked, random)).toEqual(order);
          for (let c = 0; c < conditions; c++)
            for (let b = 0; b < blocks; b++)
              expect(order.shots.filter((shot) => shot.block === b && shot.condition === c)).toHaveLength(2);
        },
      ),
    );
  });
});
