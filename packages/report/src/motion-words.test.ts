import { expect, test } from "vitest";
import { handMadeShot } from "./hand-made-shot.ts";
import { goingBackStretches, motionThroughout, motionWords, slowingStretches } from "./motion-words.ts";

const RATE_HZ = 500;

test("a falling push is slowing, not going back, while the speed is right of zero", () => {
  const words = motionWords(handMadeShot(), "turf")(3.6 * RATE_HZ);
  expect([words.motion, words.trend]).toEqual(["to-target", "slowing"]);
  expect(words.netN).toBeCloseTo(-25, 0);
});

test("going back is said only when the speed is left of zero beyond two sigmas", () => {
  const wordsAt = motionWords(handMadeShot({ braking: 3 }), "turf");
  for (let i = 0; i < 2500; i++) {
    const { motion, speedMPerS, speedSigmaMPerS } = wordsAt(i);
    expect(motion === "going-back").toBe(speedMPerS < -2 * speedSigmaMPerS);
  }
});

test("a player who stands still is about still and neither gains nor slows", () => {
  const words = motionWords(handMadeShot(), "level")(1 * RATE_HZ);
  expect([words.motion, words.trend]).toEqual(["about-still", "steady"]);
});

test("in a gap the motion is not known", () => {
  expect(motionWords(handMadeShot({ gapS: [3.3, 3.32] }), "turf")(3.31 * RATE_HZ).motion).toBe("not-known");
});

test("slowing stretches lie after the top, going back after impact; without these events there are none", () => {
  const [slowing] = slowingStretches(handMadeShot(), "turf");
  expect(slowing!.first / RATE_HZ).toBeGreaterThan(3.5);
  expect(slowing!.end / RATE_HZ).toBeLessThan(3.9);
  expect(goingBackStretches(handMadeShot(), "turf")).toEqual([]);
  expect(goingBackStretches(handMadeShot({ braking: 3 }), "turf")).toHaveLength(1);
  const without = handMadeShot({ without: ["top", "delivery", "impact"], braking: 3 });
  expect([slowingStretches(without, "turf"), goingBackStretches(without, "turf")]).toEqual([[], []]);
});

test("one state throughout, or none can be named", () => {
  const shot = handMadeShot();
  expect(motionThroughout(shot, "turf", 3.45, 3.55)).toBe("to-target");
  expect(motionThroughout(shot, "turf", 3.2, 3.5)).toBe("not-known");
});
