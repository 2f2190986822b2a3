import { type PlateCorners, random } from "@underfoot/domain";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { c3dBytes } from "./c3d-bytes.ts";
import type { C3dContent } from "./c3d-content.ts";
import { recordingFromC3d } from "./c3d-recording.ts";

/** Invented plates 0.4 m by 0.6 m, z into the ground, centre at (x, 0, 0). */
const cornersAt = (x: number): PlateCorners => [
  { x: x + 0.2, y: -0.3, z: 0 },
  { x: x - 0.2, y: -0.3, z: 0 },
  { x: x - 0.2, y: 0.3, z: 0 },
  { x: x + 0.2, y: 0.3, z: 0 },
];
const noise = (seed: number, n: number, size: number): Float64Array<ArrayBuffer> => {
  const dice = random(seed);
  return Float64Array.from({ length: n }, () => size * dice.normal());
};
const sixColumns = (seed: number, n: number) =>
  [40, 40, 60, 30, 30, 5].map((size, c) => noise(seed + c, n, size).map((v) => (c === 2 ? v - 400 : v)));
const content = (n: number, more: Partial<C3dContent> = {}): C3dContent => ({
  rateHz: 1000,
  plates: [
    { cornersM: cornersAt(0.25), columns: sixColumns(1, n) },
    { cornersM: cornersAt(-0.25), columns: sixColumns(11, n) },
  ],
  ...more,
});
const withinRelative = (actual: number, wanted: number, relative: number): void => {
  expect(Math.abs(actual - wanted)).toBeLessThanOrEqual(relative * Math.abs(wanted) + 1e-12);
};

