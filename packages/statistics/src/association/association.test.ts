import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import { areaUnderCurve, newcombeLimits } from "./area-under-curve.ts";
import { associationFamily } from "./association-family.ts";
import { firthLogistic } from "./firth-logistic.ts";
import { midRanks } from "./mid-ranks.ts";
import { mishitModel } from "./mishit-model.ts";
import { kendall, spearman } from "./rank-correlation.ts";

const root = join(import.meta.dirname, "../../../..");
/** SciPy, and closed forms, by reference/statistics-association.py. */
const reference = JSON.parse(readFileSync(join(root, "reference/statistics-association.json"), "utf8"));
const close = (got: number, wanted: number, tolerance: number): void =>
  expect(Math.abs(got - wanted) / Math.max(Math.abs(wanted), 1e-3), `${got}, wanted ${wanted}`).toBeLessThanOrEqual(
    tolerance,
  );
const ask = { seed: 1, streams: random, label: "test", least: 2 };
const ones = (x: readonly number[]): number[] => x.map(() => 1);
function given<T extends { readonly kind: string }>(made: T): Exclude<T, { readonly kind: "withheld" }> {
  if (made.kind === "withheld") throw new Error("withheld");
  return made as Exclude<T, { readonly kind: "withheld" }>;
}

describe("Spearman", () => {
  it("meets SciPy's coefficient and the p of every order, with and without ties", () => {
    for (const one of reference.spearman) {
      const got = given(spearman(one.x, one.y, ask));
      close(got.value, one.rho, 1e-12);
      close(got.p, one.p, 1e-12);
      expect(got.pMethod).toBe("exact");
    }
  });
  it("within strata meets SciPy's coefficients summed and the p of every order within", () => {
    const { x, y, conditions, statistic, p } = reference.stratified;
    const got = given(spearman(x, y, { ...ask, conditions }));
    close(got.statistic, statistic, 1e-12);
    close(got.p, p, 1e-12);
    expect(got).toMatchObject({ method: "spearman-stratified", countArrangements: 2880, n: [4, 5] });
    expect(got.perCondition.map((one) => one.n)).toEqual([4, 5]);
  });
  it("has Bonett & Wright's interval", () => {
    const { x, y, rho, low, high } = reference.bonettWright;
    const got = given(spearman(x, y, ask));
    close(got.value, rho, 1e-12);
    close(got.low, low, 1e-12);
    close(got.high, high, 1e-12);
    // One condition of all shots is no condition.
    const one = given(spearman(x, y, { ...ask, conditions: x.map(() => 4) }));
    expect([one.low, one.high]).toEqual([got.low, got.high]);
  });
  it("meets R's exact test", () => {
    const { x, y, rho, pSpearman } = reference.rCheck;
    const got = given(spearman(x, y, ask));
    close(got.value, rho, 1e-12);
    close(got.p, pSpearman, 1e-12);
  });
  it("finds nothing across lies that each show nothing, where the lies differ in both", () => {
    const x = [1, 2, 3, 4, 5, 11, 12, 13, 14, 15];
    const y = [2, 5, 1, 4, 3, 22, 25, 21, 24, 23];
    const conditions = [0, 0, 0, 0, 0, 1, 1, 1, 1, 1];
    expect(given(spearman(x, y, ask)).value).toBeGreaterThan(0.7);
    expect(Math.abs(given(spearman(x, y, { ...ask, conditions })).value)).toBeLessThan(0.2);
  });
  it("draws orders above 8 shots, repeatably, with its seed beside it", () => {
    const x = Array.from({ length: 12 }, (_, k) => k);
    const got = given(spearman(x, [2, 1, 4, 3, 6, 5, 8, 7, 10, 9, 12, 11], ask));
    expect(got).toMatchObject({ pMethod: "drawn", seed: 1, isEnoughForWords: true });
    expect(got.p).toBe(1 / 10_001);
    expect(spearman(x, [2, 1, 4, 3, 6, 5, 8, 7, 10, 9, 12, 11], ask)).toEqual(got);
  });
  it("leaves out pairs without a number, gives no interval below 10 and nothing below 8", () => {
    const x = [1, 2, 3, Number.NaN, 5, 6, 7, 8, 9];
    const y = [2, 1, 4, 3, 6, 5, 8, 7, Number.NaN];
    expect(spearman(x, y, { ...ask, least: 8 })).toMatchObject({
      kind: "withheld",
      reason: "too-few",
      needed: 8,
      n: [7],
    });
    const got = given(spearman(x, y, ask));
    expect(got.countMissing).toBe(2);
    expect([got.low, got.high]).toEqual([Number.NaN, Number.NaN]);
    expect(spearman(ones(x), y, ask)).toMatchObject({ reason: "no-scatter" });
    expect(() => spearman([1, 2], [1], ask)).toThrow(RangeError);
  });
  it("passes over a condition in which nothing varies, and names it", () => {
    const conditions = [0, 0, 0, 0, 1, 1, 1, 1];
    const got = given(spearman([1, 2, 3, 4, 5, 6, 7, 8], [1, 2, 3, 4, 9, 9, 9, 9], { ...ask, conditions }));
    expect(got.value).toBeCloseTo(1, 14);
    expect(got.perCondition[1]).toEqual({ n: 4, rho: Number.NaN });
  });
});

