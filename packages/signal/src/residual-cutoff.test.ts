import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import scipy from "../../../reference/signal-scipy.json" with { type: "json" };
import { type ResidualCutoff, residualCutoffHz } from "./residual-cutoff.ts";

function expectRelative(found: number, wanted: number, tolerance: number): void {
  expect(Math.abs(found - wanted)).toBeLessThan(tolerance * Math.abs(wanted));
}

function expectResidual(found: ResidualCutoff, wanted: readonly number[]): void {
  expect(found.residual).toHaveLength(wanted.length);
  const largest = Math.max(...wanted);
  found.residual.forEach((r, i) => {
    expect(Math.abs(r - wanted[i]!)).toBeLessThan(1e-9 * largest);
  });
}

test("equals SciPy's filtfilt and linregress", () => {
  const { rateHz, x, residual, ...wanted } = scipy.residual;
  const found = residualCutoffHz(Float64Array.from(x), rateHz);
  expectResidual(found, residual);
  expect(found.firstIndex).toBe(wanted.firstIndex);
  expect(found.cutoffHz).toBe(wanted.cutoffHz);
  expectRelative(found.slope, wanted.slope, 1e-6);
  expectRelative(found.intercept, wanted.intercept, 1e-6);
  expectRelative(found.r2, wanted.r2, 1e-9);
});

/** Park and Miller's generator ("minimal standard"), so that the signal can be made anywhere. */
function parkMillerSignal(): Float64Array<ArrayBuffer> {
  let state = 12345;
  return Float64Array.from({ length: 1500 }, (_, i) => {
    state = (16807 * state) % 2147483647;
    const t = i / 500;
    const noise = (2 * state) / 2147483647 - 1;
    return 100 * Math.sin(2 * Math.PI * 1.5 * t) + 20 * Math.sin(2 * Math.PI * 4 * t) + 3 * noise;
  });
}

test("the stated signal has the cut-off that a separate program found", () => {
  // Python with SciPy 1.10, from the same rule: first sample, line and cut-off.
  const x = parkMillerSignal();
  expect(x[0]).toBeCloseTo(-2.4203008289543453, 12);
  const found = residualCutoffHz(x, 500);
  expect(found.cutoffHz).toBe(9);
  expect(found.firstIndex).toBe(51);
  expectRelative(found.slope, -0.005780512880173513, 1e-9);
  expectRelative(found.intercept, 1.7353340757283318, 1e-9);
  expectRelative(found.r2, 0.9999785515056664, 1e-9);
});

const CHECKS = join(import.meta.dirname, "../../../../shared/data/checks/mechanics");

// Check tables of two more programs; they are not in every checkout.
describe.skipIf(!existsSync(CHECKS))("equals the check tables", () => {
  test("of the stated signal", () => {
    const table = JSON.parse(readFileSync(`${CHECKS}/residual.json`, "utf8"));
    expectResidual(residualCutoffHz(parkMillerSignal(), 500), table.residual);
  });

  test("of 1500 samples written out", () => {
    const table = JSON.parse(readFileSync(`${CHECKS}/spec/residual_analysis.json`, "utf8"));
    const found = residualCutoffHz(Float64Array.from(table.signal), table.rateHz);
    expectResidual(found, table.residual);
    expect(found.frequenciesHz[found.firstIndex]).toBe(table.lineFirstFrequency);
    expect(found.cutoffHz).toBe(table.cutoffHz);
    expectRelative(found.intercept, table.intercept, 1e-6);
  });
});

test("missing samples are left out", () => {
  const x = parkMillerSignal();
  x.fill(Number.NaN, 700, 710);
  expect(residualCutoffHz(x, 500).cutoffHz).toBeGreaterThanOrEqual(8);
});

test("a rate too low for a line gives no cut-off", () => {
  const found = residualCutoffHz(parkMillerSignal(), 100);
  expect(found.cutoffHz).toBeUndefined();
  expect(found.firstIndex).toBe(-1);
  expect([...found.frequenciesHz]).toEqual([2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
});
