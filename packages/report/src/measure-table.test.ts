import type { Measure } from "@underfoot/mechanics";
import { expect, test } from "vitest";
import { measuresCsv, measureTable } from "./measure-table.ts";
import { measureText } from "./measure-text.ts";

const measure = (over: Partial<Measure>): Measure => ({
  id: "both.target.peak",
  value: 134.6,
  unit: "N",
  sigma: 2.4,
  sigmaShared: 2,
  axes: "turf",
  isValid: true,
  ...over,
});

test("a measure is title, value, uncertainty and the slope's share", () => {
  expect(measureText(measure({ slopeShare: 68.2 }))).toEqual({
    id: "both.target.peak",
    title: "Peak target force",
    text: "135 N",
    number: "135",
    unit: "N",
    plusMinus: "±2",
    slopeShare: "68 N",
  });
});

test.each([
  ["mm", "both.travelTarget.at.impact", 28.4, 3, "28 mm"],
  ["deg", "both.leanTarget.at.top", -5.04, 0.2, "−5.0°"],
  ["1", "lead.friction.peak", 0.553, 0.02, "0.55"],
  ["N m s", "both.turn.impulse", 1.23, 0.1, "1.2 N m s"],
  ["N/s", "both.up.rise", 8423, 300, "8400 N/s"],
  ["BW", "both.up.peak", 1.2, 0.01, "1.20 BW"],
])("%s is written in its own way", (unit, id, value, sigma, text) => {
  expect(measureText(measure({ unit, id, value, sigma })).text).toBe(text);
});

test("what is not valid says why, what is saturated reads at least, what is text is text", () => {
  expect(measureText(measure({ isValid: false, value: NaN, why: "feet not traced" }))).toMatchObject({
    text: "not given",
    why: "feet not traced",
  });
  expect(measureText(measure({ isAtLeast: true })).text).toBe("at least 135 N");
  const order = measure({ id: "both.peakOrder.text", value: NaN, text: "target, ahead, up", unit: "" });
  expect(measureText(order).text).toBe("target, ahead, up");
});

test("a measure outside the catalogue keeps its id as its title", () => {
  expect(measureText(measure({ id: "plate.1.load" })).title).toBe("plate.1.load");
});

test("the table is rows of text under its heads", () => {
  const rows = measureTable([measure({ slopeShare: 68 }), measure({ isValid: false, why: "two peaks" })]);
  expect(rows).toEqual([
    ["Measure", "Axes", "Value", "±", "Slope’s share", "Why not"],
    ["Peak target force", "turf", "135 N", "±2", "68 N", ""],
    ["Peak target force", "turf", "not given", "", "", "two peaks"],
  ]);
});

test("CSV: full precision, missing is empty, quotes as in RFC 4180 section 2, rule 7", () => {
  const csv = measuresCsv([
    {
      file: 'b"bb,',
      measures: [measure({ value: 1 / 3, slopeShare: 68 }), measure({ isValid: false, value: NaN, why: "gap" })],
    },
    {
      file: "x.c3d",
      measures: [measure({ id: "both.peakOrder.text", value: NaN, sigma: NaN, text: "target, up", unit: "" })],
    },
  ]);
  expect(csv.split("\n")).toEqual([
    "file,id,title,axes,value,unit,sigma,sigma_shared,slope_share,at_least,valid,why",
    '"b""bb,",both.target.peak,Peak target force,turf,0.3333333333333333,N,2.4,2,68,false,true,',
    '"b""bb,",both.target.peak,Peak target force,turf,,N,,,,false,false,gap',
    'x.c3d,both.peakOrder.text,Peak order,turf,"target, up",,,2,,false,true,',
    "",
  ]);
});
