import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import { choleskyInPlace, inverseFromCholesky } from "../linear-algebra/cholesky.ts";
import type { Values } from "../samples.ts";
import { areIndependent, mixedDesign, mixedSums } from "./mixed-design.ts";
import { type FittedModel, mixedFit } from "./mixed-fit.ts";
import { predictions } from "./predictions.ts";
import type { RandomTerm } from "./random-columns.ts";
import { fixedContrasts, varianceKnowledge } from "./satterthwaite.ts";

const root = join(import.meta.dirname, "../../../..");
/** lme4 and lmerTest by reference/statistics-mixed.R; NIST's certified analyses of variance. */
const reference = JSON.parse(readFileSync(join(root, "reference/statistics-mixed.json"), "utf8"));
const close = (got: number, wanted: number, tolerance: number, least = 1e-9): void =>
  expect(Math.abs(got - wanted) / Math.max(Math.abs(wanted), least), `${got}, wanted ${wanted}`).toBeLessThanOrEqual(
    tolerance,
  );
const ones = (values: Values): Float64Array<ArrayBuffer> => new Float64Array(values.length).fill(1);

type Table = Record<string, readonly (number | string)[]>;
interface Case {
  readonly id: string;
  readonly formula: string;
  readonly data: Table | string;
  // biome-ignore lint/suspicious/noExplicitAny: read from JSON
  readonly expected: any;
}

const numbers = (column: readonly (number | string)[]): number[] => column.map(Number);
function levelsOf(column: readonly (number | string)[]): { levels: number[]; names: string[] } {
  const names = [...new Set(column.map(String))].sort();
  return { levels: column.map((one) => names.indexOf(String(one))), names };
}

/** Columns of R's formula: treatment coding, (1 | g), (x | g), (0 + x | g), (1 | g:h). */
function modelOf(
  one: Case,
  table: Table,
): { fixed: Values[]; terms: RandomTerm[]; names: string[][]; groups: string[]; y: number[] } {
  const y = numbers(table[one.formula.split(" ~ ")[0]!]!);
  const fixed = one.expected.fixedNames.map((name: string): Values => {
    if (name === "(Intercept)") return ones(y);
    const column = Object.keys(table).find((key) => name.startsWith(key))!;
    const level = name.slice(column.length);
    return level === "" ? numbers(table[column]!) : table[column]!.map((value) => (String(value) === level ? 1 : 0));
  });
  const names: string[][] = [];
  const groups: string[] = [];
  const terms = [...one.formula.matchAll(/\(([^|()]*)\| ([^)]*)\)/g)].map((found): RandomTerm => {
    const keys = found[2]!.split(":");
    const named = levelsOf(y.map((_, i) => keys.map((key) => String(table[key]![i])).join(":")));
    names.push(named.names);
    groups.push(found[2]!);
    const inner = found[1]!.trim();
    if (inner === "1") return { levels: named.levels };
    if (inner.startsWith("0 + ")) return { levels: named.levels, columns: [numbers(table[inner.slice(4)]!)] };
    return { levels: named.levels, columns: [ones(y), numbers(table[inner]!)] };
  });
  return { fixed, terms, names, groups, y };
}

function fitted(fixed: readonly Values[], terms: readonly RandomTerm[], y: Values): FittedModel {
  const model = mixedFit(mixedDesign(fixed, terms), y);
  if (model === undefined) throw new Error("nothing left over");
  return model;
}