describe("Kendall", () => {
  it("meets SciPy's tau-b and its exact p without ties", () => {
    for (const one of reference.kendall) {
      const got = given(kendall(one.x, one.y, ask));
      close(got.value, one.tauB, 1e-12);
      if (one.p !== null) close(got.p, one.p, 1e-10);
      else expect(got).toMatchObject({ pMethod: "kendall-shuffles", seed: 1 });
    }
  });
  it("meets R's exact test, and is withheld where it says nothing", () => {
    const { x, y, tau, pKendall } = reference.rCheck;
    const got = given(kendall(x, y, ask));
    close(got.value, tau, 1e-12);
    close(got.p, pKendall, 1e-12);
    expect(kendall(x, y, { ...ask, least: 8 })).toMatchObject({ reason: "too-few" });
    expect(kendall(x, ones(y), ask)).toMatchObject({ reason: "no-scatter" });
  });
});

describe("an outcome that is there or not", () => {
  it("meets SciPy's minimiser on Firth's function, separated or not", () => {
    for (const one of reference.firth) {
      const fit = firthLogistic([ones(one.x), one.x], one.y, 0.95);
      const [intercept, slope] = fit.coefficients;
      expect(fit.isConverged).toBe(true);
      // The minimiser without gradient is good to about 1e-7.
      close(intercept!.value, one.intercept, 1e-5);
      close(slope!.value, one.slope, 1e-6);
      close(slope!.chiSquared, one.chiSquared, 1e-8);
      close(slope!.p, one.p, 1e-8);
      close(slope!.low, one.low, 1e-6);
      close(slope!.high, one.high, 1e-6);
    }
  });
  it("of a two by two table is the log odds ratio with one half in each cell", () => {
    const { x, y, slope } = reference.table;
    // The search stops where the score is below 1e-9.
    close(firthLogistic([ones(x), x], y, 0.95).coefficients[1]!.value, slope, 1e-8);
  });
  it("is finite under complete separation, its interval on one side of 0", () => {
    const made = given(mishitModel([1, 2, 3, 4, 5, 6, 7, 8], [0, 0, 0, 0, 1, 1, 1, 1]));
    expect(made.findings).toEqual([]);
    expect(made.low).toBeGreaterThan(0);
    expect(Number.isFinite(made.high)).toBe(true);
    expect(made.p).toBeLessThan(0.05);
  });
  it("is standardised within each condition, so a shift of one lie changes nothing", () => {
    const x = [1, 4, 2, 6, 5, 3, 8, 9, 4, 7, 2, 8];
    const y = [0, 1, 0, 1, 0, 0, 1, 1, 0, 1, 0, 1];
    const conditions = [0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1];
    const shifted = x.map((one, k) => (conditions[k] === 1 ? one + 100 : one));
    const one = given(mishitModel(x, y, { conditions }));
    const other = given(mishitModel(shifted, y, { conditions }));
    close(other.value, one.value, 1e-10);
    expect(mishitModel(x, [1, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0])).toMatchObject({ reason: "too-few", n: [3, 9] });
    expect(mishitModel(ones(x), y)).toMatchObject({ reason: "no-scatter" });
    expect(mishitModel([Number.NaN, ...x], [1, ...y])).toMatchObject({ countMissing: 1 });
    expect(() => mishitModel(x, [2, ...y.slice(1)])).toThrow(RangeError);
    expect(() => mishitModel(x, [1])).toThrow(RangeError);
  });
  it("refuses columns that depend on each other", () => {
    expect(() => firthLogistic([ones([1, 2, 3, 4]), ones([1, 2, 3, 4])], [0, 1, 0, 1], 0.95)).toThrow(RangeError);
  });
});

