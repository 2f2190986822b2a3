import { describe, expect, test } from "vitest";
import { isSloped, steepestDeg, tiltWarning } from "./lie-cautions.ts";

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

describe("the warning above the lie", () => {
  test("names the plate that is tilted beyond what it is rated to", () => {
    expect(tiltWarning(lie(6), plates(10, 5))).toMatch(/^bank tilts the plates by 6\.0°, and plate 2 is rated to 5°/);
    expect(tiltWarning(lie(5), plates(5, 5))).toBeUndefined();
  });

  test("says that nobody wrote down what a tilted plate is rated to", () => {
    expect(tiltWarning(lie(3), plates(undefined, undefined))).toMatch(/plate 1 and 2 are rated to is not written down/);
  });

  test("says nothing on the flat, or without plates", () => {
    expect(isSloped(lie(0.3))).toBe(false);
    expect(tiltWarning(lie(0.3), plates(undefined))).toBeUndefined();
    expect(tiltWarning(lie(6), undefined)).toBeUndefined();
  });
});