/** Everything that R says of a case. */
function meets(one: Case, table: Table): void {
  const { fixed, terms, names, groups, y } = modelOf(one, table);
  const model = fitted(fixed, terms, y);
  const { fit, design } = model;
  const wanted = one.expected;
  close(fit.criterion, wanted.remlCriterion, 1e-9);
  wanted.beta.forEach((beta: number, j: number) => {
    close(fit.beta[j]!, beta, 1e-7);
  });
  const unit = (j: number): number[] => wanted.beta.map((_: number, k: number) => (k === j ? 1 : 0));
  fixedContrasts(
    model,
    wanted.beta.map((_: number, j: number) => unit(j)),
  ).forEach((got, j) => {
    close(got.se, wanted.se[j], 1e-6);
    close(got.nu, wanted.satterthwaiteDf[j], 1e-3);
    close(got.p, wanted.p[j], 1e-2, 1e-6);
  });
  for (const contrast of wanted.contrasts ?? []) {
    const got = fixedContrasts(model, [contrast.L])[0]!;
    close(got.value, contrast.estimate, 1e-7);
    close(got.se, contrast.se, 1e-6);
    close(got.nu, contrast.satterthwaiteDf, 1e-3);
    close(got.p, contrast.p, 1e-2, 1e-6);
  }
  // R gives variances, and the covariance of a pair, by group.
  const rest = wanted.variances.at(-1);
  close(fit.sigma ** 2, rest.variance, 1e-5);
  let at = 0;
  terms.forEach(({ columns }, t) => {
    const own = wanted.variances.filter((v: { group: string }) => v.group.replace(/\.\d+$/, "") === groups[t]);
    const scale = fit.sigma ** 2;
    const [a, b, c] = [fit.theta[at]!, fit.theta[at + 1]!, fit.theta[at + 2]!];
    if (columns?.length === 2) {
      close(scale * a * a, own[0].variance, 1e-5);
      close(scale * (b * b + c * c), own[1].variance, 1e-5);
      close(scale * a * b, own[2].variance, 1e-4);
      at += 3;
    } else {
      const column = columns === undefined ? "(Intercept)" : "Days";
      close(scale * a * a, own.find((v: { a: string }) => v.a === column).variance, 1e-5, 1e-6);
      at += 1;
    }
  });
  effectsMeet({ wanted, names, groups, terms }, (term, level) => {
    const { firstColumn } = design.random.levels.find((l) => l.term === term && l.level === level)!;
    return fit.random.subarray(firstColumn, firstColumn + (terms[term]!.columns?.length ?? 1));
  });
}

function effectsMeet(
  // biome-ignore lint/suspicious/noExplicitAny: read from JSON
  o: { wanted: any; names: string[][]; groups: string[]; terms: readonly RandomTerm[] },
  effectOf: (term: number, level: number) => Float64Array,
): void {
  o.groups.forEach((group, t) => {
    const { levels, values } = o.wanted.randomEffects[group];
    const size = Math.max(1e-6, ...values.flat().map(Math.abs));
    values.forEach((row: number[], k: number) => {
      const level = o.names[t]!.indexOf(levels[k]);
      const isSecond = o.groups.indexOf(group) !== t;
      effectOf(t, level).forEach((b, w) => {
        close(b, row[isSecond ? 1 : w]!, 1e-5, size);
      });
    });
  });
}

describe("REML", () => {
  for (const one of reference.cases as Case[]) {
    it(`meets lme4 and lmerTest: ${one.id}`, () => {
      meets(one, typeof one.data === "string" ? reference.tables[one.data] : one.data);
    });
  }
  it("meets NIST's certified mean squares where players differ", () => {
    for (const { input, expected } of reference.nist) {
      const { theta, sigma, isOnBoundary } = fitted([ones(input.y)], [{ levels: input.group }], input.y).fit;
      const n = input.observations / new Set(input.group).size;
      // Balanced: F = 1 + n θ², where that is above 1.
      close(sigma ** 2, expected.msWithin, 1e-7);
      close(1 + n * theta[0]! ** 2, expected.f, 1e-7);
      expect(isOnBoundary).toEqual([false]);
    }
  });
  it("says where a variance is 0 and keeps the fit; the degrees of freedom are then those of least squares", () => {
    const one = reference.cases.find(({ id }: Case) => id === "dyestuff2");
    const { fixed, terms, y } = modelOf(one, one.data);
    const model = fitted(fixed, terms, y);
    expect(model.fit).toMatchObject({ isOnBoundary: [true], findings: [{ code: "singular", term: 0 }] });
    expect(model.fit.theta[0]).toBe(0);
    close(fixedContrasts(model, [[1]])[0]!.nu, 29, 1e-9);
  });
  it("says where level and slope go with each other exactly", () => {
    const player = Array.from({ length: 40 }, (_, i) => Math.floor(i / 5));
    const x = Array.from({ length: 40 }, (_, i) => (i % 5) - 2);
    const y = x.map((v, i) => 10 + player[i]! * (1 + 0.2 * v) + 0.3 * Math.sin(17 * i));
    const { fit } = fitted([ones(x), x], [{ levels: player, columns: [ones(x), x] }], y);
    expect(fit.findings).toContainEqual({ code: "singular", term: 0 });
    expect(fit.theta[1]).toBeGreaterThan(0.1);
    expect(fit.theta[2]).toBe(0);
  });
  it("has nothing to fit where nothing is left over, within players or at all", () => {
    const player = [0, 0, 0, 1, 1, 1];
    expect(mixedFit(mixedDesign([ones(player)], [{ levels: player }]), [1, 1, 1, 3, 3, 3])).toBeUndefined();
    expect(mixedFit(mixedDesign([ones(player)], [{ levels: player }]), [2, 2, 2, 2, 2, 2])).toBeUndefined();
  });
  it("holds where players differ a thousand times more than their shots", () => {
    const dice = random(4, "far");
    const player = Array.from({ length: 60 }, (_, i) => Math.floor(i / 6));
    const noise = player.map(() => dice.normal());
    const own = Array.from({ length: 10 }, () => 1e3 * dice.normal());
    const { fit } = fitted(
      [ones(player)],
      [{ levels: player }],
      player.map((p, i) => 5e6 + own[p]! + noise[i]!),
    );
    // Balanced: σ² is the mean square within players, whatever the players.
    const within = own.map((_, p) => {
      const mine = noise.filter((_, i) => player[i] === p);
      const centre = mine.reduce((sum, one) => sum + one, 0) / 6;
      return mine.reduce((sum, one) => sum + (one - centre) ** 2, 0);
    });
    close(fit.sigma ** 2, within.reduce((sum, one) => sum + one, 0) / 50, 1e-6);
    expect(fit.findings).toEqual([]);
  });
  it("refuses columns that depend on each other and lengths that differ", () => {
    const x = [1, 2, 3, 4, 5, 6];
    expect(areIndependent([ones(x), x])).toBe(true);
    expect(areIndependent([ones(x), x, x.map((v) => 3 * v - 1)])).toBe(false);
    const levels = { levels: [0, 0, 0, 1, 1, 1] };
    expect(() => mixedDesign([ones(x), ones(x)], [levels])).toThrow(RangeError);
    expect(() => mixedDesign([ones(x), [1, 2]], [levels])).toThrow(RangeError);
    expect(() => mixedDesign([ones(x)], [{ levels: [1, 2] }])).toThrow(RangeError);
    expect(() => mixedDesign([ones(x)], [])).toThrow(RangeError);
    expect(() => mixedDesign([ones(x)], [levels]) && mixedDesign([], [levels])).toThrow(RangeError);
    expect(() => mixedSums(mixedDesign([ones(x)], [levels]), [1, 2])).toThrow(RangeError);
    expect(() => mixedSums(mixedDesign([ones(x)], [levels]), [1, 2, 3, Number.NaN, 5, 6])).toThrow(RangeError);
  });
});

