import { detectableDifference } from "@underfoot/statistics";
import { expect, test } from "vitest";
import { reachCurve } from "./reach-curve.ts";

const at = (curve: ReturnType<typeof reachCurve>, shots: number): number =>
  curve.find((point) => point.shots === shots)?.difference ?? Number.NaN;

test("the more shots, the smaller the difference that can be shown; about 17 shots of each show one scatter", () => {
  const curve = reachCurve(2, 17);
  const differences = curve.map(({ difference }) => difference);
  expect(differences.toSorted((a, b) => b - a)).toEqual(differences);
  // n = 17 for d = 1.0 at power 0.8, two-sided 0.05: Cohen, Statistical Power Analysis for the Behavioral Sciences, 2nd ed.,
  // table 2.4.1 (from memory); 16 shots do not reach it.
  expect(at(curve, 17)).toBeLessThanOrEqual(2 * 1.005);
  expect(at(reachCurve(2, 16), 16)).toBeGreaterThan(2);
  expect(curve.at(-1)?.shots).toBe(26);
  expect(reachCurve(1, undefined).at(-1)?.shots).toBe(24);
  expect(reachCurve(1, 190).at(-1)?.shots).toBe(200);
});

test("the approximation stays within 1.5 % of the noncentral t", () => {
  const curve = reachCurve(2, 70);
  expect(curve.length).toBeGreaterThan(20);
  expect(curve.length).toBeLessThan(45);
  for (const { shots } of curve.filter((_, k) => k % 5 === 0)) {
    const exact = detectableDifference({ kind: "two-groups", nA: shots, nB: shots }, { sd: 2 });
    expect(Math.abs(at(curve, shots) / exact - 1), `${shots} shots`).toBeLessThan(0.015);
  }
});
