import { expect, test } from "vitest";
import { handMadeShot } from "./hand-made-shot.ts";
import { axisInTurf, forceAt, forceColumn, forceSigmaN, slopeShareN, slopeShareSigmaN } from "./player-force.ts";

const STILL = 1000;

test("a motionless player on a slope: all of the push is the slope's share (static slope law)", () => {
  for (const [pitchDeg, rollDeg] of [
    [5, 0],
    [-4, 3],
    [0, 0],
  ] as const) {
    const shot = handMadeShot({ pitchDeg, rollDeg });
    const share = slopeShareN(shot, "turf");
    for (const direction of ["target", "ahead"] as const) {
      expect(forceColumn(shot, shot.both, "turf", direction)[STILL]).toBeCloseTo(share[direction], 9);
      expect(forceColumn(shot, shot.both, "level", direction)[STILL]).toBeCloseTo(0, 9);
    }
    expect(forceColumn(shot, shot.both, "level", "up")[STILL]).toBeCloseTo(800, 9);
  }
});

test("on level axes the slope has no share and no uncertainty", () => {
  const shot = handMadeShot();
  expect(slopeShareN(shot, "level")).toEqual({ target: 0, ahead: 0, up: 0 });
  expect(slopeShareSigmaN(shot, "level")).toBe(0);
  // 0.2° of 800 N at 5°: 800 cos 5° · 0.2 π/180 = 2.78 N.
  expect(slopeShareSigmaN(shot, "turf")).toBeCloseTo(2.78, 2);
});

test("lead and trail make both", () => {
  const shot = handMadeShot();
  const axis = axisInTurf(shot, "level", "target");
  const parts = forceAt(shot.lead!, axis, 1700) + forceAt(shot.trail!, axis, 1700);
  expect(parts).toBeCloseTo(forceAt(shot.both, axis, 1700), 9);
});

test("zero errors count in the force and not in the force less the quiet stance", () => {
  const shot = handMadeShot({ pitchDeg: 0 });
  const absolute = forceSigmaN(shot, "turf", "target", "absolute")(STILL);
  // Two plates of 2 N each; gain and crosstalk add little at rest.
  expect(absolute).toBeGreaterThan(Math.sqrt(8));
  expect(absolute).toBeLessThan(3.2);
  expect(forceSigmaN(shot, "turf", "target", "net")(STILL)).toBeLessThan(1);
});

test("one plate under both feet has its own uncertainty", () => {
  const shot = handMadeShot({ isOnePlate: true });
  expect(forceSigmaN(shot, "level", "target", "absolute")(STILL)).toBeGreaterThan(2);
});