/** Henderson's equations in full, without blocks: [X Z]'[X Z] with Λ's precision added, inverted; an independent way to the same numbers. */
function dense(o: { fixed: readonly Values[]; z: readonly Values[]; variances: Values; y: Values }): {
  solution: number[];
  inverse: Float64Array;
} {
  const columns = [...o.fixed, ...o.z];
  const m = columns.length;
  const a = new Float64Array(m * m);
  const right = new Float64Array(m);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < m; j++)
      a[i * m + j] = Array.from(columns[i]!).reduce((sum, v, k) => sum + v * columns[j]![k]!, 0);
    right[i] = Array.from(columns[i]!).reduce((sum, v, k) => sum + v * o.y[k]!, 0);
    if (i >= o.fixed.length) a[i * m + i]! += 1 / o.variances[i - o.fixed.length]!;
  }
  expect(choleskyInPlace(a, m)).toBe(true);
  const inverse = inverseFromCholesky(a, m);
  return {
    solution: Array.from(right, (_, i) => right.reduce((sum, v, j) => sum + inverse[i * m + j]! * v, 0)),
    inverse,
  };
}

describe("predictions", () => {
  it("meet Henderson's equations solved in full, value and standard error, also for a player without a shot in a cell", () => {
    const table = reference.tables["lies-unbalanced.csv"];
    const one = reference.cases.find(({ id }: Case) => id === "lies-unbalanced");
    const { fixed, terms, names, y } = modelOf(one, table);
    const model = fitted(fixed, terms, y);
    const { theta, sigma } = model.fit;
    const { free, covariance } = varianceKnowledge(model);
    const known = { free, covariance: covariance.map(() => 0) };
    const z = terms.flatMap(({ levels }, t) =>
      names[t]!.map((_, level) => Float64Array.from(levels, (own) => (own === level ? 1 : 0))),
    );
    const variances = terms.flatMap((_, t) => names[t]!.map(() => theta[t]! ** 2));
    const { solution, inverse } = dense({ fixed, z, variances, y });
    const m = solution.length;
    const weightsOf = (player: number, cell: number): number[] => {
      const weights = new Array<number>(m).fill(0);
      weights[0] = 1;
      weights[2] = 1;
      weights[3 + player] = 1;
      if (cell >= 0) weights[3 + names[0]!.length + cell] = 1;
      return weights;
    };
    names[0]!.forEach((name, player) => {
      const cell = names[1]!.indexOf(`${name}:up`);
      const targets = [
        {
          fixed: [1, 0, 1],
          random: [
            { term: 0, level: player, weight: 1 },
            { term: 1, level: cell, weight: 1 },
          ],
        },
      ];
      // As if θ were known: what Henderson's equations say, and less than what is said when it is not.
      const [got] = predictions(model, targets, { knowledge: known });
      const [honest] = predictions(model, targets);
      if (got === undefined || honest === undefined) throw new Error("no prediction");
      expect(honest.se).toBeGreaterThan(got.se);
      expect(honest.value).toBe(got.value);
      const w = weightsOf(player, cell);
      close(
        got.value,
        w.reduce((sum, v, i) => sum + v * solution[i]!, 0),
        1e-9,
      );
      let variance = cell < 0 ? theta[1]! ** 2 : 0;
      for (let i = 0; i < m; i++) for (let j = 0; j < m; j++) variance += w[i]! * inverse[i * m + j]! * w[j]!;
      close(got.se, sigma * Math.sqrt(variance), 1e-8);
      expect(got.nu).toBeGreaterThanOrEqual(1);
      expect(got.low).toBeLessThan(got.high);
    });
    expect(names[1]!.indexOf("p04:up")).toBe(-1);
  });
  it("of fixed effects alone are the contrast, and levels that share no row are refused", () => {
    const one = reference.cases.find(({ id }: Case) => id === "sleepstudy-slope");
    const { fixed, terms, y } = modelOf(one, one.data);
    const model = fitted(fixed, terms, y);
    const [alone] = predictions(model, [{ fixed: [0, 1], random: [] }]);
    const [contrast] = fixedContrasts(model, [[0, 1]]);
    for (const key of ["value", "se", "nu", "low", "high"] as const) close(alone![key], contrast![key], 1e-8);
    const two = [0, 1].map((level) => ({ term: 0, level, weight: 1 }));
    expect(() => predictions(model, [{ fixed: [0, 0], random: two }])).toThrow(RangeError);
  });
});

