import { expect, test } from "vitest";
import { gainsAndLosses } from "./gains-and-losses.ts";
import { handMadeShot } from "./hand-made-shot.ts";
import { timeZero } from "./shot-time.ts";

const shot = handMadeShot();
const changes = gainsAndLosses(shot, "turf", timeZero(shot));
const mass = 800 / 9.80665;

test("each area is impulse over mass (Newton's second law, integrated)", () => {
  // The invented pulses are sin² of 0.4 s: their impulse is peak times 0.2 s.
  const shown = changes.filter((change) => change.isShown);
  expect(shown.map((change) => change.kind)).toEqual(["loss", "gain", "loss"]);
  const impulses = shown.map((change) => change.speedMPerS * mass);
  for (const [k, expected] of [-6, 20, -10].entries()) expect(impulses[k]).toBeCloseTo(expected, 1);
});

test("all areas together are the change of speed from start to finish", () => {
  const total = changes.reduce((sum, change) => sum + change.speedMPerS, 0);
  expect(total * mass).toBeCloseTo(4, 3);
});

test("the label says what was gained, in figures that its uncertainty justifies", () => {
  const gain = changes.find((change) => change.isShown && change.kind === "gain");
  expect(gain?.text).toBe("gains 0.245 m/s");
  expect(gain?.middleMs).toBeCloseTo(-200, -1);
});

test("an area within its own uncertainty is not labelled", () => {
  const unsure = { ...shot, address: { ...shot.address, driftSigmaMPerS2: { target: 1, ahead: 1, up: 1 } } };
  const unsureChanges = gainsAndLosses(unsure, "turf", timeZero(shot));
  expect(unsureChanges.length).toBeGreaterThan(0);
  expect(unsureChanges.some((change) => change.isShown)).toBe(false);
});

test("without start or finish there are no areas", () => {
  const without = handMadeShot({ without: ["finish"] });
  expect(gainsAndLosses(without, "turf", timeZero(without))).toEqual([]);
});
