import type { Measure } from "@underfoot/mechanics";
import { expect, test } from "vitest";
import { movedNumbers } from "./moved-numbers.ts";
import { currentLayout, packedMeasures, sigmaAt, valueAt } from "./packed-values.ts";

const layout = currentLayout();
const measure = (id: string, value: number, part: Partial<Measure> = {}): Measure => ({
  ...{ id, value, unit: "N", sigma: 2, sigmaShared: 0, axes: "turf", isValid: true },
  ...part,
});
const packed = (...measures: Measure[]) => ({ ...packedMeasures(measures, layout), columns: layout.columns });

test("packed values come back bit by bit; what is not valid is NaN", () => {
  const { values, sigmas } = packed(
    measure("both.up.peak", 1234.5678901234567, { sigma: 0.1 }),
    measure("both.up.min", 5, { isValid: false }),
  );
  const place = layout.columns.indexOf("both.up.peak turf");
  expect(valueAt(values, place)).toBe(1234.5678901234567);
  expect(sigmaAt(sigmas, place)).toBe(Math.fround(0.1));
  expect(valueAt(values, layout.columns.indexOf("both.up.min turf"))).toBeNaN();
  expect(valueAt(values, layout.columns.length)).toBeNaN();
});

test("no two measures share a place", () => {
  expect(new Set(layout.columns).size).toBe(layout.columns.length);
});

test("what moved, appeared and vanished is counted, with the largest change and its shot", () => {
  const moved = movedNumbers();
  moved.add(
    "s1",
    packed(measure("both.up.peak", 100), measure("both.up.min", 1)),
    packed(measure("both.up.peak", 103), measure("both.up.min", 1 + 1e-12)),
  );
  moved.add("s2", packed(measure("both.up.peak", 100)), packed(measure("both.up.peak", 94)));
  moved.add("s3", packed(), packed(measure("both.up.peak", 1)));
  moved.add("s4", packed(measure("both.up.peak", 1)), packed());
  expect(moved.all()).toMatchObject([
    {
      column: "both.up.peak turf",
      unit: "N",
      shots: 4,
      appeared: 1,
      vanished: 1,
      largestChange: -6,
      largestInSigmas: -3,
      shotId: "s2",
    },
  ]);
});

test("a layout of another version is compared by name", () => {
  const moved = movedNumbers();
  const before = packed(measure("both.up.peak", 7));
  const columns = layout.columns.map((name) => (name === "both.up.peak turf" ? "old.name turf" : name));
  moved.add("s1", { ...before, columns }, packed(measure("both.up.peak", 7)));
  expect(moved.all()).toMatchObject([{ column: "both.up.peak turf", appeared: 1 }]);
});

test("a text that changed has moved", () => {
  const moved = movedNumbers();
  const text = (words: string) => packed(measure("both.peakOrder.text", Number.NaN, { text: words }));
  moved.add("s1", text("target, ahead, up"), text("up, ahead, target"));
  expect(moved.all()).toMatchObject([{ column: "both.peakOrder.text turf", shots: 1 }]);
});
