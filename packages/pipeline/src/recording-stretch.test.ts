import { recordingFromBytes, shotFactsFromSidecar } from "@underfoot/formats";
import { demoShots, simulateShot } from "@underfoot/simulator";
import { describe, expect, test } from "vitest";
import { recordingStretch } from "./recording-stretch.ts";
import { shotOutcome } from "./shot-outcome.ts";
import { simulatedFiles } from "./simulated-files.ts";

const plan = demoShots({ seed: 1 })[0]!;
const { c3d, sidecar } = simulatedFiles(simulateShot(plan), "shot.c3d");
const recording = recordingFromBytes(c3d);

describe("a stretch of a recording", () => {
  test("has its samples, and its times count from its own first one", () => {
    const part = recordingStretch(recording, { first: 100, end: 2100 });
    expect(part.sampleCount).toBe(2000);
    expect(part.channels[0]!.values).toEqual(recording.channels[0]!.values.slice(100, 2100));
    for (const { label, timeS } of part.events) {
      const whole = recording.events.find((event) => event.label === label)!;
      expect(timeS).toBeCloseTo(whole.timeS - 100 / recording.rateHz, 12);
    }
  });

  test("all of it is the recording itself", () => {
    expect(recordingStretch(recording, { first: 0, end: recording.sampleCount })).toBe(recording);
  });

  test.each([
    [-1, 10],
    [0, recording.sampleCount + 1],
    [10, 10],
    [0.5, 10],
  ])("%d to %d does not lie in it", (first, end) => {
    expect(() => recordingStretch(recording, { first, end })).toThrow(RangeError);
  });

  test("the chain computes the stretch: cut just after the start, the address is shorter but the shot the same", () => {
    const { facts } = shotFactsFromSidecar(sidecar);
    const cut = Math.round(0.3 * recording.rateHz);
    const later = { ...facts, events: facts.events.map((e) => ({ ...e, timeS: e.timeS - cut / recording.rateHz })) };
    const whole = shotOutcome({ bytes: c3d, file: "shot.c3d", facts });
    const part = shotOutcome({
      bytes: c3d,
      file: "shot.c3d",
      facts: later,
      stretch: { first: cut, end: recording.sampleCount },
    });
    if (whole.status !== "ok" || part.status !== "ok") throw new Error("no shot");
    const peak = (of: typeof whole) => of.measures.find((m) => m.id === "both.up.peak" && m.axes === "turf")!;
    expect(part.inspection.samples).toBe(recording.sampleCount - cut);
    expect(Math.abs(peak(part).value - peak(whole).value)).toBeLessThan(peak(whole).sigma);
  });
});
