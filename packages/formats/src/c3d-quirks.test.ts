// One test for each rule on what to believe; files are put together here, number by number. Rules: docs/formats/c3d.md.
import type { Recording } from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import { type C3dGroup, integers, parameterBytes, reals, texts } from "./c3d-parameter-bytes.ts";
import { recordingFromC3d } from "./c3d-recording.ts";

type Group = Record<string, C3dGroup["parameters"][number][1]>;
interface Made {
  readonly groups?: Record<string, Group>;
  /** Header words by byte. */
  readonly words?: Record<number, number>;
  readonly reals?: Record<number, number>;
  readonly frames?: number;
  readonly channels?: number;
  readonly samplesPerFrame?: number;
  /** Value of channel c at sample i. */
  readonly value?: (c: number, i: number) => number;
  readonly isInteger?: boolean;
  readonly extraBytes?: number;
  readonly change?: (bytes: Uint8Array<ArrayBuffer>, parameterEnd: number) => void;
}

const CORNERS = [200, -300, 0, -200, -300, 0, -200, 300, 0, 200, 300, 0];
const point = (more: Group = {}): Group => ({
  USED: integers([0]),
  SCALE: reals([-1]),
  RATE: reals([100]),
  FRAMES: integers([10]),
  UNITS: texts(["mm"]),
  ...more,
});
const analog = (more: Group = {}): Group => ({
  USED: integers([6]),
  RATE: reals([100]),
  GEN_SCALE: reals([1]),
  SCALE: reals([1, 1, 1, 1, 1, 1]),
  OFFSET: integers([0, 0, 0, 0, 0, 0]),
  UNITS: texts(["N", "N", "N", "Nmm", "Nmm", "Nmm"]),
  LABELS: texts(["a", "b", "c", "d", "e", "f"]),
  ...more,
});
const plate = (more: Group = {}): Group => ({
  USED: integers([1]),
  TYPE: integers([2], [1]),
  ZERO: integers([0, 0]),
  CORNERS: reals(CORNERS, [3, 4, 1]),
  ORIGIN: reals([0, 0, -40], [3, 1]),
  CHANNEL: integers([1, 2, 3, 4, 5, 6], [6, 1]),
  ...more,
});
const GOOD = { POINT: point(), ANALOG: analog(), FORCE_PLATFORM: plate() };

/** A whole file of Intel numbers; what is not told is as in a good file of 10 frames and 6 channels. */
function made(plan: Made = {}): Uint8Array<ArrayBuffer> {
  const {
    frames = 10,
    channels = 6,
    samplesPerFrame = 1,
    value = (c) => (c === 2 ? -700 : c),
    isInteger = false,
  } = plan;
  const groups = Object.entries(plan.groups ?? GOOD).map(([name, group]) => ({
    name,
    parameters: Object.entries(group),
  }));
  const parameters = parameterBytes(groups);
  const width = isInteger ? 2 : 4;
  const dataAt = 512 + parameters.length;
  const size = frames * channels * samplesPerFrame * width;
  const bytes = new Uint8Array(dataAt + Math.ceil(size / 512) * 512 + (plan.extraBytes ?? 0));
  const view = new DataView(bytes.buffer);
  bytes.set([2, 0x50]);
  bytes.set(parameters, 512);
  const words = {
    4: channels * samplesPerFrame,
    6: 1,
    8: frames,
    16: 1 + dataAt / 512,
    18: samplesPerFrame,
    ...plan.words,
  };
  for (const [at, word] of Object.entries(words)) view.setUint16(Number(at), word, true);
  for (const [at, real] of Object.entries({ 12: isInteger ? 0.1 : -1, 20: 100, ...plan.reals }))
    view.setFloat32(Number(at), real, true);
  for (let i = 0; i < frames * samplesPerFrame; i++) {
    for (let c = 0; c < channels; c++) {
      const at = dataAt + (i * channels + c) * width;
      if (isInteger) view.setInt16(at, value(c, i), true);
      else view.setFloat32(at, value(c, i), true);
    }
  }
  plan.change?.(bytes, dataAt);
  return bytes;
}
const read = (plan: Made = {}): Recording => recordingFromC3d(made(plan), { file: "made.c3d" });
const codes = (recording: Recording): string[] => recording.findings.map(({ code }) => code);
const guessed = (recording: Recording): string[] => recording.guesses.map(({ code }) => code);
const values = (recording: Recording, c: number): number[] => [...recording.channels[c]!.values];