describe("the area under the curve", () => {
  it("meets SciPy's U, its exact p and the roots of Newcombe's equation", () => {
    for (const one of reference.rankSum) {
      const got = given(areaUnderCurve(one.positive, one.negative, ask));
      close(got.value, one.area, 1e-13);
      close(got.p, one.p, 1e-11);
      close(got.low, one.low, 1e-10);
      close(got.high, one.high, 1e-10);
      const turned = given(areaUnderCurve(one.negative, one.positive, ask));
      close(turned.value, 1 - one.area, 1e-13);
      close(turned.p, one.p, 1e-11);
      close(turned.low, 1 - one.high, 1e-9);
    }
  });
  it("of 1 and of 0 has one limit there and the other inside", () => {
    for (const { area, counts, limits } of reference.perfect) {
      const got = newcombeLimits(area, counts);
      close(got[0], limits[0], 1e-10);
      close(got[1], limits[1], 1e-10);
    }
  });
  it("is withheld below 4 of either, and draws labels where counting them all takes long", () => {
    expect(areaUnderCurve([1, 2, 3, Number.NaN], [1, 2, 3, 4, 5], ask)).toMatchObject({ reason: "too-few", n: [3, 5] });
    const many = Array.from({ length: 120 }, (_, k) => Math.sin(k));
    const got = given(areaUnderCurve(many.slice(0, 60), many.slice(60), ask));
    expect(got).toMatchObject({ pMethod: "drawn", seed: 1 });
  });
});

describe("many measures against one outcome", () => {
  const x = [1, 2, 3, 4, 5, 6, 7, 8];
  const y = [2, 1, 4, 3, 6, 5, 8, 7];
  const noise = [3, 8, 1, 6, 2, 7, 4, 5];
  it("keep their raw p and are judged together", () => {
    const family = associationFamily([noise, x, [...x.slice(0, 7), Number.NaN]], y, ask);
    expect(family).toMatchObject({ method: "exact", countArrangements: 40320, leftOut: [2] });
    close(family.p[1]!, given(spearman(x, y, ask)).p, 1e-12);
    close(family.p[0]!, given(spearman(noise, y, ask)).p, 1e-12);
    expect(family.adjusted[1]!).toBeGreaterThan(family.p[1]!);
    // The largest is judged against all, by all orders; the smallest of two keeps at least its own.
    expect(family.adjusted[0]!).toBeGreaterThanOrEqual(family.p[0]!);
    expect(family.adjusted[2]).toBeNaN();
  });
  it("draw common orders where there are too many", () => {
    const long = Array.from({ length: 12 }, (_, k) => k);
    const family = associationFamily([long, long.map((k) => Math.cos(k))], long, ask);
    expect(family).toMatchObject({ method: "drawn", seed: 1, countArrangements: 10_000 });
    expect(family.adjusted[0]).toBe(1 / 10_001);
  });
});

