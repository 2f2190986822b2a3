import type { Recording } from "@underfoot/domain";
import { DEFAULT_SETTINGS } from "@underfoot/mechanics";
import { DEFAULT_PLATES, EXACT_SENSORS, SIMULATED_LIES, simulatedPlayer, simulateShot } from "@underfoot/simulator";
import { describe, expect, test } from "vitest";
import { inspection } from "./inspection.ts";
import { labSignals } from "./signals.ts";

const shot = simulateShot({
  seed: 2,
  player: simulatedPlayer({ seed: 2 }),
  intent: "stock",
  lie: SIMULATED_LIES.flat,
  sensors: EXACT_SENSORS,
});

/** The same recording `times` over. */
function repeated(recording: Recording, times: number): Recording {
  const channels = recording.channels.map((channel) => {
    const values = new Float64Array(channel.values.length * times);
    for (let k = 0; k < times; k++) values.set(channel.values, k * channel.values.length);
    return { ...channel, values };
  });
  return { ...recording, channels, sampleCount: recording.sampleCount * times };
}

describe("what a recording holds", () => {
  test("mean load of both plates is the player's weight, with exact sensors on the flat", () => {
    const { plates } = inspection(shot.recording);
    const total = plates.reduce((sum, { loadN }) => sum + loadN!.mean, 0);
    // Newton: over a shot that begins and ends at rest the mean total force is the weight, up to the last speed over the time.
    expect(Math.abs(total - shot.truth.weightN)).toBeLessThan((shot.truth.massKg * 0.02) / 6);
  });

  test("a long recording looked at in stretches says the same as a short one", () => {
    const short = inspection(shot.recording).plates[0]!;
    const long = inspection(repeated(shot.recording, 5)).plates[0]!;
    expect(long.count).toBe(5 * short.count);
    for (const axis of ["x", "y", "z"] as const) {
      expect(long.forceN!.lab[axis].mean).toBeCloseTo(short.forceN!.lab[axis].mean, 9);
      expect(long.forceN!.lab[axis].min).toBe(short.forceN!.lab[axis].min);
      expect(long.forceN!.lab[axis].max).toBe(short.forceN!.lab[axis].max);
    }
  });

  test("stored as action or as reaction, the force is the ground's on the player", () => {
    const turned = simulateShot({
      seed: 2,
      player: simulatedPlayer({ seed: 2 }),
      intent: "stock",
      lie: SIMULATED_LIES.flat,
      sensors: EXACT_SENSORS,
      plates: { ...DEFAULT_PLATES, lead: { ...DEFAULT_PLATES.lead, sense: "on-plate" } },
    });
    const [a, b] = [shot, turned].map(({ recording }) => inspection(recording).plates[0]!);
    expect([a!.storedAs, b!.storedAs].sort()).toEqual(["on-plate", "on-player"]);
    for (const axis of ["x", "y", "z"] as const)
      expect(b!.forceN!.lab[axis].mean).toBeCloseTo(a!.forceN!.lab[axis].mean, 6);
  });
});

describe("laboratory signals", () => {
  const options = { settings: DEFAULT_SETTINGS, leastLoadN: 20 };

  test("as written: the largest sample of a column is the largest of the inspection", () => {
    const columns = labSignals(shot.recording, { ...options, filter: { kind: "none" } });
    const upN = columns.find(({ name }) => name === "p1_fz_n")!;
    expect(Math.max(...Array.from(upN.values))).toBeCloseTo(inspection(shot.recording).plates[0]!.forceN!.lab.z.max, 9);
  });

  test("a filter leaves a mean alone and takes noise away", () => {
    const noisy = simulateShot({
      seed: 2,
      player: simulatedPlayer({ seed: 2 }),
      intent: "stock",
      lie: SIMULATED_LIES.flat,
      faults: ["noise"],
    });
    const roughness = (filter: Parameters<typeof labSignals>[1]["filter"]): number => {
      const { values } = labSignals(noisy.recording, { ...options, filter }).find(({ name }) => name === "p1_fx_n")!;
      return Array.from(values).reduce((sum, value, i, all) => sum + (i > 0 ? Math.abs(value - all[i - 1]!) : 0), 0);
    };
    expect(roughness({ kind: "butterworth", cutoffHz: 25 })).toBeLessThan(0.2 * roughness({ kind: "none" }));
  });
});