test("a good file has nothing to say", () => {
  const recording = read();
  expect(codes(recording).filter((code) => code !== "plausible-constant")).toEqual([]);
  expect(recording.plates[0]).toMatchObject({
    type: 2,
    channels: [0, 1, 2, 3, 4, 5],
    momentToNm: 1e-3,
    sense: "unknown",
  });
});

describe("parameters", () => {
  test("an unknown processor byte is settled by the header, as a guess", () => {
    const recording = read({ change: (bytes) => bytes.set([7], 515) });
    expect(recording.about["processor"]).toBe("intel");
    expect(guessed(recording)).toContain("processor");
  });

  test("unknown processor and a senseless header: error", () => {
    const bytes = made({ change: (b) => b.set([7], 515), reals: { 20: -5 } });
    expect(() => recordingFromC3d(bytes)).toThrow(expect.objectContaining({ code: "processor" }));
  });

  test("locked records, lower case and numbers kept as text are read", () => {
    const recording = read({
      groups: { ...GOOD, POINT: point({ RATE: texts(["100.0"]) }) },
      change: (bytes) => {
        // The first record is the group POINT: lock it and write it small.
        bytes[516] = 256 - 5;
        bytes.set([0x70, 0x6f, 0x69, 0x6e, 0x74], 518);
      },
    });
    expect(recording.rateHz).toBe(100);
    expect(recording.plates).toHaveLength(1);
  });

  test("a block count of 0 does not hide the parameters", () => {
    const recording = read({ change: (bytes) => bytes.set([0], 514) });
    expect(recording.plates).toHaveLength(1);
    expect(codes(recording)).toContain("param-overrun");
  });

  test("a parameter that stands twice: the first wins", () => {
    const twice: C3dGroup[] = [
      {
        name: "POINT",
        parameters: [
          ["RATE", reals([100])],
          ["RATE", reals([50])],
          ["FRAMES", integers([10])],
        ],
      },
    ];
    const bytes = made({ change: (b) => b.set(parameterBytes(twice), 512) });
    const recording = recordingFromC3d(bytes);
    expect(codes(recording)).toContain("param-twice");
    expect(recording.about["pointRateHz"]).toBe(100);
  });

  test("parameters of a group without a name are kept apart; a parameter may come before its group", () => {
    const recording = read({
      change: (bytes, end) => {
        const text = String.fromCharCode(...bytes.subarray(512, end));
        bytes[512 + text.indexOf("FORCE_PLATFORM") - 1] = 256 - 99;
      },
    });
    expect(codes(recording)).toContain("param-orphan");
    expect(recording.plates).toEqual([]);
  });

  test("no readable parameter: raw numbers, no plates", () => {
    const recording = read({ change: (bytes, end) => bytes.fill(0, 516, end) });
    expect(codes(recording)).toEqual(expect.arrayContaining(["no-parameters", "analog-scale"]));
    expect(recording).toMatchObject({ sampleCount: 10, rateHz: 100, plates: [] });
    expect(values(recording, 2)[0]).toBe(-700);
  });

  test("more than 255 channels: LABELS2, SCALE2, OFFSET2 go on where the first end", () => {
    const n = 260;
    const label = Array.from({ length: n }, (_, c) => `c${c}`);
    const two = Array.from({ length: n }, () => 2);
    const recording = read({
      channels: n,
      frames: 10,
      groups: {
        POINT: point(),
        ANALOG: analog({
          USED: integers([n]),
          SCALE: reals(two.slice(0, 255)),
          SCALE2: reals(two.slice(255)),
          OFFSET: integers(two.slice(0, 255)),
          OFFSET2: integers(two.slice(255)),
          LABELS: texts(label.slice(0, 255)),
          LABELS2: texts(label.slice(255)),
        }),
      },
    });
    expect(recording.channels).toHaveLength(n);
    expect(recording.channels[259]).toMatchObject({ label: "c259" });
    expect(values(recording, 259)[0]).toBe((259 - 2) * 2);
    expect(codes(recording)).not.toContain("analog-scale");
  });
});

