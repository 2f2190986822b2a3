import { describe, expect, test } from "vitest";
import { handMadeShot } from "./hand-made-shot.ts";
import { contours } from "./plan-contours.ts";

const extent = { minTargetM: -0.5, maxTargetM: 0.5, minAheadM: -0.4, maxAheadM: 0.4 };
const RAD = Math.PI / 180;

test("a flat lie has none, nor one within the inclinometer's uncertainty, nor one that nobody gave", () => {
  for (const lie of [{ pitchDeg: 0 }, { pitchDeg: 0.3 }, { pitchDeg: 5, isLieKnown: false }]) {
    expect(contours(handMadeShot(lie), extent).lines).toEqual([]);
  }
});

test("upslope 5°: a line each 11.5 cm across the target line, since 1 cm / sin 5° = 11.47 cm", () => {
  const { lines, downhill, fallDeg } = contours(handMadeShot({ pitchDeg: 5 }), extent);
  expect(lines).toHaveLength(9);
  expect(lines.map((line) => line.from.targetM)).toEqual(lines.map((line) => expect.closeTo(line.to.targetM, 9)));
  expect(lines[1]!.from.targetM - lines[0]!.from.targetM).toBeCloseTo(0.1147, 4);
  expect(downhill?.target).toBeCloseTo(-1);
  expect(fallDeg).toBeCloseTo(5);
  expect(lines.map((line) => line.label).filter((label) => label !== "")).toEqual(["−4 cm", "+4 cm"]);
});

describe.each([
  [5, 3],
  [-4, 6],
  [0, -5],
])("pitch %s°, roll %s°", (pitchDeg, rollDeg) => {
  const { lines, downhill } = contours(handMadeShot({ pitchDeg, rollDeg }), extent);
  const height = (point: { targetM: number; aheadM: number }): number =>
    Math.sin(pitchDeg * RAD) * point.targetM + Math.sin(rollDeg * RAD) * point.aheadM;

  test("both ends of a line are equally high, and lines are a centimetre apart", () => {
    expect(lines.length).toBeGreaterThan(4);
    for (const line of lines) {
      expect(height(line.from)).toBeCloseTo(line.riseM, 9);
      expect(height(line.to)).toBeCloseTo(line.riseM, 9);
    }
    expect(lines[1]!.riseM - lines[0]!.riseM).toBeCloseTo(0.01, 9);
  });

  test("lines are square to the fall direction, which goes down", () => {
    const line = lines[2]!;
    const along =
      (line.to.targetM - line.from.targetM) * downhill!.target + (line.to.aheadM - line.from.aheadM) * downhill!.ahead;
    expect(along).toBeCloseTo(0, 9);
    expect(height({ targetM: downhill!.target, aheadM: downhill!.ahead })).toBeLessThan(0);
  });
});
