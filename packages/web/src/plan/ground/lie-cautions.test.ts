import { describe, expect, test } from "vitest";
import { isSloped, steepestDeg, tiltWarnings } from "./lie-cautions.ts";

const lie = (pitchDeg: number, rollDeg = 0) => ({
  name: "bank",
  pitchDeg,
  rollDeg,
  source: "inclinometer" as const,
  sdDeg: 0.2,
});
const plates = (...ratedTiltDegs: readonly (number | undefined)[]) => ({
  plates: ratedTiltDegs.map((ratedTiltDeg, k) => ({
    plate: k + 1,
    foot: k === 0 ? ("lead" as const) : ("trail" as const),
    ...(ratedTiltDeg === undefined ? {} : { ratedTiltDeg }),
  })),
});

test("the steepest angle goes over both angles", () => {
  expect(steepestDeg(lie(5))).toBeCloseTo(5, 12);
  expect(steepestDeg(lie(-3))).toBeCloseTo(3, 12);
  // sin² 3° + sin² 4° = 0.0027391 + 0.0048660 = sin² 5.0029°: arithmetic.
  expect(steepestDeg(lie(3, 4))).toBeCloseTo(5.0029, 3);
});

describe("the warnings above the lies", () => {
  test("name the plate that is tilted beyond what it is rated to, for each lie that does it", () => {
    const lies = [lie(5), { ...lie(6), name: "steep" }, { ...lie(-9), name: "steepest" }];
    const warnings = tiltWarnings(lies, plates(10, 5));
    expect(warnings).toHaveLength(2);
    expect(warnings[0]).toMatch(/^steepest tilts the plates by 9\.0°, and plate 2 is rated to 5°/);
    expect(warnings[1]).toMatch(/^steep tilts the plates by 6\.0°/);
    expect(tiltWarnings([lie(5)], plates(5, 5))).toEqual([]);
  });

  test("say once that nobody wrote down what a tilted plate is rated to", () => {
    const warnings = tiltWarnings([lie(2), { ...lie(3), name: "steeper" }], plates(undefined, undefined));
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).toMatch(/^steeper .* plate 1 and 2 are rated to is not written down/);
  });

  test("are none on the flat, or without plates", () => {
    expect(isSloped(lie(0.3))).toBe(false);
    expect(tiltWarnings([lie(0.3)], plates(undefined))).toEqual([]);
    expect(tiltWarnings([lie(6)], undefined)).toEqual([]);
  });
});
