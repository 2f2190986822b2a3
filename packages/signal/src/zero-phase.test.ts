import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import scipy from "../../../reference/signal-scipy.json" with { type: "json" };
import { butterworthLowPass } from "./low-pass.ts";
import type { Samples } from "./samples.ts";
import { zeroPhase, zeroPhaseMany } from "./zero-phase.ts";

function rangeOf(x: Samples): number {
  return Math.max(...x) - Math.min(...x);
}

/** Largest difference as a share of the range of the input. */
function worst(found: Samples, wanted: ArrayLike<number>, input: Samples): number {
  expect(found.length).toBe(wanted.length);
  return Math.max(...found.map((value, i) => Math.abs(value - wanted[i]!))) / rangeOf(input);
}

const FILTER = butterworthLowPass({ cutoffHz: 25, rateHz: 1000 });

function wave(n: number, seed = 1): Float64Array<ArrayBuffer> {
  return Float64Array.from({ length: n }, (_, i) => 400 + 30 * Math.sin(seed + i * i * 0.37) + 20 * Math.sin(i / 40));
}

describe("equals scipy.signal.filtfilt with its defaults", () => {
  test.each(scipy.filters)("$cutoffHz Hz at $rateHz Hz", ({ cutoffHz, rateHz, filtered }) => {
    const x = Float64Array.from(scipy.x);
    expect(worst(zeroPhase(x, butterworthLowPass({ cutoffHz, rateHz })), filtered, x)).toBeLessThan(1e-9);
  });
});

const CHECKS = join(import.meta.dirname, "../../../../shared/data/checks/mechanics");

// Check tables of two more programs; they are not in every checkout.
describe.skipIf(!existsSync(CHECKS))("equals the check tables made with SciPy 1.10", () => {
  interface Case {
    readonly rateHz: number;
    readonly cutoffHz: number;
    readonly output: number[];
  }

  test("four rates by four cut-offs over 200 samples", () => {
    const table = JSON.parse(readFileSync(`${CHECKS}/spec/butter_filtfilt.json`, "utf8"));
    const x = Float64Array.from(table.input);
    expect(table.cases).toHaveLength(16);
    for (const { rateHz, cutoffHz, output } of table.cases as Case[]) {
      expect(worst(zeroPhase(x, butterworthLowPass({ cutoffHz, rateHz })), output, x)).toBeLessThan(1e-9);
    }
  });

  test("step, ramp and constant; a run under 30 samples is refused, which SciPy would filter", () => {
    const table = JSON.parse(readFileSync(`${CHECKS}/filter.json`, "utf8"));
    const cases = table.filtfilt as { fs: number; cutoff: number; x: number[]; y: number[] }[];
    const lengths = cases.map(({ fs, cutoff, x, y }) => {
      const input = Float64Array.from(x);
      const found = zeroPhase(input, butterworthLowPass({ cutoffHz: cutoff, rateHz: fs }));
      if (x.length < 30) expect(found.every(Number.isNaN)).toBe(true);
      else expect(worst(found, y, Float64Array.from([...x, x[0]! + 1]))).toBeLessThan(1e-9);
      return x.length;
    });
    expect(lengths.filter((n) => n >= 30).length).toBeGreaterThan(0);
  });
});

test("columns side by side give the same bits as one alone, for any number of them", () => {
  for (const count of [1, 2, 3, 5, 12]) {
    const columns = Array.from({ length: count }, (_, c) => wave(200, c));
    const many = zeroPhaseMany(columns, FILTER);
    expect(many).toEqual(columns.map((x) => zeroPhase(x, FILTER)));
  }
  expect(zeroPhaseMany([], FILTER)).toEqual([]);
});

test("the input stays as it was and the result lands in out", () => {
  const x = wave(100);
  const before = x.slice();
  const out = new Float64Array(100);
  expect(zeroPhase(x, FILTER, out)).toBe(out);
  expect(x).toEqual(before);
});

test("each run of valid samples is filtered alone; runs under 30 samples become NaN", () => {
  const x = wave(200);
  for (const i of [0, 50, 51, 81, 111]) x[i] = Number.NaN;
  const y = zeroPhase(x, FILTER);
  const alone = (first: number, end: number): Float64Array => zeroPhase(x.slice(first, end), FILTER);
  expect(y.subarray(1, 50)).toEqual(alone(1, 50)); // 49 samples
  expect(y.subarray(50, 82).every(Number.isNaN)).toBe(true); // 52..80: 29 samples
  expect(y.subarray(82, 111).every(Number.isNaN)).toBe(true); // 29 samples
  expect(y.subarray(112)).toEqual(alone(112, 200));
  expect(y.subarray(112).some(Number.isNaN)).toBe(false);
});

test("a column with a gap does not touch its neighbours", () => {
  const columns = [wave(100, 1), wave(100, 2), wave(100, 3)];
  columns[1]![40] = Number.NaN;
  const many = zeroPhaseMany(columns, FILTER);
  expect(many[0]).toEqual(zeroPhase(wave(100, 1), FILTER));
  expect(many[2]).toEqual(zeroPhase(wave(100, 3), FILTER));
  expect(many[1]!.some(Number.isFinite)).toBe(true);
});

test.each([0, 1, 29, 30])("%d samples", (n) => {
  const y = zeroPhase(wave(n), FILTER);
  expect(y).toHaveLength(n);
  expect(y.every((value) => Number.isFinite(value) === n >= 30)).toBe(true);
});

test("columns of different length are refused", () => {
  expect(() => zeroPhaseMany([wave(50), wave(51)], FILTER)).toThrow(RangeError);
  expect(() => zeroPhase(wave(50), FILTER, new Float64Array(49))).toThrow(RangeError);
});

// Limits set by simulation: what 25 Hz may take from a peak like a half sine of width w.
test.each([
  [60, 0.6],
  [100, 0.1],
  [150, 0.03],
])("a half sine of %d ms keeps its peak within %d %%", (widthMs, limitPercent) => {
  const x = Float64Array.from({ length: 1001 }, (_, i) => {
    const u = (i - 500) / widthMs;
    return Math.abs(u) < 0.5 ? Math.cos(Math.PI * u) : 0;
  });
  const lostPercent = 100 * (1 - Math.max(...zeroPhase(x, FILTER)));
  expect(lostPercent).toBeLessThan(limitPercent);
  expect(lostPercent).toBeGreaterThan(limitPercent / 20);
});
