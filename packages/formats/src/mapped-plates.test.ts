import { type Recording, UnderfootError } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import { columnMappingFromText } from "./column-mapping.ts";
import { recordingFromText } from "./recording-from-text.ts";

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** A text of ten equal rows with these columns. */
function textOf(columns: Readonly<Record<string, number>>): Uint8Array {
  const row = `${Object.values(columns).join("\t")}\n`;
  return bytesOf(`${Object.keys(columns).join("\t")}\n${row.repeat(10)}`);
}

function read(columns: Readonly<Record<string, number>>, plate: object, others: object = {}): Recording {
  const mapping = columnMappingFromText(
    JSON.stringify({
      ...{ underfoot: "column-mapping", version: 1, name: "test", match: { columns: [] }, time: { rate: 1000 } },
      plates: [{ plate: "1", gives: "force", ...plate }],
      ...others,
    }),
  );
  return recordingFromText(textOf(columns), { mapping });
}

const codeOf = (action: () => unknown): string => {
  try {
    action();
  } catch (error) {
    if (error instanceof UnderfootError) return error.code;
    throw error;
  }
  return "read";
};

/** The first sample of each of a plate's channels, in the order of its type. */
function channelsOf({ plates, channels }: Recording): number[] {
  return (plates[0]?.channels ?? []).map((at) => (at < 0 ? Number.NaN : (channels[at]?.values[0] ?? Number.NaN)));
}

const FORCE = [
  { column: "a", unit: "N", axis: "+x" },
  { column: "b", unit: "N", axis: "+y" },
  { column: "c", unit: "N", axis: "+z" },
];
const WRENCH = { a: 10, b: 20, c: 700 };

