import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { chiSquaredQuantile, chiSquaredTails } from "./chi-squared.ts";
import { fQuantile, fTails } from "./f-distribution.ts";
import { noncentralTCdf } from "./noncentral-t.ts";
import { normalQuantile, normalTails } from "./normal.ts";
import { studentQuantile, studentTails, studentTwoSidedP } from "./student-t.ts";

type Row = Record<string, number>;
const root = join(import.meta.dirname, "../../../..");
/** Made by reference/statistics-distributions.py with mpmath at 40 digits. */
const reference = JSON.parse(readFileSync(join(root, "reference/statistics-distributions.json"), "utf8")) as Record<
  string,
  Row[]
>;
const rows = (name: string): Row[] => {
  const found = reference[name] ?? [];
  expect(found.length).toBeGreaterThan(5);
  return found;
};
const relative = (got: number, wanted: number): number => Math.abs(got - wanted) / Math.abs(wanted || 1);
/** Required: 1e-10 where p >= 1e-12. Reached and held to: */
const TOLERANCE = 1e-12;

function expectClose(got: number, wanted: number, tolerance: number, what: unknown): void {
  expect(relative(got, wanted), `${JSON.stringify(what)}: ${got}, wanted ${wanted}`).toBeLessThanOrEqual(tolerance);
}

describe("against mpmath at 40 digits", () => {
  it("gives the tails of Student's t, far ones too", () => {
    for (const row of rows("t")) {
      const { lower, upper } = studentTails(row["t"]!, row["nu"]!);
      if (row["upper"]! > 1e-300) expectClose(upper, row["upper"]!, TOLERANCE, row);
      expectClose(lower, 1 - row["upper"]!, TOLERANCE, row);
      expect(studentTails(-row["t"]!, row["nu"]!)).toEqual({ lower: upper, upper: lower });
    }
  });
  it("gives quantiles of Student's t", () => {
    for (const row of rows("tQuantile")) {
      // p is close to 1 here: what its last bit stands for in t grows with 1/(1 - p).
      const bitOfP = 1e-16 / (1 - row["p"]!);
      expectClose(studentQuantile(row["p"]!, row["nu"]!), row["t"]!, TOLERANCE + bitOfP, row);
    }
  });
  it("gives the normal distribution and its quantiles", () => {
    for (const row of rows("normal")) {
      expectClose(normalTails(row["z"]!).upper, row["upper"]!, TOLERANCE, row);
      expectClose(normalTails(-row["z"]!).lower, row["upper"]!, TOLERANCE, row);
    }
    for (const row of rows("normalQuantile")) expectClose(normalQuantile(row["p"]!), row["z"]!, TOLERANCE, row);
  });
  it("gives chi-squared, both tails, and its quantiles", () => {
    for (const row of rows("chiSquared")) {
      const { lower, upper } = chiSquaredTails(row["x"]!, row["nu"]!);
      if (row["lower"]! > 1e-300) expectClose(lower, row["lower"]!, TOLERANCE, row);
      if (row["upper"]! > 1e-300) expectClose(upper, row["upper"]!, TOLERANCE, row);
    }
    for (const row of rows("chiSquaredQuantile"))
      expectClose(chiSquaredQuantile(row["p"]!, row["nu"]!), row["x"]!, TOLERANCE, row);
  });
  it("gives F and its quantiles", () => {
    for (const row of rows("f"))
      if (row["upper"]! > 1e-300)
        expectClose(fTails(row["f"]!, row["nu1"]!, row["nu2"]!).upper, row["upper"]!, TOLERANCE, row);
    for (const row of rows("fQuantile"))
      expectClose(fQuantile(row["p"]!, row["nu1"]!, row["nu2"]!), row["f"]!, TOLERANCE, row);
  });
  it("gives the noncentral t to 1e-10 absolute, either sign of the noncentrality", () => {
    for (const row of rows("noncentralT")) {
      const { t, nu, delta, cdf } = row as { t: number; nu: number; delta: number; cdf: number };
      expect(Math.abs(noncentralTCdf(t, nu, delta) - cdf), JSON.stringify(row)).toBeLessThan(1e-10);
      expect(Math.abs(noncentralTCdf(-t, nu, -delta) - (1 - cdf))).toBeLessThan(1e-10);
    }
  });
});

describe("closed forms", () => {
  it("meets the Cauchy distribution at one degree of freedom, and the algebraic one at two", () => {
    for (const p of [0.6, 0.95, 0.975, 0.9995]) {
      expectClose(studentQuantile(p, 1), Math.tan(Math.PI * (p - 0.5)), 1e-12, p);
      expectClose(studentQuantile(p, 2), (2 * p - 1) * Math.sqrt(2 / (1 - (2 * p - 1) ** 2)), 1e-12, p);
    }
  });
  it("meets the exponential distribution at two degrees of freedom of chi-squared", () => {
    for (const x of [0.01, 1, 5, 50]) expectClose(chiSquaredTails(x, 2).upper, Math.exp(-x / 2), 1e-13, x);
  });
});

