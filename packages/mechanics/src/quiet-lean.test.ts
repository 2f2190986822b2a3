import { EXACT_SENSORS, type SimulatedLie, simulatedPlayer, simulateShot } from "@underfoot/simulator";
import { describe, expect, test } from "vitest";
import { quietLean } from "./quiet-lean.ts";

const LIES: readonly SimulatedLie[] = [
  { name: "flat", pitchDeg: 0, rollDeg: 0 },
  { name: "up, ball below", pitchDeg: 6, rollDeg: -4 },
  { name: "down, ball above", pitchDeg: -8, rollDeg: 5 },
];

/** The stance before a shot, by faultless plates: nothing but standing. */
function stance(lie: SimulatedLie, handed: "right" | "left") {
  const shot = simulateShot({
    seed: 4,
    player: simulatedPlayer({ seed: 4, handed }),
    intent: "stock",
    lie,
    sensors: EXACT_SENSORS,
  });
  const end = Math.floor((shot.truth.events.start - 0.1) * shot.recording.rateHz);
  const channels = shot.recording.channels.map((channel) => ({ ...channel, values: channel.values.subarray(0, end) }));
  return { ...shot, recording: { ...shot.recording, sampleCount: end, channels } };
}

describe.each(["right", "left"] as const)("the lean of a quiet stance, %s-handed", (handed) => {
  test.each(LIES)("$name: within 0.1° of the lie, which is what sway leaves", (lie) => {
    const { recording, facts, truth } = stance(lie, handed);
    const lean = quietLean(recording, facts)!;
    expect(lean).toMatchObject({ isStill: true, isLieKnown: true });
    expect(lean.slope.agrees).toBe(true);
    expect(Math.abs(lean.slope.pitchDeg - lie.pitchDeg)).toBeLessThan(0.1);
    expect(Math.abs(lean.slope.rollDeg - lie.rollDeg)).toBeLessThan(0.1);
    const { target, ahead, up } = lean.forceN;
    expect(Math.abs(Math.hypot(target, ahead, up) / truth.weightN - 1)).toBeLessThan(0.002);
  });
});

test("nobody stands for half a second: undefined; nobody at all: refused", () => {
  const { recording, facts } = stance(LIES[0]!, "right");
  const end = Math.round(0.4 * recording.rateHz);
  const short = {
    ...recording,
    sampleCount: end,
    channels: recording.channels.map((channel) => ({ ...channel, values: channel.values.subarray(0, end) })),
  };
  expect(quietLean(short, facts)).toBeUndefined();
  const empty = {
    ...recording,
    channels: recording.channels.map((channel) => ({ ...channel, values: new Float64Array(recording.sampleCount) })),
  };
  expect(() => quietLean(empty, facts)).toThrow(/load/);
});
