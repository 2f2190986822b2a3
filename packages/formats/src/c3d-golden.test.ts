// Golden files: real recordings with the answers of a reader written separately from this one (golden/c3d/README.md).
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import {
  cross,
  dot,
  plateFrame,
  type Recording,
  scaled,
  sum,
  type UnderfootError,
  type Vector,
} from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import { recordingFromC3d } from "./c3d-recording.ts";

interface ExpectedPlate {
  index: number;
  type: number;
  channels: number[];
  size: number[];
  centre: number[];
  normal: number[];
  stored_as: "reaction" | "action";
  moment_unit: string | null;
  mean_force: number[];
  min_force: number[];
  max_force: number[];
  loaded: number;
  zero: [number, number];
  at: { sample: number; force: number[]; moment: number[]; cop: number[] | null; free_moment: number | null }[];
}
interface ExpectedFile {
  error?: string;
  processor: string;
  numbers: string;
  frames: number;
  frames_announced: number;
  first_frame: number;
  rate: number;
  points: number;
  point_units: string;
  channels: number;
  samples_per_frame: number;
  analog_rate: number;
  samples: number;
  events: number;
  warnings: [string, string][];
  plates?: ExpectedPlate[];
  event_list?: { from_first_sample: number; label: string; context: string; source: string }[];
}

const HERE = join(import.meta.dirname, "../../../golden/c3d");
const SHARED = join(import.meta.dirname, "../../../../shared/data/recordings");
const FORCE_N = 0.02;
const MOMENT_NM = 0.02;
const COP_M = 0.0005;
const LOADED_N = 20;

/** Force and moment about the surface centre, plate axes, by the table of plate types; nothing of the product's mechanics. */
function plateWrenchAt(recording: Recording, k: number, i: number): { F: Vector; M: Vector } {
  const plate = recording.plates[k]!;
  const v = plate.channels.map((c) => recording.channels[c]!.values[i]!);
  const o = plate.originM;
  const about = (F: Vector, M: Vector, at: Vector) => ({ F, M: sum(M, scaled(cross(at, F), -1)) });
  if (plate.type === 1) {
    const F = { x: v[0]!, y: v[1]!, z: v[2]! };
    const p = { x: v[3]! * plate.lengthToM - o.x, y: v[4]! * plate.lengthToM - o.y, z: 0 };
    return { F, M: sum(cross(p, F), { x: 0, y: 0, z: v[5]! * plate.momentToNm }) };
  }
  if (plate.type === 3) {
    const [x12, x34, y14, y23, z1, z2, z3, z4] = v as [number, number, number, number, number, number, number, number];
    const [a, b] = [Math.abs(o.x), Math.abs(o.y)];
    const F = { x: x12 + x34, y: y14 + y23, z: z1 + z2 + z3 + z4 };
    const M = { x: b * (z1 + z2 - z3 - z4), y: a * (-z1 + z2 + z3 - z4), z: b * (-x12 + x34) + a * (y14 - y23) };
    return about(F, M, { x: 0, y: 0, z: o.z });
  }
  const w = plate.type === 4 ? plate.matrix!.map((row) => row.reduce((all, c, j) => all + c * v[j]!, 0)) : v;
  const m = plate.type === 4 ? 1 : plate.momentToNm;
  return about({ x: w[0]!, y: w[1]!, z: w[2]! }, { x: w[3]! * m, y: w[4]! * m, z: w[5]! * m }, o);
}

const list = ({ x, y, z }: Vector): number[] => [x, y, z];
function near(actual: readonly number[], wanted: readonly number[], tolerance: number, what: string): void {
  for (let i = 0; i < 3; i++)
    expect(Math.abs(actual[i]! - wanted[i]!), `${what}[${i}]: ${actual} not ${wanted}`).toBeLessThanOrEqual(tolerance);
}

function checkPlate(recording: Recording, wanted: ExpectedPlate): void {
  const plate = recording.plates[wanted.index - 1]!;
  const frame = plateFrame(plate.corners);
  expect(plate.type).toBe(wanted.type);
  expect(plate.channels.map((c) => c + 1)).toEqual(wanted.channels);
  near([...frame.sizeM, 0], [...wanted.size, 0], 0.0006, "size");
  near(list(frame.centreM), wanted.centre, 0.0006, "centre");
  near(list(frame.normal), wanted.normal, 0.0001, "normal");
  const [from, to] = wanted.zero ?? [0, 0];
  const spf = recording.about["samplesPerFrame"] as number;
  expect(plate.zero).toEqual(from >= 1 && to >= from ? { first: (from - 1) * spf, end: to * spf } : undefined);
  if (wanted.moment_unit !== null && !wanted.moment_unit.startsWith("N x")) {
    expect(plate.momentUnit.toLowerCase()).toBe(wanted.moment_unit);
  }
  const sign = wanted.stored_as === "action" ? -1 : 1;
  const lab = (a: Vector): Vector =>
    scaled(sum(sum(scaled(frame.x, a.x), scaled(frame.y, a.y)), scaled(frame.z, a.z)), sign);
  const total = [0, 0, 0];
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  let loaded = 0;
  for (let i = 0; i < recording.sampleCount; i++) {
    const F = lab(plateWrenchAt(recording, wanted.index - 1, i).F);
    if (plate.hasMoments && Math.abs(dot(F, frame.normal)) > LOADED_N) loaded++;
    list(F).forEach((value, axis) => {
      total[axis]! += value / recording.sampleCount;
      low[axis] = Math.min(low[axis]!, value);
      high[axis] = Math.max(high[axis]!, value);
    });
  }
  near(total, wanted.mean_force, FORCE_N, "mean force");
  near(low, wanted.min_force, FORCE_N, "smallest force");
  near(high, wanted.max_force, FORCE_N, "largest force");

  expect(loaded).toBe(wanted.loaded);
  for (const at of wanted.at) {
    const { F, M } = plateWrenchAt(recording, wanted.index - 1, at.sample);
    near(list(lab(F)), at.force, FORCE_N, `force at ${at.sample}`);
    if (!plate.hasMoments) continue;
    near(list(lab(M)), at.moment, MOMENT_NM, `moment at ${at.sample}`);
    if (at.cop === null) continue;
    const [px, py] = [-M.y / F.z, M.x / F.z];
    const cop = sum(frame.centreM, sum(scaled(frame.x, px), scaled(frame.y, py)));
    near(list(cop), at.cop, COP_M, `CoP at ${at.sample}`);
    expect(Math.abs(-sign * (M.z - px * F.y + py * F.x) - at.free_moment!)).toBeLessThanOrEqual(MOMENT_NM);
  }
}