describe("edges", () => {
  it("is exact at infinities, zero and the middle", () => {
    expect(studentTails(Number.POSITIVE_INFINITY, 3)).toEqual({ lower: 1, upper: 0 });
    expect(studentTails(Number.NEGATIVE_INFINITY, 3)).toEqual({ lower: 0, upper: 1 });
    expect(studentTails(0, 3)).toEqual({ lower: 0.5, upper: 0.5 });
    expect(studentTwoSidedP(0, 3)).toBe(1);
    expect(normalTails(Number.POSITIVE_INFINITY)).toEqual({ lower: 1, upper: 0 });
    expect(normalTails(Number.NEGATIVE_INFINITY)).toEqual({ lower: 0, upper: 1 });
    expect(normalQuantile(0.5)).toBe(0);
    expect(studentQuantile(0.5, 4)).toBe(0);
    expect(chiSquaredTails(0, 4)).toEqual({ lower: 0, upper: 1 });
    expect(chiSquaredTails(Number.POSITIVE_INFINITY, 4)).toEqual({ lower: 1, upper: 0 });
    expect(fTails(0, 2, 3)).toEqual({ lower: 0, upper: 1 });
    expect(fTails(Number.POSITIVE_INFINITY, 2, 3)).toEqual({ lower: 1, upper: 0 });
  });
  it("refuses parameters that mean nothing", () => {
    for (const p of [0, 1, Number.NaN]) {
      expect(() => studentQuantile(p, 3)).toThrow(RangeError);
      expect(() => normalQuantile(p)).toThrow(RangeError);
    }
    expect(() => studentTails(1, 0)).toThrow(RangeError);
    expect(() => chiSquaredTails(1, -1)).toThrow(RangeError);
    expect(() => fTails(1, 0, 1)).toThrow(RangeError);
    expect(() => noncentralTCdf(1, 0.5, 1)).toThrow(RangeError);
  });
});

/** A second set of check values beside the repository, from SciPy 1.10.1 and R 4.2.2; absent in many checkouts. */
const beside = join(root, "../shared/data/checks/statistics");
describe.skipIf(!existsSync(beside))("against the check values beside the repository", () => {
  const read = (file: string) => JSON.parse(readFileSync(join(beside, file), "utf8")).cases;
  /** SciPy 1.10's t quantile is off by up to 2.4e-9 (t = 2.1318467813 for 2.1318467863 at ν = 4, p = 0.95). */
  const T_QUANTILE_OF_SCIPY = 3e-9;

  it("meets distributions.json to 1e-10", () => {
    const of = (id: string) => read("distributions.json").find((one: { id: string }) => one.id === id).expected;
    for (const row of of("t").rows) {
      expectClose(studentTails(row.t, row.df).lower, row.cdf, 1e-10, row);
      expectClose(studentTails(row.t, row.df).upper, row.upper, 1e-10, row);
    }
    for (const row of of("t-quantile").rows)
      expectClose(studentQuantile(row.p, row.df), row.t, T_QUANTILE_OF_SCIPY, row);
    for (const row of of("normal").rows) expectClose(normalTails(row.z).upper, row.upper, 1e-10, row);
    for (const row of of("normal").quantiles) expectClose(normalQuantile(row.p), row.z, 1e-10, row);
    for (const row of of("chi2").rows) {
      expectClose(chiSquaredTails(row.x, row.df).lower, row.cdf, 1e-10, row);
      expectClose(chiSquaredTails(row.x, row.df).upper, row.upper, 1e-10, row);
    }
    for (const row of of("chi2").quantiles) expectClose(chiSquaredQuantile(row.p, row.df), row.x, 1e-10, row);
    for (const row of of("f").rows) expectClose(fTails(row.f, row.df1, row.df2).upper, row.upper, 1e-10, row);
    for (const row of of("f").quantiles) expectClose(fQuantile(row.p, row.df1, row.df2), row.f, 1e-10, row);
    for (const row of of("noncentral-t").rows)
      expect(Math.abs(noncentralTCdf(row.t, row.df, row.nc) - row.cdf)).toBeLessThan(1e-10);
  });

  it("meets spec/noncentral-t.json to 1e-10 absolute", () => {
    const cases = read("spec/noncentral-t.json");
    expect(cases.length).toBe(180);
    for (const { t, nu, delta, cdf } of cases) expect(Math.abs(noncentralTCdf(t, nu, delta) - cdf)).toBeLessThan(1e-10);
  });

  it("meets spec/distributions.json to 1e-9, but for the quantiles that SciPy itself has less exactly", () => {
    for (const one of read("spec/distributions.json")) {
      one.x?.forEach((x: number, i: number) => {
        const wanted = one.kind === "normal cdf" ? one.value[i] : one.upper[i];
        const got = {
          "normal cdf": () => normalTails(x).lower,
          t: () => studentTails(x, one.nu).upper,
          F: () => fTails(x, one.nu1, one.nu2).upper,
          "chi-square": () => chiSquaredTails(x, one.nu).upper,
        }[one.kind as "t"]();
        expectClose(got, wanted, 1e-9, one.kind);
      });
      one.p?.forEach((p: number, i: number) => {
        if (p === 0.5 && one.kind !== "F" && one.kind !== "chi-square") return;
        if (p < 1e-6 && one.kind === "F") return;
        const wanted = one.kind === "normal quantile" ? one.value[i] : one.quantile[i];
        const got = {
          "normal quantile": () => normalQuantile(p),
          t: () => studentQuantile(p, one.nu),
          F: () => fQuantile(p, one.nu1, one.nu2),
          "chi-square": () => chiSquaredQuantile(p, one.nu),
        }[one.kind as "t"]();
        expectClose(got, wanted, one.kind === "t" ? T_QUANTILE_OF_SCIPY : 1e-9, `${one.kind} ${p}`);
      });
    }
  });
});
