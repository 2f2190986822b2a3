import type { ShotAgainstUsual } from "@underfoot/compare";
import type { SoleView } from "@underfoot/report";
import { expect, test } from "vitest";
import { usualSpot } from "./usual-spot.ts";

// A sole of 300 mm whose width grows from 60 mm at the heel to 100 mm at the toe, on one side of its axis only.
const outline = [
  { alongM: 0, acrossM: 0 },
  { alongM: 0.3, acrossM: 0 },
  { alongM: 0.3, acrossM: 0.1 },
  { alongM: 0, acrossM: 0.06 },
];
const sole = { kind: "traced", lengthM: 0.3, outline } as unknown as SoleView;
const band = (mean: number, half: number) => ({ kind: "usual", mean, low: mean - half, high: mean + half });
const found = (along: object, across: object) =>
  ({
    measures: [
      { measure: "lead.heelToe.at.delivery", band: along },
      { measure: "lead.innerOuter.at.delivery", band: across },
    ],
  }) as unknown as ShotAgainstUsual;

test("the spot lies where the two shares of length and width say, as wide as their bands", () => {
  const spot = usualSpot(found(band(50, 10), band(25, 5)), sole);
  // Half way along, the sole is 80 mm wide.
  expect(spot?.alongM).toBeCloseTo(0.15, 12);
  expect(spot?.acrossM).toBeCloseTo(0.02, 12);
  expect(spot?.halfAlongM).toBeCloseTo(0.03, 12);
  expect(spot?.halfAcrossM).toBeCloseTo(0.004, 12);
});

test("no spot without both bands, or on a sole that was not traced", () => {
  const withheld = { kind: "withheld", reason: "too-few", n: [3], needed: 5 };
  expect(usualSpot(found(band(50, 10), withheld), sole)).toBeUndefined();
  expect(usualSpot(found(band(50, 10), band(25, 5)), { kind: "missing" } as SoleView)).toBeUndefined();
});
