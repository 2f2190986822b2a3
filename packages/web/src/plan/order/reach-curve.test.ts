import { expect, test } from "vitest";
import { reachCurve } from "./reach-curve.ts";

test("the more shots, the smaller the difference that can be shown; 17 shots of each show one scatter", () => {
  const curve = reachCurve(2, 17);
  const differences = curve.map(({ difference }) => difference);
  expect(differences.toSorted((a, b) => b - a)).toEqual(differences);
  // n = 17 for d = 1.0 at power 0.8, two-sided 0.05: Cohen, Statistical Power Analysis for the Behavioral Sciences, 2nd ed.,
  // table 2.4.1 (from memory); 16 shots do not reach it.
  const at = (shots: number): number => curve.find((point) => point.shots === shots)?.difference ?? Number.NaN;
  expect(at(17)).toBeLessThanOrEqual(2);
  expect(at(16)).toBeGreaterThan(2);
  expect(curve.at(-1)?.shots).toBe(26);
  expect(reachCurve(1, undefined).at(-1)?.shots).toBe(24);
});