describe("what to believe", () => {
  test("scale of other sign: the header wins, as a guess", () => {
    const recording = read({ groups: { ...GOOD, POINT: point({ SCALE: reals([0.1]) }) } });
    expect(recording.about["numbers"]).toBe("real");
    expect(guessed(recording)).toContain("scale-sign");
  });

  test.each([
    ["FRAMES", { FRAMES: integers([7]) }, {}, {}, 7],
    ["FRAMES 65535: LONG_FRAMES", { FRAMES: integers([65_535]), LONG_FRAMES: reals([6]) }, {}, {}, 6],
    [
      "FRAMES missing: TRIAL",
      { FRAMES: integers([0]) },
      { ACTUAL_START_FIELD: integers([3, 0]), ACTUAL_END_FIELD: integers([10, 0]) },
      {},
      8,
    ],
    ["FRAMES missing: the header", { FRAMES: integers([0]) }, {}, { 6: 2, 8: 6 }, 5],
    ["FRAMES as a real", { FRAMES: reals([9]) }, {}, {}, 9],
  ])("frames by %s", (_, more, trial, words, wanted) => {
    const groups = { ...GOOD, POINT: point(more), ...(Object.keys(trial).length > 0 ? { TRIAL: trial } : {}) };
    expect(read({ groups, words }).about["frames"]).toBe(wanted);
  });

  test("nothing settles the frames: whole frames to the end of the file, as a guess", () => {
    const recording = read({
      groups: { ...GOOD, POINT: point({ FRAMES: integers([65_535]) }) },
      words: { 6: 1, 8: 65_535 },
    });
    // 10 frames of 24 bytes in one block of 512: the padding counts too.
    expect(recording.about["frames"]).toBe(21);
    expect(guessed(recording)).toContain("frames");
  });

  test("word 3 holding the channels only: samples per frame by what fills the file", () => {
    const recording = read({
      samplesPerFrame: 4,
      frames: 100,
      groups: { ...GOOD, POINT: point({ FRAMES: integers([100]) }), ANALOG: analog({ RATE: reals([400]) }) },
      words: { 4: 6, 18: 4 },
    });
    expect(recording.about["samplesPerFrame"]).toBe(4);
    expect(recording.sampleCount).toBe(400);
    expect(guessed(recording)).toContain("analog-frame");
  });

  test("the analog rate is never ANALOG:RATE alone", () => {
    const recording = read({ groups: { ...GOOD, ANALOG: analog({ RATE: reals([1000]) }) } });
    expect(recording.rateHz).toBe(100);
    expect(codes(recording)).toContain("analog-frame");
  });

  test("rates that disagree: POINT:RATE, as a guess; none at all: stop", () => {
    expect(guessed(read({ reals: { 20: 60 } }))).toContain("rate");
    const none = read({ reals: { 20: 0 }, groups: { ...GOOD, POINT: point({ RATE: reals([0]) }) } });
    expect(none.findings.find(({ code }) => code === "rate")).toMatchObject({ severity: "stop" });
    expect(none.rateHz).toBeNaN();
  });

  test("a data block outside the file: POINT:DATA_START", () => {
    const start = made().length;
    const block = new DataView(made().buffer).getUint16(16, true);
    expect(start).toBeGreaterThan(0);
    const recording = read({
      words: { 16: 9999 },
      groups: { ...GOOD, POINT: point({ DATA_START: integers([block]) }) },
    });
    expect(codes(recording)).toContain("data-start");
    expect(values(recording, 2)[0]).toBe(-700);
  });

  test("fewer bytes than frames: whole frames, both numbers told; more: left alone, told", () => {
    const cut = recordingFromC3d(
      made({ frames: 100, groups: { ...GOOD, POINT: point({ FRAMES: integers([100]) }) } }).subarray(0, -1000),
    );
    const finding = cut.findings.find(({ code }) => code === "truncated")!;
    expect(finding.sentence).toContain("100 frames are announced");
    expect(finding.sentence).toContain(`${cut.about["frames"]} whole frames`);
    expect(codes(read({ extraBytes: 2000 }))).toContain("trailing");
  });

  test("neither points nor channels: error", () => {
    const bytes = made({ groups: { POINT: point() }, words: { 4: 0 } });
    expect(() => recordingFromC3d(bytes)).toThrow(expect.objectContaining({ code: "no-data" }));
  });
});