describe("what is written is read back", () => {
  test("type 2: forces within 1e-5 relative, moments in N m, place, no finding at all", () => {
    const given = content(500);
    const recording = recordingFromC3d(c3dBytes(given));
    expect(recording.findings).toEqual([]);
    expect(recording.guesses).toEqual([]);
    expect(recording).toMatchObject({ rateHz: 1000, sampleCount: 500 });
    expect(recording.about).toMatchObject({
      processor: "intel",
      numbers: "real",
      frames: 500,
      framesAnnounced: 500,
      points: 0,
    });
    expect(recording.plates).toHaveLength(2);
    given.plates.forEach(({ columns, cornersM }, k) => {
      const plate = recording.plates[k]!;
      expect(plate).toMatchObject({ type: 2, sense: "unknown", isPlaced: true, hasMoments: true, momentToNm: 1e-3 });
      expect(plate.zero).toBeUndefined();
      expect(plate.originM.z).toBeCloseTo(-1e-6, 12);
      cornersM.forEach((corner, c) => {
        expect(plate.corners[c]!.x).toBeCloseTo(corner.x, 6);
        expect(plate.corners[c]!.y).toBeCloseTo(corner.y, 6);
      });
      columns.forEach((column, c) => {
        const { values } = recording.channels[plate.channels[c]!]!;
        const toSi = c < 3 ? plate.forceToN : plate.momentToNm;
        for (let i = 0; i < column.length; i++) withinRelative(values[i]! * toSi, column[i]!, 1e-5);
      });
    });
  });

  test("types 1, 3 and 4 keep their raw channels, origin and matrix", () => {
    const n = 100;
    const matrix = Array.from({ length: 6 }, (_, r) =>
      Array.from({ length: 6 }, (_, c) => (r === c ? 100 : 0.5 * (r - c))),
    );
    const recording = recordingFromC3d(
      c3dBytes({
        rateHz: 500,
        plates: [
          { type: 1, cornersM: cornersAt(0), columns: [10, 10, 500, 0.1, 0.1, 4].map((size, c) => noise(c, n, size)) },
          {
            type: 3,
            cornersM: cornersAt(1),
            columns: Array.from({ length: 8 }, (_, c) => noise(20 + c, n, 200)),
            originM: { x: 0.12, y: 0.2, z: -0.04 },
          },
          {
            type: 4,
            cornersM: cornersAt(2),
            columns: Array.from({ length: 6 }, (_, c) => noise(40 + c, n, 2)),
            originM: { x: 0.001, y: -0.002, z: -0.03 },
            matrix,
          },
        ],
      }),
    );
    const [one, three, four] = recording.plates;
    expect([one!.type, three!.type, four!.type]).toEqual([1, 3, 4]);
    expect(recording.findings.filter(({ code }) => !code.startsWith("plausible"))).toEqual([]);
    const px = recording.channels[one!.channels[3]!]!;
    for (let i = 0; i < n; i++) withinRelative(px.values[i]! * one!.lengthToM, noise(3, n, 0.1)[i]!, 1e-5);
    expect(three!.originM.x).toBeCloseTo(0.12, 7);
    expect(three!.originM.y).toBeCloseTo(0.2, 7);
    expect(recording.channels[four!.channels[0]!]!.unit).toBe("V");
    for (let r = 0; r < 6; r++) for (let c = 0; c < 6; c++) withinRelative(four!.matrix![r]![c]!, matrix[r]![c]!, 1e-6);
  });

  test("16-bit integers: within half a step of the given full scale, cut at it, and the range says so", () => {
    const n = 200;
    const columns = sixColumns(5, n);
    columns[2]![7] = -9000;
    const fullScale = [500, 500, 2000, 200, 200, 50];
    const recording = recordingFromC3d(
      c3dBytes({ rateHz: 1000, numbers: "integer", plates: [{ cornersM: cornersAt(0), columns, fullScale }] }),
    );
    expect(recording.about["numbers"]).toBe("integer");
    columns.forEach((column, c) => {
      const channel = recording.channels[c]!;
      const toSi = c < 3 ? 1 : 1e-3;
      const step = fullScale[c]! / 32767;
      expect(channel.range![1] * toSi).toBeCloseTo(fullScale[c]!, 3);
      for (let i = 0; i < n; i++) {
        const wanted = Math.max(-fullScale[c]! - step, Math.min(fullScale[c]!, column[i]!));
        expect(Math.abs(channel.values[i]! * toSi - wanted)).toBeLessThanOrEqual(0.51 * step);
      }
    });
    expect(recording.channels[2]!.values[7]).toBe(recording.channels[2]!.range![0]);
  });

  test("events, extra channels and the facts of the shot", () => {
    const n = 3000;
    const recording = recordingFromC3d(
      c3dBytes(
        content(n, {
          events: [
            { label: "top", timeS: 1.25 },
            { label: "impact", timeS: 1.5, context: "Lead" },
          ],
          extras: [
            { label: "trigger", unit: "V", values: noise(3, n, 1) },
            { label: "sound", unit: "V", values: noise(4, n, 1) },
          ],
          facts: {
            shot: "S-17",
            pseudonym: "P03",
            handed: "left",
            pitchDeg: 3,
            rollDeg: -1.5,
            target: { x: 1, y: 0, z: 0 },
          },
        }),
      ),
    );
    expect(recording.events.filter(({ source }) => source === "group")).toEqual([
      { label: "top", context: "General", timeS: 1.25, source: "group" },
      { label: "impact", context: "Lead", timeS: 1.5, source: "group" },
    ]);
    expect(recording.events.filter(({ source }) => source === "header").map(({ label }) => label)).toEqual([
      "TOP",
      "IMPC",
    ]);
    expect(recording.channels.slice(12).map(({ label, role }) => [label, role])).toEqual([
      ["trigger", "trigger"],
      ["sound", "sound"],
    ]);
    expect(recording.guesses).toEqual([]);
    expect(recording.about).toMatchObject({
      shot: "S-17",
      player: "P03",
      handed: "left",
      pitchDeg: 3,
      rollDeg: -1.5,
      targetX: 1,
    });
  });

  test("a gap comes back as missing on its own plate, and as the last value with gap = 1 in the bytes", () => {
    const given = content(100);
    for (const column of given.plates[1]!.columns) (column as Float64Array).fill(Number.NaN, 40, 45);
    const recording = recordingFromC3d(c3dBytes(given));
    const gap = recording.channels.find(({ label }) => label === "gap2")!;
    expect(gap.values.reduce((all, v) => all + v, 0)).toBe(5);
    for (const c of recording.plates[1]!.channels) {
      const { values } = recording.channels[c]!;
      expect([39, 40, 44, 45].map((i) => Number.isNaN(values[i]!))).toEqual([false, true, true, false]);
    }
    for (const c of recording.plates[0]!.channels)
      expect(recording.channels[c]!.values.every(Number.isFinite)).toBe(true);
  });

  test("a gap of all plates is one channel `gap`", () => {
    const given = content(100);
    for (const { columns } of given.plates)
      for (const column of columns) (column as Float64Array).fill(Number.NaN, 7, 9);
    const recording = recordingFromC3d(c3dBytes(given));
    expect(recording.channels.slice(12).map(({ label, role }) => [label, role])).toEqual([["gap", "gap"]]);
    for (const { values } of recording.channels.slice(0, 12)) {
      expect([6, 7, 8, 9].map((i) => Number.isNaN(values[i]!))).toEqual([false, true, true, false]);
    }
  });

  test("more than 65535 samples: whole frames of several samples, every sample back and none more", () => {
    const n = 65_535 * 2 + 3;
    const columns = sixColumns(7, n);
    const recording = recordingFromC3d(c3dBytes({ rateHz: 1000, plates: [{ cornersM: cornersAt(0), columns }] }));
    expect(recording).toMatchObject({ rateHz: 1000, sampleCount: n });
    expect(recording.about).toMatchObject({ samplesPerFrame: 4 });
    expect(recording.findings).toEqual([]);
    withinRelative(recording.channels[2]!.values[n - 1]!, columns[2]![n - 1]!, 1e-6);
  });

  test("more than 65535 frames: counted by TRIAL's two words, low word first", () => {
    const n = 70_001;
    const columns = sixColumns(8, n);
    const bytes = c3dBytes({ rateHz: 1000, samplesPerFrame: 1, plates: [{ cornersM: cornersAt(0), columns }] });
    const recording = recordingFromC3d(bytes);
    expect(recording.about).toMatchObject({ frames: n, framesAnnounced: n, samplesPerFrame: 1 });
    expect(recording.sampleCount).toBe(n);
    withinRelative(recording.channels[2]!.values[n - 1]!, columns[2]![n - 1]!, 1e-6);
  });

  test("thirty minutes at 1000 Hz and a fifth of a second", { timeout: 60_000 }, () => {
    for (const n of [1_800_000, 200]) {
      const columns = Array.from({ length: 6 }, (_, c) => new Float64Array(n).fill(c === 2 ? -700 : 1));
      const recording = recordingFromC3d(c3dBytes({ rateHz: 1000, plates: [{ cornersM: cornersAt(0), columns }] }));
      expect(recording.sampleCount).toBe(n);
      expect(recording.rateHz).toBe(1000);
      expect(recording.channels[2]!.values[n - 1]).toBe(-700);
    }
  });

  test("law: any sizes, rates and numbers", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 300 }),
        fc.constantFrom(50, 100, 120, 240, 500, 960, 1000, 2000),
        fc.integer({ min: 1, max: 7 }),
        fc.array(fc.float({ min: -5000, max: 5000, noNaN: true }), { minLength: 6, maxLength: 6 }),
        (n, rateHz, samplesPerFrame, values) => {
          const columns = values.map((value) => Float64Array.from({ length: n }, (_, i) => value * Math.cos(i)));
          const bytes = c3dBytes({ rateHz, samplesPerFrame, plates: [{ cornersM: cornersAt(0), columns }] });
          const recording = recordingFromC3d(bytes);
          expect(recording.sampleCount).toBe(n);
          withinRelative(recording.rateHz, rateHz, 1e-12);
          columns.forEach((column, c) => {
            const toSi = c < 3 ? 1 : 1e-3;
            for (let i = 0; i < n; i++) withinRelative(recording.channels[c]!.values[i]! * toSi, column[i]!, 1e-5);
          });
        },
      ),
      { numRuns: 60 },
    );
  });

  test("the writer refuses columns that do not fit", () => {
    const columns = sixColumns(1, 10);
    expect(() =>
      c3dBytes({ rateHz: 1000, plates: [{ cornersM: cornersAt(0), columns: columns.slice(0, 5) }] }),
    ).toThrow(RangeError);
    columns[3] = columns[3]!.subarray(0, 9);
    expect(() => c3dBytes({ rateHz: 1000, plates: [{ cornersM: cornersAt(0), columns }] })).toThrow(
      /has 9 samples, not 10/,
    );
    expect(() => c3dBytes({ rateHz: 1000, plates: [] })).toThrow(RangeError);
  });
});
