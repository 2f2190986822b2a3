import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { type Handed, INTENTS, type Recording, type ShotFacts } from "@underfoot/domain";
import { recordingFromBytes } from "@underfoot/formats";
import {
  idleStream,
  SIMULATED_LIES,
  type SimulatedLie,
  type StreamRecording,
  simulatedPlayer,
  simulateShot,
  streamRecording,
} from "@underfoot/simulator";
import { describe, expect, test } from "vitest";
import { type FoundShot, shotSearch, shotsInRecording } from "./shots-in-recording.ts";
import { simulatedFiles } from "./simulated-files.ts";

const RATE_HZ = 500;

function session(o: {
  seed: number;
  handed: Handed;
  lie: SimulatedLie;
  shots: number;
  minutes: number;
}): StreamRecording {
  const player = simulatedPlayer({ seed: o.seed, handed: o.handed });
  const shots = Array.from({ length: o.shots }, (_, k) => ({
    seed: 100 * o.seed + k,
    player,
    intent: INTENTS[k % INTENTS.length]!,
    lie: o.lie,
    durationS: 8,
    isMishit: k === 2,
  }));
  const stream = { seed: o.seed, player, lie: o.lie, minutes: o.minutes, rateHz: RATE_HZ, shots };
  return streamRecording(idleStream(stream), { player, lie: o.lie, rateHz: RATE_HZ });
}

/** How many of the impacts each cut holds, and how many cuts hold each impact. */
function tally(found: readonly FoundShot[], impactsS: readonly number[]) {
  const isIn = (timeS: number, { stretch }: FoundShot): boolean =>
    timeS * RATE_HZ >= stretch.first && timeS * RATE_HZ < stretch.end;
  return {
    missed: impactsS.filter((timeS) => !found.some((shot) => isIn(timeS, shot))).length,
    doubled: impactsS.filter((timeS) => found.filter((shot) => isIn(timeS, shot)).length > 1).length,
    false: found.filter((shot) => !impactsS.some((timeS) => isIn(timeS, shot))).length,
  };
}

const NONE = { missed: 0, doubled: 0, false: 0 };
const CASES = [
  { handed: "right", lie: "flat", seed: 11 },
  { handed: "right", lie: "upslope", seed: 12 },
  { handed: "left", lie: "downslope", seed: 13 },
  { handed: "left", lie: "ballAbove", seed: 14 },
] as const;

describe("a session in one recording", () => {
  test.each(CASES)("$handed-handed, $lie: six shots, one a mishit, none missed, doubled or false", (one) => {
    const { recording, impactsS, facts } = session({ ...one, lie: SIMULATED_LIES[one.lie], shots: 6, minutes: 1 });
    expect(impactsS).toHaveLength(6);
    for (const found of [shotsInRecording(recording, { facts }), shotsInRecording(recording)]) {
      expect(found).toHaveLength(6);
      expect(found.every(({ reason }) => reason === "turn")).toBe(true);
      expect(tally(found, impactsS)).toEqual(NONE);
      // Two seconds before the takeaway at least, and past the impact.
      for (const [k, { stretch }] of found.entries())
        expect(impactsS[k]! * RATE_HZ - stretch.first).toBeGreaterThan(3 * RATE_HZ);
    }
  });

  test("written as a C3D file and read again: the same shots", () => {
    const whole = session({ ...CASES[0], lie: SIMULATED_LIES.flat, shots: 2, minutes: 0 });
    const { c3d } = simulatedFiles(whole, "session.c3d");
    const read = recordingFromBytes(c3d, { file: "session.c3d" });
    const found = shotsInRecording(read);
    expect(found).toHaveLength(2);
    expect(found).toEqual(shotsInRecording(whole.recording));
  });

  test("nobody hits: waggles, rocking, looks and steps on and off are no shot, and nothing is cut", () => {
    const { recording } = session({ seed: 31, handed: "right", lie: SIMULATED_LIES.flat, shots: 0, minutes: 2 });
    expect(shotsInRecording(recording)).toEqual([
      { stretch: { first: 0, end: recording.sampleCount }, reason: "whole" },
    ]);
  });

  test("one plate under both feet does", () => {
    const { recording, impactsS, facts } = session({
      seed: 41,
      handed: "left",
      lie: SIMULATED_LIES.flat,
      shots: 3,
      minutes: 1,
    });
    const [a, b] = [recording.plates[0]!.channels, recording.plates[1]!.channels];
    const values = (k: number) => (i: number) => recording.channels[k]!.values[i]!;
    const six = a.map((at, c) => {
      const [one, other, load, otherLoad] = [values(at), values(b[c]!), values(a[2]!), values(b[2]!)];
      // Moved to one common centre: M_y = M_y1 + M_y2 + (x2 - x1)/2 (F_z1 - F_z2) in plate axes, from r × F.
      const arm = (i: number): number => (c === 4 ? -0.205 * load(i) + 0.205 * otherLoad(i) : 0);
      return Float64Array.from({ length: recording.sampleCount }, (_, i) => one(i) + other(i) + arm(i));
    });
    const one: Recording = {
      ...recording,
      channels: six.map((column, c) => ({ ...recording.channels[c]!, values: column })),
      plates: [{ ...recording.plates[0]!, corners: [corner(1, 1), corner(-1, 1), corner(-1, -1), corner(1, -1)] }],
    };
    const both: ShotFacts = { ...facts, plates: [{ plate: 1, foot: "both" }] };
    for (const found of [shotsInRecording(one), shotsInRecording(one, { facts: both })]) {
      expect(found).toHaveLength(3);
      expect(tally(found, impactsS)).toEqual(NONE);
    }
  });

  test.each([1, -1] as const)(
    "a large offset under a given zero is taken off; stored as action or reaction (%d)",
    (sign) => {
      const { recording, impactsS, facts } = session({ ...CASES[0], lie: SIMULATED_LIES.flat, shots: 2, minutes: 0 });
      const [, , fz] = recording.plates[0]!.channels;
      const offset: Recording = {
        ...recording,
        channels: recording.channels.map((channel, k) => ({
          ...channel,
          // The player's load is negative along the plate's z; the offset is a load of -500 N, more than a foot's.
          values: Float64Array.from(channel.values, (value) => sign * (value + (k === fz ? 500 : 0))),
        })),
      };
      // The stream begins with nobody on the plates.
      const zeroed = facts.plates.map((fact) => ({ ...fact, zero: [0, 1] as const }));
      expect(shotsInRecording(offset, { facts })[0]!.reason).toBe("whole");
      const found = shotsInRecording(offset, { facts: { ...facts, plates: zeroed } });
      expect(found).toHaveLength(2);
      expect(tally(found, impactsS)).toEqual(NONE);
    },
  );

  test("progress rises to 1, and what it throws ends the search", () => {
    const { recording } = session({ seed: 51, handed: "right", lie: SIMULATED_LIES.flat, shots: 1, minutes: 2 });
    const seen: number[] = [];
    shotsInRecording(recording, { onProgress: (share) => seen.push(share) });
    expect(seen).toEqual(seen.toSorted((a, b) => a - b));
    expect(seen.at(-1)).toBe(1);
    const stop = new Error("enough");
    expect(() =>
      shotsInRecording(recording, {
        onProgress: () => {
          throw stop;
        },
      }),
    ).toThrow(stop);
    expect(shotSearch(recording).next()).toEqual({ done: false, value: seen[0] });
  });
});