describe("laws", () => {
  const value = fc.integer({ min: -9, max: 9 });
  const pairs = fc.array(fc.tuple(value, value), { minLength: 4, maxLength: 6 });
  it("a rising transformation of either side changes nothing, turning one turns the sign and keeps p", () => {
    fc.assert(
      fc.property(pairs, (drawn) => {
        const [x, y] = [drawn.map(([a]) => a), drawn.map(([, b]) => b)];
        const one = spearman(x, y, ask);
        const other = spearman(
          x.map((a) => Math.exp(a / 3)),
          y.map((b) => -b),
          ask,
        );
        if (one.kind === "withheld" || other.kind === "withheld") return expect(other.kind).toBe(one.kind);
        close(other.value, -one.value, 1e-9);
        expect(other.p).toBe(one.p);
      }),
      { numRuns: 60 },
    );
  });
  it("the order of shots changes nothing, p is a multiple of one order and never below it", () => {
    fc.assert(
      fc.property(pairs, (drawn) => {
        const one = spearman(
          drawn.map(([a]) => a),
          drawn.map(([, b]) => b),
          ask,
        );
        const turned = drawn.toReversed();
        const other = spearman(
          turned.map(([a]) => a),
          turned.map(([, b]) => b),
          ask,
        );
        if (one.kind === "withheld" || other.kind === "withheld") return expect(other.kind).toBe(one.kind);
        expect(other.p).toBeCloseTo(one.p, 12);
        const total = one.countArrangements ?? 0;
        expect(one.p * total).toBeCloseTo(Math.round(one.p * total), 6);
        expect(one.p).toBeGreaterThanOrEqual(1 / total - 1e-15);
      }),
      { numRuns: 60 },
    );
  });
  it("one more measure never lowers another's adjusted p, and none is below its raw p", () => {
    const shots = fc.array(value, { minLength: 5, maxLength: 5 });
    fc.assert(
      fc.property(fc.array(shots, { minLength: 2, maxLength: 4 }), shots, (measures, outcome) => {
        const all = associationFamily(measures, outcome, ask);
        const fewer = associationFamily(measures.slice(1), outcome, ask);
        for (let m = 0; m < measures.length; m++) {
          expect(all.adjusted[m]!).toBeGreaterThanOrEqual(all.p[m]! - 1e-12);
          if (m > 0) expect(all.adjusted[m]!).toBeGreaterThanOrEqual(fewer.adjusted[m - 1]! - 1e-12);
        }
      }),
      { numRuns: 60 },
    );
  });
  it("mid-ranks add up to those without ties", () => {
    fc.assert(
      fc.property(fc.array(value, { minLength: 1, maxLength: 20 }), (values) => {
        const n = values.length;
        expect(midRanks(values).reduce((sum, rank) => sum + rank, 0)).toBe((n * (n + 1)) / 2);
      }),
    );
  });
});

