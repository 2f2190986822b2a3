import type { ShotAgainstUsual, ShotUsualCurve } from "@underfoot/compare";
import type { Shot } from "@underfoot/mechanics";
import type { SheetColumn, SheetModel } from "@underfoot/report";
import { expect, test } from "vitest";
import { usualBands } from "./usual-bands.ts";

const curveOf = (column: string, parts: Partial<ShotUsualCurve> = {}): ShotUsualCurve => ({
  ...{ column, title: column, unit: "N", status: "band", n: 6, factor: 3, pointwiseFactor: 2 },
  ...{ mean: [0, 0, 0], low: [-10, -20, -30], high: [10, 20, 30], slopeShare: [80, 80, 80] },
  ...{ values: [], stretches: [] },
  ...parts,
});
const found = (curves: readonly ShotUsualCurve[], isBetweenLies = false) =>
  ({
    curves,
    isBetweenLies,
    usual: { grid: { kind: "impact", firstMs: -200, stepMs: 100 } },
  }) as unknown as ShotAgainstUsual;
const sheet = (columns: readonly Partial<SheetColumn>[], kind = "impact") =>
  ({ columns, time: { zero: { kind }, startMs: -150, endMs: 100 } }) as unknown as SheetModel;
const shot = { weightN: 800 } as Shot;

test("a band comes in the column's unit and ends where the sheet does", () => {
  const bands = usualBands(
    found([curveOf("both.travelTarget turf"), curveOf("both.up turf")]),
    sheet([{ id: "travel" }, { id: "up" }]),
    shot,
  );
  // mm of the curve are cm of the column, newtons of it body weights.
  expect(bands.travel).toEqual({ timesMs: [-200, -100, 0], low: [Number.NaN, -2, -3], high: [Number.NaN, 2, 3] });
  expect(bands.up?.high[1]).toBeCloseTo(20 / 800, 12);
});

test("on another lie the band moves by what the slope's share differs", () => {
  const base = { value: 86, text: "" };
  const columns = sheet([{ id: "push", base }]);
  expect(usualBands(found([curveOf("both.target turf")], true), columns, shot).push?.low[1]).toBe(-14);
  expect(usualBands(found([curveOf("both.target turf")], false), columns, shot).push?.low[1]).toBe(-20);
});

test("no band from fewer than five others, and none without an impact to count from", () => {
  expect(
    usualBands(found([curveOf("both.target turf", { status: "too-few" })]), sheet([{ id: "push" }]), shot),
  ).toEqual({});
  expect(usualBands(found([curveOf("both.target turf")]), sheet([{ id: "push" }], "first-sample"), shot)).toEqual({});
});
