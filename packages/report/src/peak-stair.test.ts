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

test("where up peaks before ahead, the gap ahead to up is turned for the order and kept for the columns", () => {
  const { both } = shot;
  const upN = both.wrench.upN.map((_, i) => 800 + 160 * Math.exp(-(((i / 500 - 3.35) / 0.08) ** 2)));
  const upFirst = { ...shot, both: { ...both, wrench: { ...both.wrench, upN } } };
  const stair = peakStair(upFirst, [gap("aheadToUp", -49, 5)], "turf", timeZero(shot));
  expect(stair?.order.map((peak) => peak.direction)).toEqual(["target", "up", "ahead"]);
  expect(stair?.orderSteps[1]).toMatchObject({ from: "up", to: "ahead", gapMs: 49, text: "49 ms" });
  expect(stair?.steps[1]).toMatchObject({ from: "ahead", to: "up", gapMs: -49 });
});

test.each([
  ["no top", handMadeShot({ without: ["top"] })],
  ["a gap in the downswing", handMadeShot({ gapS: [3.3, 3.32] })],
])("%s: no stair", (_, without) => {
  expect(peakStair(without, [], "turf", timeZero(without))).toBeUndefined();
});