describe("analog values", () => {
  test("(raw - OFFSET) * SCALE * GEN_SCALE", () => {
    const recording = read({
      groups: {
        ...GOOD,
        ANALOG: analog({
          GEN_SCALE: reals([0.5]),
          SCALE: reals([1, 2, 3, 4, 5, 6]),
          OFFSET: integers([0, 0, 100, 0, 0, 0]),
        }),
      },
    });
    expect(values(recording, 2)[0]).toBe((-700 - 100) * 3 * 0.5);
  });

  test("UNSIGNED: raw and offset modulo 65536", () => {
    const recording = read({
      isInteger: true,
      value: (c) => (c === 2 ? 33_000 : 32_784),
      groups: {
        ...GOOD,
        POINT: point({ SCALE: reals([0.1]) }),
        ANALOG: analog({ FORMAT: texts(["UNSIGNED"]), OFFSET: integers(Array.from({ length: 6 }, () => -32_752)) }),
      },
    });
    expect(values(recording, 0)[0]).toBe(0);
    expect(values(recording, 2)[0]).toBe(33_000 - 32_784);
    expect(recording.channels[0]!.range).toEqual([-32_784, 65_535 - 32_784]);
  });

  test("the converter's range by BITS, signed or from 0, as the channel shows", () => {
    const groups = { ...GOOD, POINT: point({ SCALE: reals([0.1]) }), ANALOG: analog({ BITS: integers([12]) }) };
    const recording = read({ isInteger: true, groups, value: (c, i) => (c === 0 ? -2048 + i : 4095 - i) });
    expect(recording.channels[0]!.range).toEqual([-2048, 2047]);
    expect(recording.channels[1]!.range).toEqual([0, 4095]);
  });

  test("SCALE and OFFSET shorter than the channels: 1 and 0, told", () => {
    const recording = read({ groups: { ...GOOD, ANALOG: analog({ SCALE: reals([2, 2]), OFFSET: integers([1, 1]) }) } });
    expect(codes(recording)).toEqual(expect.arrayContaining(["analog-scale", "analog-offset"]));
    expect(values(recording, 2)[0]).toBe(-700);
  });

  test("what is no number is missing, and counted", () => {
    const recording = read({ value: (c, i) => (c === 3 && i < 2 ? Number.POSITIVE_INFINITY : c === 2 ? -700 : 0) });
    expect(values(recording, 3).slice(0, 3)).toEqual([Number.NaN, Number.NaN, 0]);
    expect(recording.findings.find(({ code }) => code === "analog-not-finite")!.sentence).toContain(
      "2 analog values in 1 channels",
    );
  });

  test("one unit for all channels; labels empty or equal are numbered and told", () => {
    const recording = read({
      groups: { ...GOOD, ANALOG: analog({ UNITS: texts(["V"]), LABELS: texts(["a", "a", "", "", "", ""]) }) },
    });
    expect(recording.channels.map(({ unit }) => unit)).toEqual(["V", "V", "V", "V", "V", "V"]);
    expect(recording.channels.map(({ label }) => label)).toEqual(["a", "a", "3", "4", "5", "6"]);
    expect(codes(recording)).toContain("label-twice");
  });

  test("a trigger channel is a guess in files of others", () => {
    const recording = read({
      channels: 7,
      groups: {
        ...GOOD,
        ANALOG: analog({ USED: integers([7]), LABELS: texts(["a", "b", "c", "d", "e", "f", "Trig in"]) }),
      },
    });
    expect(recording.channels[6]!.role).toBe("trigger");
    expect(guessed(recording)).toContain("channel-role");
  });
});

