import { describe, expect, test } from "vitest";
import scipy from "../../../reference/signal-scipy.json" with { type: "json" };
import { hampelSpikes, withoutSpikes } from "./hampel.ts";

/** Uneven, but without a spike. */
function ripple(n: number): Float64Array<ArrayBuffer> {
  return Float64Array.from({ length: n }, (_, i) => Math.sin(i * i * 0.61) + i / 50);
}

function found(x: Float64Array): number[] {
  return [...hampelSpikes(x).entries()].filter(([, is]) => is === 1).map(([i]) => i);
}

test("finds what SciPy's median_abs_deviation finds", () => {
  expect(found(Float64Array.from(scipy.spikes.x))).toEqual(scipy.spikes.found);
});

test("agrees with the definition, window by window, on a rough signal", () => {
  const x = Float64Array.from({ length: 3000 }, (_, i) => Math.sin(i * i * 0.61) ** 9 + (i % 97 === 5 ? 8 : 0));
  const wanted: number[] = [];
  const median = (values: number[]): number => values.toSorted((a, b) => a - b)[5]!;
  for (let i = 5; i < x.length - 5; i++) {
    const window = [...x.subarray(i - 5, i + 6)];
    const centre = median(window);
    const mad = median(window.map((value) => Math.abs(value - centre)));
    if (Math.abs(x[i]! - centre) > 6 * 1.4826022185056018 * mad) wanted.push(i);
  }
  expect(wanted.length).toBeGreaterThan(30);
  expect(found(x)).toEqual(wanted);
});

describe("withoutSpikes", () => {
  test("replaces up to three neighbours by the straight line and counts them", () => {
    const x = ripple(100);
    const spiky = x.slice();
    for (const i of [20, 50, 51, 52]) spiky[i] = 300;
    const { values, replacedCount, leftCount, isReplaced } = withoutSpikes(spiky);
    expect([replacedCount, leftCount]).toEqual([4, 0]);
    expect(values[20]).toBeCloseTo((x[19]! + x[21]!) / 2, 12);
    expect(values[51]).toBeCloseTo((x[49]! + x[53]!) / 2, 12);
    expect([...isReplaced.entries()].filter(([, is]) => is).map(([i]) => i)).toEqual([20, 50, 51, 52]);
    expect(values[21]).toBe(x[21]);
    expect(spiky[20]).toBe(300);
  });

  test("leaves four or more, and says how many", () => {
    const spiky = ripple(100);
    spiky.fill(300, 50, 54);
    const { values, replacedCount, leftCount } = withoutSpikes(spiky);
    expect([replacedCount, leftCount]).toEqual([0, 4]);
    expect(values).toEqual(spiky);
  });

  test("changes nothing in a clean signal, a step, or a soft peak", () => {
    const peak = Float64Array.from({ length: 100 }, (_, i) => 800 * Math.exp(-(((i - 50) / 4) ** 2)));
    const step = Float64Array.from({ length: 100 }, (_, i) => (i < 50 ? 0 : 800) + Math.sin(i * 2.3));
    for (const x of [ripple(100), peak, step]) expect(withoutSpikes(x)).toMatchObject({ values: x, replacedCount: 0 });
  });

  test("a quiet channel may flip its last bit, but a spike on it is found", () => {
    const quiet = Float64Array.from({ length: 500 }, (_, i) => (i % 37 === 0 ? 0.1 : 0));
    expect(withoutSpikes(quiet).replacedCount).toBe(0);
    quiet[200] = 25;
    expect(withoutSpikes(quiet)).toMatchObject({ replacedCount: 1, values: quiet.map((v) => (v === 25 ? 0 : v)) });
    const constant = new Float64Array(50).fill(7);
    constant[20] = 9;
    expect(withoutSpikes(constant).replacedCount).toBe(1);
  });

  test("windows with a missing sample are not judged", () => {
    const x = ripple(60);
    x[20] = Number.NaN;
    x[24] = 300;
    x[40] = 300;
    expect(found(x)).toEqual([40]);
    expect(withoutSpikes(new Float64Array(5)).replacedCount).toBe(0);
    expect(withoutSpikes(new Float64Array(0)).values).toHaveLength(0);
  });
});