function corner(signX: number, signY: number) {
  return { x: 0.4 * signX, y: -0.3 * signY, z: 0 };
}
const options = (seed: number, handed: Handed) => ({
  seed,
  player: simulatedPlayer({ seed: 6, handed }),
  intent: "stock" as const,
  lie: SIMULATED_LIES.upslope,
  rateHz: RATE_HZ,
  durationS: 8,
});

describe("recordings of the simulator", () => {
  test("a recording of one shot comes back whole", () => {
    const { recording, facts } = simulateShot({ ...options(3, "right"), durationS: 9 });
    const whole = [{ stretch: { first: 0, end: recording.sampleCount }, reason: "whole" }];
    expect(shotsInRecording(recording, { facts })).toEqual(whole);
    expect(shotsInRecording(recording)).toEqual(whole);
  });

  test.each(["right", "left"] as const)(
    "four end to end, %s-handed, with a trigger: four cuts with their impacts",
    (handed) => {
      const shots = [3, 4, 5, 6].map((seed) =>
        simulateShot({ ...options(seed, handed), sessionSeed: 9, hasTrigger: true }),
      );
      const { recording } = shots[0]!;
      const joined: Recording = {
        ...recording,
        sampleCount: 4 * recording.sampleCount,
        channels: recording.channels.map((channel, c) => ({
          ...channel,
          values: Float64Array.from(shots.flatMap((shot) => [...shot.recording.channels[c]!.values])),
        })),
      };
      const found = shotsInRecording(joined);
      expect(found).toHaveLength(4);
      for (const [k, { impactS }] of found.entries())
        expect(Math.abs(impactS! - 8 * k - shots[k]!.truth.events.impact)).toBeLessThan(2 / RATE_HZ);
    },
  );

  test("too slow for the detector, or without a plate: whole", () => {
    const { recording } = simulateShot({ ...options(3, "right"), rateHz: 100 });
    expect(shotsInRecording(recording)).toHaveLength(1);
    expect(shotsInRecording({ ...recording, rateHz: 1000, plates: [] })[0]!.reason).toBe("whole");
  });
});

const recordings = join(import.meta.dirname, "../../../../shared/data/recordings");
describe.skipIf(!existsSync(recordings))("public recordings beside the repository (none holds a shot)", () => {
  const files = existsSync(recordings) ? readdirSync(recordings).filter((name) => name.endsWith(".c3d")) : [];
  test.each(files.filter((name) => !name.startsWith("empty")))("%s: no false shot, nor again and again", (file) => {
    const recording = recordingFromBytes(readFileSync(join(recordings, file)), { file });
    // Most last a second or some: the same 30 s long.
    const times = Math.max(1, Math.ceil((30 * recording.rateHz) / recording.sampleCount));
    const long = repeated(recording, times);
    for (const one of [recording, long])
      expect(shotsInRecording(one)).toEqual([{ stretch: { first: 0, end: one.sampleCount }, reason: "whole" }]);
  });
});

function repeated(recording: Recording, times: number): Recording {
  const channels = recording.channels.map((channel) => {
    const values = new Float64Array(channel.values.length * times);
    for (let k = 0; k < times; k++) values.set(channel.values, k * channel.values.length);
    return { ...channel, values };
  });
  return { ...recording, channels, sampleCount: recording.sampleCount * times };
}