describe("plates", () => {
  const withPlate = (more: Group, rest: Made = {}): Recording =>
    read({ ...rest, groups: { ...GOOD, FORCE_PLATFORM: plate(more) } });
  const fault = (recording: Recording): unknown => recording.plates[0]!.fault;

  test("USED 0: none; USED missing: the length of TYPE; USED too large: what is described", () => {
    expect(withPlate({ USED: integers([0]) }).plates).toEqual([]);
    const { USED: _, ...without } = plate();
    const missing = read({ groups: { ...GOOD, FORCE_PLATFORM: without } });
    expect(missing.plates).toHaveLength(1);
    expect(codes(missing)).toContain("fp-used");
    const large = withPlate({ USED: integers([65_535]) });
    expect(large.plates).toHaveLength(1);
    expect(codes(large)).toContain("fp-used");
  });

  test.each([5, 6, 7, 11, 12, 21])("type %d is kept and not computed", (type) => {
    const recording = withPlate({ TYPE: integers([type], [1]) });
    expect(fault(recording)).toMatchObject({ code: "fp-type", severity: "stop" });
    expect(recording.plates[0]!.channels).toEqual([0, 1, 2, 3, 4, 5]);
  });

  test.each([
    ["no number", [Number.NaN, ...CORNERS.slice(1)]],
    ["all zero", CORNERS.map(() => 0)],
    ["6 km", CORNERS.map((v) => 1e4 * v)],
    ["missing", []],
  ])("corners %s: this plate cannot be computed", (_, corners) => {
    const recording = withPlate({ CORNERS: reals(corners, [3, 4, 1].slice(0, corners.length === 0 ? 0 : 3)) });
    expect(fault(recording)).toMatchObject({ code: "fp-corners", severity: "stop" });
    expect(recording.plates[0]!.isPlaced).toBe(false);
  });

  test("corners that are no rectangle: caution; the other way round: asked", () => {
    const skew = withPlate({ CORNERS: reals([260, -300, 0, ...CORNERS.slice(3)], [3, 4, 1]) });
    expect(skew.findings.find(({ code }) => code === "fp-corners")).toMatchObject({ severity: "caution" });
    expect(fault(skew)).toBeUndefined();
    const corner = (c: number): number[] => CORNERS.slice(3 * c, 3 * c + 3);
    const turned = withPlate({ CORNERS: reals([...corner(3), ...corner(2), ...corner(1), ...corner(0)], [3, 4, 1]) });
    expect(guessed(turned)).toContain("corner-order");
  });

  test("a channel that is not there stops one plate, not the other", () => {
    const recording = read({
      groups: {
        ...GOOD,
        FORCE_PLATFORM: plate({
          USED: integers([2]),
          TYPE: integers([2, 2]),
          CORNERS: reals([...CORNERS, ...CORNERS], [3, 4, 2]),
          ORIGIN: reals([0, 0, -40, 0, 0, -40], [3, 2]),
          CHANNEL: integers([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12], [6, 2]),
        }),
      },
    });
    expect(recording.plates[0]!.fault).toBeUndefined();
    expect(recording.plates[1]!.fault).toMatchObject({ code: "fp-channel", severity: "stop", where: { plate: 2 } });
  });

  test.each([
    [2, [4.4, -1.9, 21.6], [-0.0044, 0.0019, -0.0216]],
    [2, [-4.4, 1.9, -21.6], [-0.0044, 0.0019, -0.0216]],
    [1, [0, 0, 21.6], [0, 0, 0.0216]],
  ])("ORIGIN of type %d: %j mm becomes %j m", (type, written, wanted) => {
    const recording = withPlate({ TYPE: integers([type], [1]), ORIGIN: reals(written, [3, 1]) });
    const { originM, originAsWrittenM } = recording.plates[0]!;
    [originM.x, originM.y, originM.z].forEach((m, i) => {
      expect(m).toBeCloseTo(wanted[i]!, 6);
    });
    expect(originAsWrittenM.z).toBeCloseTo(written[2]! / 1000, 6);
    expect(guessed(recording).includes("origin-sign")).toBe(type === 2 && written[2]! > 0);
  });

  test("type 3: only the third sign is turned; without spacing there are forces only", () => {
    const eight = {
      channels: 8,
      groups: {
        POINT: point(),
        ANALOG: analog({ USED: integers([8]) }),
        FORCE_PLATFORM: plate({
          TYPE: integers([3], [1]),
          ORIGIN: reals([120, 200, 58], [3, 1]),
          CHANNEL: integers([1, 2, 3, 4, 5, 6, 7, 8], [8, 1]),
        }),
      },
    };
    const { originM } = read(eight).plates[0]!;
    expect(originM.x).toBeCloseTo(0.12, 6);
    expect(originM.z).toBeCloseTo(-0.058, 6);
    const flat = {
      ...eight.groups,
      FORCE_PLATFORM: { ...eight.groups.FORCE_PLATFORM, ORIGIN: reals([0, 0, 0], [3, 1]) },
    };
    const none = read({ ...eight, groups: flat }).plates[0]!;
    expect(none).toMatchObject({ hasMoments: false, fault: { code: "fp-origin", severity: "caution" } });
  });

  test("type 4: CAL_MATRIX column by column, moments from N mm to N m; missing or not finite: fp-cal", () => {
    const stored = Array.from({ length: 36 }, (_, i) => 10 * Math.floor(i / 6) + (i % 6) + 1);
    const recording = withPlate({ TYPE: integers([4], [1]), CAL_MATRIX: reals(stored, [6, 6, 1]) });
    const { matrix, momentToNm } = recording.plates[0]!;
    // Row 1, column 3 stands at 6 * 3 + 1; row 5 is a moment.
    expect(matrix![1]![3]).toBe(32);
    expect(matrix![5]![2]).toBeCloseTo(0.026, 12);
    expect(momentToNm).toBe(1);
    expect(withPlate({ TYPE: integers([4], [1]) }).plates[0]!.fault).toMatchObject({ code: "fp-cal" });
    stored[4] = Number.NaN;
    expect(fault(withPlate({ TYPE: integers([4], [1]), CAL_MATRIX: reals(stored, [6, 6, 1]) }))).toMatchObject({
      code: "fp-cal",
    });
  });

  test.each([
    ["Nm", 1],
    ["N-mm", 1e-3],
    ["V", 1e-3],
  ])("moment unit %s of type 2 is %d N m", (unit, wanted) => {
    const recording = read({
      groups: { ...GOOD, ANALOG: analog({ UNITS: texts(["N", "N", "N", unit, unit, unit]) }) },
    });
    expect(recording.plates[0]!.momentToNm).toBe(wanted);
  });

  test("no moment unit and a CoP off the plate in one, on it in the other: the other, as a guess", () => {
    // POINT:UNITS m: moments would be N m, but 50000 / 700 = 71 m.
    const metres = CORNERS.map((v) => v / 1000);
    const recording = read({
      value: (c) => (c === 2 ? -700 : c === 3 ? 50_000 : 0),
      groups: {
        POINT: point({ UNITS: texts(["m"]) }),
        ANALOG: analog({ UNITS: texts(["V"]) }),
        FORCE_PLATFORM: plate({ CORNERS: reals(metres, [3, 4, 1]), ORIGIN: reals([0, 0, -0.04], [3, 1]) }),
      },
    });
    expect(recording.plates[0]!.momentToNm).toBe(1e-3);
    expect(guessed(recording)).toContain("units");
  });

  test("POINT:UNITS missing: m where the plate is then of a plate's size, else mm", () => {
    const { UNITS: _, ...without } = point();
    for (const [factor, wanted] of [
      [1, 1e-3],
      [1e-3, 1],
    ] as const) {
      const corners = CORNERS.map((v) => v * factor);
      const recording = read({
        groups: { ...GOOD, POINT: without, FORCE_PLATFORM: plate({ CORNERS: reals(corners, [3, 4, 1]) }) },
      });
      expect(recording.plates[0]!.lengthToM).toBe(wanted);
      expect(guessed(recording)).toContain("units");
    }
  });

  test.each([
    [[0, 0], undefined],
    [[1, 0], undefined],
    [[1, 1], { first: 0, end: 1 }],
    [[2, 5], { first: 1, end: 5 }],
    [[5, 2], undefined],
    [[1, 11], undefined],
  ])("ZERO %j asks for %j", (zero, wanted) =>
    expect(withPlate({ ZERO: integers(zero) }).plates[0]!.zero).toEqual(wanted),
  );

  test.each([
    ["plausible-load", -12_000],
    ["plausible-no-load", 3],
    ["plausible-standing", -90],
  ])("%s at a load of %d N", (code, load) => {
    expect(codes(read({ value: (c) => (c === 2 ? load : 0) }))).toContain(code);
  });
});