function checkFile(folder: string, name: string, wanted: ExpectedFile): void {
  const bytes = readFileSync(join(folder, name));
  if (wanted.error !== undefined) {
    expect(() => recordingFromC3d(bytes, { file: name })).toThrow(
      expect.objectContaining({ code: wanted.error }) as UnderfootError,
    );
    return;
  }
  const recording = recordingFromC3d(bytes, { file: name });
  const codes = recording.findings.map(({ code }) => code);
  // Point labels are not read here; two points with one label concern nobody who reads forces.
  for (const [code] of wanted.warnings) if (code !== "point-label-twice") expect(codes, name).toContain(code);
  expect(recording.about["frames"]).toBe(wanted.frames);
  expect(recording.about["framesAnnounced"]).toBe(wanted.frames_announced);
  if (wanted.processor === undefined) return;
  expect(recording.about).toMatchObject({
    processor: wanted.processor,
    numbers: wanted.numbers,
    firstFrame: wanted.first_frame,
    pointRateHz: wanted.rate,
    points: wanted.points,
    pointUnits: wanted.point_units,
    channels: wanted.channels,
    samplesPerFrame: wanted.samples_per_frame,
  });
  expect(recording.sampleCount).toBe(wanted.samples);
  if (wanted.channels > 0) expect(recording.rateHz).toBeCloseTo(wanted.analog_rate, 9);
  expect(recording.plates).toHaveLength(wanted.plates?.length ?? 0);
  expect(recording.findings.some(({ code }) => code === "origin-sign")).toBe(
    JSON.stringify(wanted.plates ?? []).includes("all three signs were turned"),
  );
  const events = wanted.event_list ?? [];
  expect(
    recording.events.filter(({ source }) => source === (events[0]?.source === "EVENT" ? "group" : "header")),
  ).toHaveLength(events.length);
  events.forEach((event, i) => {
    expect(recording.events[i]).toMatchObject({ label: event.label, context: event.context });
    expect(recording.events[i]!.timeS).toBeCloseTo(event.from_first_sample, 4);
  });
  for (const plate of wanted.plates ?? []) checkPlate(recording, plate);
}

describe("golden C3D files", () => {
  const names = readdirSync(HERE).filter((name) => name.endsWith(".c3d"));
  test("the folder holds files of all three processors", () => expect(names.length).toBeGreaterThanOrEqual(7));
  test.each(names)("%s", (name) => {
    checkFile(HERE, name, JSON.parse(readFileSync(join(HERE, name.replace(".c3d", ".json")), "utf8")) as ExpectedFile);
  });
});

// The whole collection of sample recordings is not in every checkout.
describe.skipIf(!existsSync(SHARED))("all sample recordings, where they are there", () => {
  const expected = existsSync(SHARED)
    ? (JSON.parse(readFileSync(join(SHARED, "expected.json"), "utf8")) as { files: Record<string, ExpectedFile> }).files
    : {};
  const names = Object.keys(expected).filter((name) => name.endsWith(".c3d"));
  test.each(names)("%s", (name) => checkFile(SHARED, name, expected[name]!));

  test("one walk in three processors, integers and reals gives the same forces", () => {
    const read = (name: string): Recording => recordingFromC3d(readFileSync(join(SHARED, `walk-${name}.c3d`)));
    const wanted = read("intel-integer");
    for (const name of [
      "intel-real",
      "dec-integer",
      "dec-real",
      "mips-integer",
      "mips-real",
      "parameters-at-block-7",
    ]) {
      const other = read(name);
      for (const c of wanted.plates[0]!.channels) {
        for (let i = 0; i < wanted.sampleCount; i++) {
          expect(Math.abs(other.channels[c]!.values[i]! - wanted.channels[c]!.values[i]!)).toBeLessThan(1e-3);
        }
      }
    }
  });

  test("a cut file gives the whole frames before the cut, unchanged", () => {
    const whole = recordingFromC3d(readFileSync(join(SHARED, "walk-intel-integer.c3d")));
    const cut = recordingFromC3d(readFileSync(join(SHARED, "walk-truncated.c3d")));
    for (const [c, { values }] of cut.channels.entries()) {
      expect(values).toEqual(whole.channels[c]!.values.subarray(0, cut.sampleCount));
    }
  });
});