const checks = join(root, "../shared/data/checks/statistics");
describe.skipIf(!existsSync(checks))("the check values that lie beside the repository in some checkouts", () => {
  const read = (name: string) => JSON.parse(readFileSync(join(checks, name), "utf8"));
  const named = (id: string) => read("association.json").cases.find((one: { id: string }) => one.id === id);
  it("of rank correlations are met: association.json, r.json", () => {
    for (const id of ["spearman-ties", "spearman-no-ties", "spearman-ordinal"]) {
      const { input, expected, tolerance } = named(id);
      const got = given(spearman(input.x, input.y, ask));
      close(got.value, expected.rho, tolerance);
      if (expected.p !== undefined) {
        close(got.p, expected.p, tolerance);
        expect(got.countArrangements).toBe(expected.orders);
      }
      if (expected.tauB !== undefined) close(given(kendall(input.x, input.y, ask)).value, expected.tauB, tolerance);
    }
    for (const id of ["kendall-ties", "kendall-no-ties"]) {
      const { input, expected, tolerance } = named(id);
      const got = given(kendall(input.x, input.y, ask));
      close(got.value, expected.tauB ?? expected.tau, tolerance);
      close(got.p, expected.p, tolerance);
    }
    const { strata } = named("spearman-stratified").input;
    const { expected, tolerance } = named("spearman-stratified");
    const all = (side: "x" | "y"): number[] => strata.flatMap((one: { x: number[]; y: number[] }) => one[side]);
    const conditions = strata.flatMap((one: { x: number[] }, s: number) => one.x.map(() => s));
    const got = given(spearman(all("x"), all("y"), { ...ask, conditions }));
    close(got.statistic, expected.statistic, tolerance);
    close(got.p, expected.p, tolerance);
    expect(got.countArrangements).toBe(expected.orders);
    const { values } = read("r.json");
    const { x, y } = named("spearman-no-ties").input;
    close(given(spearman(x, y, ask)).p, values.spearman.p, 1e-12);
    close(given(kendall(x, y, ask)).p, values.kendall.p, 1e-12);
  });
  it("of spec/ranks.json are met", () => {
    for (const one of read("spec/ranks.json").cases) {
      const got = given(spearman(one.x, one.y, ask));
      const tau = given(kendall(one.x, one.y, ask));
      close(got.value, one.spearman, 1e-9);
      close(tau.value, one.kendallB, 1e-9);
      const exact = one.spearmanExact;
      if (exact !== undefined) {
        close(got.p, exact.p, 1e-9);
        expect(got.countArrangements).toBe(exact.arrangements);
        expect(Math.round(got.p * exact.arrangements)).toBe(exact.count);
      }
      close(tau.p, one.kendallExactP ?? one.kendallExactAllOrders.p, 1e-9);
      if (one.low !== undefined) {
        close(got.low, one.low, 1e-9);
        close(got.high, one.high, 1e-9);
      }
    }
  });
  it("of Firth's logistic regression are met: association.json", () => {
    for (const id of ["firth-12", "firth-separated", "firth-table"]) {
      const { input, expected, tolerance } = named(id);
      const fit = firthLogistic([ones(input.x), input.x], input.y, 0.95);
      expect(fit.isConverged).toBe(true);
      close(fit.penalisedLogLikelihood, expected.penalisedLogLikelihood, tolerance);
      fit.coefficients.forEach((one, j) => {
        close(one.value, expected.beta[j], tolerance);
        close(one.se, expected.se[j], tolerance);
        close(one.chiSquared, expected.lr[j], tolerance);
        close(one.p, expected.p[j], tolerance);
        close(one.low, expected.low[j], tolerance);
        close(one.high, expected.high[j], tolerance);
      });
    }
  });
  it("of areas are met: association.json", () => {
    const { input, expected } = named("auc-12");
    const got = given(areaUnderCurve(input.positive, input.negative, ask));
    close(got.value, expected.auc, 1e-9);
    close(got.low, expected.low, 1e-9);
    close(got.high, expected.high, 1e-9);
    close(got.p, expected.p, 1e-9);
    const perfect = named("auc-perfect");
    const limits = newcombeLimits(perfect.input.auc, [perfect.input.m, perfect.input.n]);
    close(limits[0], perfect.expected.low, 1e-9);
    expect(limits[1]).toBe(1);
  });
  it("of spec/binary.json are met", () => {
    for (const one of read("spec/binary.json").cases) {
      const made = given(mishitModel(one.x, one.y));
      close(made.value, one.firth.slope, 1e-8);
      close(made.intercept, one.firth.intercept, 1e-8);
      close(made.penalisedLogLikelihood, one.firth.penalisedLogLikelihood, 1e-8);
      close(made.chiSquared, one.firth.chiSquare, 1e-8);
      close(made.p, one.firth.p, 1e-8);
      close(made.low, one.firth.low, 1e-6);
      close(made.high, one.firth.high, 1e-6);
      const of = (wanted: number): number[] => one.x.filter((_: number, k: number) => one.y[k] === wanted);
      const area = given(areaUnderCurve(of(1), of(0), ask));
      close(area.value, one.auc, 1e-8);
      close(area.low, one.aucLow, 1e-8);
      close(area.high, one.aucHigh, 1e-8);
      close(area.p, one.exact.p, 1e-8);
      expect(area.countArrangements).toBe(one.exact.arrangements);
    }
  });
});