/** NIST's large sets, given by their rule: the treatment's tenth first, then alternating one tenth less and one more. */
function byRule(rule: { integerPart: number; perTreatment: number; tenthOfTreatment: number[] }): {
  group: number[];
  y: number[];
} {
  const group: number[] = [];
  const y: number[] = [];
  rule.tenthOfTreatment.forEach((tenth, treatment) => {
    for (let k = 0; k < rule.perTreatment; k++) {
      const moved = k === 0 ? tenth : tenth + (k % 2 === 1 ? -1 : 1);
      group.push(treatment);
      y.push(rule.integerPart + moved / 10);
    }
  });
  return { group, y };
}

const checks = join(root, "../shared/data/checks/statistics");
describe.skipIf(!existsSync(checks))("the check values that lie beside the repository in some checkouts", () => {
  const read = (name: string) => JSON.parse(readFileSync(join(checks, name), "utf8"));
  const table = (name: string): Table => {
    const [head, ...lines] = readFileSync(join(checks, name), "utf8").trim().split("\n");
    return Object.fromEntries(head!.split(",").map((key, j) => [key, lines.map((line) => line.split(",")[j]!)]));
  };
  it("of lmm.json, lies-balanced.csv, lies-unbalanced.csv and crossover.csv are met", () => {
    const { cases } = read("lmm.json");
    expect(cases).toHaveLength(13);
    for (const one of cases) meets(one, typeof one.data === "string" ? table(one.data) : one.data);
  });
  it("of NIST's analyses of variance in nist.json and spec/nist.json are met", () => {
    const sets = read("nist.json").cases.filter(({ id }: Case) => id.startsWith("anova-"));
    expect(sets).toHaveLength(11);
    for (const { input, expected, tolerance } of sets) {
      const { group, y } = input.y === undefined ? byRule(input.rule) : input;
      const { theta, sigma } = fitted([ones(y)], [{ levels: group }], y).fit;
      const n = input.observations / new Set(group).size;
      // The search for θ itself is good to 1e-7.
      close(sigma ** 2, expected.msWithin, Math.max(tolerance, 1e-7));
      close(1 + n * theta[0]! ** 2, expected.f, Math.max(tolerance, 1e-7));
    }
    for (const { group, y, certified } of read("spec/nist.json").cases.slice(0, 2)) {
      const { theta, sigma } = fitted([ones(y)], [{ levels: group }], y).fit;
      close(sigma, certified.residualSd, 1e-7);
      close(1 + (y.length / new Set(group).size) * theta[0]! ** 2, certified.F, 1e-7);
    }
  });
});