describe("events", () => {
  const events = (times: number[], dimensions: number[], more: Group = {}, first = 1): Recording =>
    read({
      groups: {
        ...GOOD,
        EVENT: {
          USED: integers([dimensions.at(-1)!]),
          TIMES: reals(times, dimensions),
          LABELS: texts(["one", "two"]),
          ...more,
        },
        TRIAL: { ACTUAL_START_FIELD: integers([first, 0]), ACTUAL_END_FIELD: integers([first + 9, 0]) },
      },
      words: { 6: first, 8: first + 9 },
    });

  test("minutes and seconds, from frame 1", () => {
    const recording = events([1, 0.05, 1, 0.07], [2, 2], {}, 6001);
    expect(recording.events.map(({ label, timeS }) => [label, Math.round(timeS * 1e4) / 1e4])).toEqual([
      ["one", 0.05],
      ["two", 0.07],
    ]);
    expect(codes(recording)).not.toContain("event-outside");
  });

  test("times that only fit from the first stored frame are taken so, as a guess", () => {
    const recording = events([0, 0.02, 0, 0.07], [2, 2], {}, 6001);
    expect(recording.events.map(({ timeS }) => Math.round(timeS * 1e4) / 1e4)).toEqual([0.02, 0.07]);
    expect(guessed(recording)).toContain("event-origin");
  });

  test("one row of TIMES is seconds; what lies outside is told and kept", () => {
    const recording = events([0.05, 99], [1, 2]);
    expect(recording.events.map(({ timeS }) => Math.round(timeS * 1e4) / 1e4)).toEqual([0.05, 99]);
    expect(codes(recording)).toContain("event-outside");
  });

  test("subjects are never read", () => {
    const recording = events([0, 0.05], [2, 1], {
      SUBJECTS: texts(["Somebody Invented"]),
      DESCRIPTIONS: texts(["Somebody Invented"]),
    });
    expect(JSON.stringify(recording)).not.toContain("Somebody");
  });
});

describe("markers", () => {
  test("read when asked for: m, invalid ones missing, the subject before the colon left out", () => {
    const bytes = made({
      groups: { POINT: point({ USED: integers([1]), LABELS: texts(["Somebody:CLUB"]), FRAMES: integers([2]) }) },
      words: { 2: 1, 4: 0 },
      channels: 4,
      frames: 2,
      value: (c, i) => (c === 3 ? -i : 1000 * (c + 1)),
    });
    expect(recordingFromC3d(bytes).markers).toEqual([]);
    const [marker] = recordingFromC3d(bytes, {}, { markers: "read" }).markers;
    expect(marker!.label).toBe("CLUB");
    expect([...marker!.zM]).toEqual([3, Number.NaN]);
  });
});
