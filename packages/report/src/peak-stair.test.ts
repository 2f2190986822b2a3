import type { Measure } from "@underfoot/mechanics";
import { expect, test } from "vitest";
import { handMadeShot } from "./hand-made-shot.ts";
import { peakStair } from "./peak-stair.ts";
import { timeZero } from "./shot-time.ts";

const shot = handMadeShot();
const gap = (id: string, value: number, sigma: number): Measure => ({
  id: `both.peakGap.${id}`,
  value,
  unit: "ms",
  sigma,
  sigmaShared: 0,
  axes: "turf",
  isValid: true,
});

test("target, ahead and up peak where the invented curves have their maxima", () => {
  const stair = peakStair(shot, [], "turf", timeZero(shot));
  const times = stair?.peaks.map((peak) => peak.timeMs) ?? [];
  for (const [k, expected] of [-200, -100, -50].entries()) expect(times[k]).toBeCloseTo(expected, 0);
  expect(stair?.steps.map((step) => step.text)).toEqual(["100 ms", "50 ms"]);
});

test("a step within two sigmas of its gap is together", () => {
  const measures = [gap("targetToAhead", 100, 10), gap("aheadToUp", 50, 30)];
  const stair = peakStair(shot, measures, "turf", timeZero(shot));
  expect(stair?.orderSteps.map((step) => [step.text, step.isTogether])).toEqual([
    ["100 ms", false],
    ["together", true],
  ]);
});

test("a gap measured the other way about is turned", () => {
  const early = [gap("targetToAhead", -100, 10)];
  expect(peakStair(shot, early, "turf", timeZero(shot))?.steps[0]?.gapMs).toBe(-100);
});

test.each([
  ["no top", handMadeShot({ without: ["top"] })],
  ["a gap in the downswing", handMadeShot({ gapS: [3.3, 3.32] })],
])("%s: no stair", (_, without) => {
  expect(peakStair(without, [], "turf", timeZero(without))).toBeUndefined();
});
