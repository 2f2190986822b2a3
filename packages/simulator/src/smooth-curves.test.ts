import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { monotoneCubic } from "./monotone-cubic.ts";
import { addPulse, addPulseMotion, PULSE_AREA, pulseIntegral, pulseOfArea, restingTrajectory } from "./pulse.ts";

// Made by SciPy; the file names version and calls.
const reference = JSON.parse(
  readFileSync(new URL("../../../reference/simulator-curves.json", import.meta.url), "utf8"),
) as {
  monotoneCubic: { knots: { at: number; value: number }[]; at: number[]; value: number[] };
  pulse: { area: number; u: number[]; firstIntegral: number[]; secondIntegral: number[] };
};

test("the monotone cubic is SciPy's, constant outside its knots", () => {
  const { knots, at, value } = reference.monotoneCubic;
  at.forEach((timeS, k) => {
    const [own] = monotoneCubic(knots, { firstS: timeS, stepS: 1, count: 1 });
    const wanted = timeS > 2.78 ? 85 : timeS < 1.2 ? 58 : value[k]!;
    expect(own).toBeCloseTo(wanted, 11);
  });
});

test("a pulse's area is 32/35, the beta function B(1/2, 4)", () => {
  expect(PULSE_AREA).toBeCloseTo(reference.pulse.area, 14);
  expect(pulseIntegral(pulseOfArea(3, 1, 0.2), 9)).toBeCloseTo(3, 13);
});

test("speed and travel of a pulse are its integrals as quadrature gives them", () => {
  const pulse = { height: 2, centreS: 1, halfWidthS: 0.25 };
  reference.pulse.u.forEach((u, k) => {
    const out = restingTrajectory(1);
    addPulseMotion(pulse, { firstS: 1 + 0.25 * u, stepS: 1, count: 1 }, out);
    expect(out.speedMPerS[0]).toBeCloseTo(2 * 0.25 * reference.pulse.firstIntegral[k]!, 12);
    expect(out.travelM[0]).toBeCloseTo(2 * 0.25 ** 2 * reference.pulse.secondIntegral[k]!, 12);
    expect(pulseIntegral(pulse, 1 + 0.25 * u)).toBeCloseTo(out.speedMPerS[0]!, 13);
  });
});

test("after its end a pulse leaves a constant speed, before its beginning nothing", () => {
  const out = restingTrajectory(3);
  const pulse = { height: 2, centreS: 1, halfWidthS: 0.25 };
  addPulseMotion(pulse, { firstS: 0, stepS: 1.5, count: 3 }, out);
  expect([...out.accelerationMPerS2]).toEqual([0, 0, 0]);
  expect(out.speedMPerS[0]).toBe(0);
  expect(out.speedMPerS[2]).toBeCloseTo(2 * 0.25 * (32 / 35), 14);
  expect(out.travelM[2]! - out.travelM[1]!).toBeCloseTo(1.5 * out.speedMPerS[2]!, 13);
  const values = new Float64Array(3);
  addPulse(pulse, { firstS: 0.5, stepS: 0.5, count: 3 }, values);
  expect([...values]).toEqual([0, 2, 0]);
});