describe("mapped plates", () => {
  it("have force columns along plate axes: with z up, plate x is x, plate y is -y, plate z is -z", () => {
    const recording = read(WRENCH, { force: FORCE, sense: "on-player" }, { up: "+z" });
    expect(recording.plates[0]).toMatchObject({
      index: 1,
      type: 0,
      sense: "on-player",
      hasMoments: false,
      isPlaced: false,
      forceToN: 1,
    });
    expect(channelsOf(recording)).toEqual([10, -20, -700]);
    expect(recording.guesses).toEqual([]);
  });

  it("follow a y-up and a z-down laboratory", () => {
    const yUp = read({ a: 10, b: 700, c: 20 }, { force: FORCE }, { up: "+y" });
    expect(channelsOf(yUp)).toEqual([10, 20, -700]);
    const zDown = read({ a: 10, b: 20, c: -700 }, { force: FORCE }, { up: "-z" });
    expect(channelsOf(zDown)).toEqual([10, 20, -700]);
  });

  it("turn signs and units: an axis of -y, kN, kgf and lbf", () => {
    const force = [
      { column: "a", unit: "kgf", axis: "+x" },
      { column: "b", unit: "lbf", axis: "-y" },
      { column: "c", unit: "kN", axis: "+z" },
    ];
    const recording = read({ a: 10, b: 20, c: 0.7 }, { force }, { up: "+z" });
    // NIST Special Publication 811, appendix B: 1 kgf = 9.80665 N, 1 lbf = 4.448 221 615 260 5 N (typed from memory).
    expect(channelsOf(recording)).toEqual([10 * 9.80665, 20 * 4.4482216152605, -700]);
    expect(recording.channels.map(({ unit }) => unit)).toEqual(["N", "N", "N"]);
  });

  it("guess up from the load and say so; with a known sense also its sign", () => {
    const up = (columns: Record<string, number>, plate: object) => read(columns, plate).guesses[0];
    expect(up({ a: 5, b: 700, c: 9 }, { force: FORCE })?.sentence).toContain(
      "Up is taken to be +y: the mean force along y is 700 N",
    );
    expect(up({ a: 5, b: 9, c: -700 }, { force: FORCE, sense: "on-player" })?.sentence).toContain("-z");
    expect(up({ a: 5, b: 9, c: -700 }, { force: FORCE, sense: "on-plate" })?.sentence).toContain("+z");
    expect(up({ a: 5, b: 9, c: -700 }, { force: FORCE })?.sentence).toContain("+z");
    expect(up({ a: 0, b: 0, c: 0 }, { force: FORCE })?.sentence).toContain("no load");
    expect(up({ c: 700 }, { force: FORCE.slice(2) })?.sentence).toContain("only direction");
  });

  it("with the vertical force alone have one channel, along plate z, and say that the rest counts as 0", () => {
    const recording = read({ c: 700 }, { force: FORCE.slice(2) }, { up: "+z" });
    expect(channelsOf(recording)).toEqual([-700]);
    expect(recording.findings.map(({ code }) => code)).toContain("no-horizontal");
    const two = read({ b: 3, c: 700 }, { force: FORCE.slice(1) }, { up: "+z" });
    expect(two.plates[0]?.channels).toEqual([-1, 0, 1]);
  });

  it("refuse a plate without a vertical force", () => {
    expect(codeOf(() => read({ a: 1, b: 2 }, { force: FORCE.slice(0, 2) }, { up: "+z" }))).toBe("no-vertical");
  });

  const COP = [
    { column: "p", unit: "mm", axis: "+x" },
    { column: "q", unit: "cm", axis: "+y" },
  ];

  it("with a CoP are of type 1: m along plate axes from the centre; the free moment about plate z", () => {
    const plate = { gives: "force+cop", force: FORCE, cop: COP, freeMoment: { column: "m", unit: "N cm", axis: "+z" } };
    const recording = read({ ...WRENCH, p: 50, q: 3, m: 250 }, plate, { up: "+z" });
    expect(recording.plates[0]).toMatchObject({ type: 1, hasMoments: true });
    expect(channelsOf(recording)).toEqual([10, -20, -700, 0.05, -0.03, -2.5]);
    const { plates } = read({ ...WRENCH, p: 50, q: 3 }, { gives: "force+cop", force: FORCE, cop: COP }, { up: "+z" });
    expect(plates[0]?.channels.at(-1)).toBe(-1);
  });

  it("count a CoP that is given in the laboratory from the plate's centre", () => {
    const cop = COP.map((one) => ({ ...one, from: "lab" }));
    const place = { size: [0.6, 0.4], centre: [1, 2, 0] };
    const recording = read(
      { ...WRENCH, p: 1050, q: 203 },
      { gives: "force+cop", force: FORCE, cop, ...place },
      { up: "+z" },
    );
    const [, , , px, py] = channelsOf(recording);
    expect(px).toBeCloseTo(0.05, 12);
    expect(py).toBeCloseTo(-0.03, 12);
    expect(recording.plates[0]?.isPlaced).toBe(true);
    expect(recording.plates[0]?.corners[0]).toEqual({ x: 1.3, y: 1.8, z: 0 });
  });

  const MOMENT = [
    { column: "d", unit: "N m", axis: "+x" },
    { column: "e", unit: "N m", axis: "+y" },
    { column: "f", unit: "N m", axis: "+z" },
  ];

  it("with moments are of type 2; the depth of their point becomes the origin", () => {
    const plate = { gives: "force+moment", force: FORCE, moment: MOMENT, depth: 0.04 };
    const recording = read({ ...WRENCH, d: 1, e: 2, f: 3 }, plate, { up: "+z" });
    expect(recording.plates[0]).toMatchObject({ type: 2, originM: { x: 0, y: 0, z: -0.04 } });
    expect(channelsOf(recording)).toEqual([10, -20, -700, 1, -2, -3]);
  });

  it("move moments about the laboratory's origin to the surface by the plate's place", () => {
    const plate = {
      gives: "force+moment",
      force: FORCE,
      moment: MOMENT,
      momentAbout: "lab",
      size: [0.6, 0.4],
      centre: [1, 2, 0],
    };
    const { plates } = read({ ...WRENCH, d: 1, e: 2, f: 3 }, plate, { up: "+z" });
    expect(plates[0]?.originM).toEqual({ x: 1, y: -2, z: 0 });
    expect(plates[0]?.isPlaced).toBe(true);
  });

  it("made of signals are of type 4, their matrix turned to plate axes, the signals as written", () => {
    const matrix = Array.from({ length: 6 }, (_, r) => Array.from({ length: 6 }, (_, c) => (r === c ? r + 1 : 0)));
    const signals = ["a", "b", "c", "d", "e", "f"].map((column) => ({ column, unit: "mV" }));
    const volts = { a: 1, b: 2, c: 3, d: 4, e: 5, f: 6 };
    const recording = read(volts, { gives: "signals", signals, matrix, depth: 0.02 }, { up: "+z" });
    expect(recording.plates[0]).toMatchObject({ type: 4, hasMoments: true, originM: { x: 0, y: 0, z: -0.02 } });
    expect(channelsOf(recording)).toEqual([1, 2, 3, 4, 5, 6]);
    expect(recording.channels[0]?.unit).toBe("mV");
    const diagonal = (made: Recording) => made.plates[0]?.matrix?.map((row, k) => row[k]);
    expect(diagonal(recording)).toEqual([1, -2, -3, 4, -5, -6]);
    const down = read(volts, { gives: "signals", signals, matrix, axes: ["+x", "-y", "-z"] }, { up: "+z" });
    expect(diagonal(down)).toEqual([1, 2, 3, 4, 5, 6]);
  });

  it("stand askew where their corners do: forces are turned with them, whichever way round the corners go", () => {
    const turn = Math.PI / 6;
    const corner = (x: number, y: number) => [
      x * Math.cos(turn) - y * Math.sin(turn),
      x * Math.sin(turn) + y * Math.cos(turn),
      0,
    ];
    const corners = [corner(0.3, 0.2), corner(-0.3, 0.2), corner(-0.3, -0.2), corner(0.3, -0.2)];
    for (const around of [corners, corners.toReversed()]) {
      const recording = read(WRENCH, { force: FORCE, corners: around }, { up: "+z" });
      const [fx, fy, fz] = channelsOf(recording);
      expect(Math.hypot(fx ?? 0, fy ?? 0)).toBeCloseTo(Math.hypot(10, 20), 9);
      expect(fz).toBeCloseTo(-700, 9);
      expect(recording.plates[0]?.isPlaced).toBe(true);
    }
    expect(codeOf(() => read({ a: 1, c: 700 }, { force: [FORCE[0], FORCE[2]], corners }, { up: "+z" }))).toBe(
      "mapping-field",
    );
  });

  it("take roles and units of extra columns, and say where header and mapping differ in a unit", () => {
    const extra = [{ column: "trig", role: "trigger", unit: "V" }];
    const force = [{ column: "Fz (kN)", unit: "N", axis: "+z" }];
    const { channels, findings } = read({ "Fz (kN)": 700, trig: 5 }, { force }, { up: "+z", extra });
    expect(channels[1]).toMatchObject({ label: "trig", role: "trigger", unit: "V" });
    expect(findings.map(({ code }) => code)).toContain("unit-disagrees");
  });

  it("refuse a file that lacks a column, and note one that has more", () => {
    expect(codeOf(() => read({ a: 1, b: 2 }, { force: FORCE }))).toBe("mapping-mismatch");
    expect(read({ ...WRENCH, other: 3 }, { force: FORCE }, { up: "+z" }).findings.map(({ code }) => code)).toContain(
      "mapping-extra",
    );
  });

  it("read only what is mapped: rubbish elsewhere is no obstacle", () => {
    const text = `c\tnote\n${"700\t1\n".repeat(300)}700\trubbish\n`;
    const mapping = columnMappingFromText(
      JSON.stringify({
        ...{
          underfoot: "column-mapping",
          version: 1,
          name: "one",
          match: { columns: [] },
          time: { rate: 1000 },
          up: "+z",
        },
        plates: [{ plate: "1", gives: "force", force: FORCE.slice(2) }],
      }),
    );
    expect(recordingFromText(bytesOf(text), { mapping }).sampleCount).toBe(301);
  });
});
