import { expect, test } from "vitest";
import scipy from "../../../reference/signal-scipy.json" with { type: "json" };
import { bridgedGaps } from "./bridged-gaps.ts";

const cubic = (i: number): number => 5 - 2 * i + 0.3 * i * i - 0.01 * i * i * i;

function withGaps(n: number, ...gaps: (readonly [number, number])[]): Float64Array<ArrayBuffer> {
  const x = Float64Array.from({ length: n }, (_, i) => cubic(i));
  for (const [first, end] of gaps) x.fill(Number.NaN, first, end);
  return x;
}

test("equals SciPy's interpolation through two samples on each side", () => {
  const { first, end, values } = scipy.gap;
  const x = Float64Array.from(scipy.x);
  x.fill(Number.NaN, first, end);
  bridgedGaps(x, { maxSamples: 5 })
    .values.slice(first, end)
    .forEach((value, i) => {
      expect(value).toBeCloseTo(values[i]!, 9);
    });
});

test("a cubic comes back exactly, counted and marked, and the input stays", () => {
  const x = withGaps(30, [10, 15], [20, 21]);
  const { values, count, isBridged } = bridgedGaps(x, { maxSamples: 5 });
  expect(count).toBe(6);
  expect([...isBridged.keys()].filter((i) => isBridged[i] === 1)).toEqual([10, 11, 12, 13, 14, 20]);
  values.forEach((value, i) => {
    expect(value).toBeCloseTo(cubic(i), 9);
  });
  expect(x[12]).toBeNaN();
});

test("longer gaps, gaps at the ends and gaps too near each other stay", () => {
  const x = withGaps(40, [0, 2], [10, 16], [25, 26], [27, 28], [39, 40]);
  const { values, count } = bridgedGaps(x, { maxSamples: 5 });
  expect(count).toBe(0);
  expect(values).toEqual(x);
});

test("one sample before the first valid pair is still too few", () => {
  expect(bridgedGaps(withGaps(10, [1, 2]), { maxSamples: 5 }).count).toBe(0);
  expect(bridgedGaps(withGaps(10, [2, 3]), { maxSamples: 5 }).count).toBe(1);
  expect(bridgedGaps(new Float64Array(0), { maxSamples: 5 }).count).toBe(0);
});
