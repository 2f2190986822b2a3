import type { Channel, PlateDescription, Recording, Vector } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import reference from "../../../reference/mechanics.json" with { type: "json" };
import { centreOfPressure, freeMoment } from "./centre-of-pressure.ts";
import { plateWrench } from "./plate-wrench.ts";
import { DEFAULT_SETTINGS } from "./settings.ts";

const vector = ([x, y, z]: readonly number[]): Vector => ({ x: x!, y: y!, z: z! });
const settings = DEFAULT_SETTINGS;
const channel = (values: readonly number[], extra: Partial<Channel> = {}): Channel => ({
  label: "",
  unit: "",
  role: "other",
  values: Float64Array.from(values),
  ...extra,
});

/** A level plate of 0.6 x 0.4 m whose x axis is the laboratory's y (the corners of lab.json, centre at 0.3, 0.2, 0.02). */
function plateOf(extra: Partial<PlateDescription> & Pick<PlateDescription, "type" | "channels">): PlateDescription {
  return {
    index: 1,
    corners: reference.lab.corners.map(vector) as unknown as PlateDescription["corners"],
    isPlaced: true,
    originM: { x: 0, y: 0, z: 0 },
    originAsWrittenM: { x: 0, y: 0, z: 0 },
    forceToN: 1,
    momentToNm: 1,
    lengthToM: 1,
    momentUnit: "Nm",
    sense: "unknown",
    hasMoments: true,
    ...extra,
  };
}

function recordingOf(channels: readonly Channel[], plate: PlateDescription, rateHz = 1000): Recording {
  return {
    format: "text",
    rateHz,
    sampleCount: channels[0]!.values.length,
    channels,
    plates: [plate],
    events: [],
    markers: [],
    about: {},
    findings: [],
    guesses: [],
  };
}

/** Type 2: vertical force of these loads (stored as reaction, z down), everything else 0. */
function loads(values: readonly number[], extra: Partial<PlateDescription> = {}, fz: Partial<Channel> = {}) {
  const none = new Array<number>(values.length).fill(0);
  const vertical = values.map((load) => -load);
  const columns = [none, none, vertical, none, none, none].map((v, c) => channel(v, c === 2 ? fz : {}));
  const plate = plateOf({ type: 2, channels: [0, 1, 2, 3, 4, 5], ...extra });
  return { recording: recordingOf(columns, plate), plate };
}

const codes = (wrench: { findings: readonly { code: string }[] }): string[] => wrench.findings.map((f) => f.code);

describe("plates of types 1 to 4", () => {
  it("give the same tabled wrench, CoP and free moment, with and without a pad (1e-9)", () => {
    for (const row of reference.plates.rows) {
      const origin = vector(row.origin);
      const plate = plateOf({
        type: row.type,
        channels: row.channels.map((_, c) => c),
        originM: origin,
        originAsWrittenM: origin,
        ...(row.cal === null ? {} : { matrix: row.cal as number[][] }),
      });
      const recording = recordingOf(
        row.channels.map((value) => channel([value])),
        plate,
      );
      const wrench = plateWrench(recording, plate, { settings });
      const { centreM, normal } = wrench.frame;
      // R of lab.json: plate x is the laboratory's y, plate y its x, plate z down.
      const lab = ([x, y, z]: number[]): number[] => [y!, x!, -z!];
      const force = [wrench.forceN.x[0]!, wrench.forceN.y[0]!, wrench.forceN.z[0]!];
      const moment = [wrench.momentNm.x[0]!, wrench.momentNm.y[0]!, wrench.momentNm.z[0]!];
      lab(row.force).forEach((value, i) => {
        expect(Math.abs(force[i]! - value)).toBeLessThan(1e-9);
      });
      lab(row.moment_surface_centre).forEach((value, i) => {
        expect(Math.abs(moment[i]! - value)).toBeLessThan(1e-9);
      });
      const one = { forceN: vector(force), momentNm: vector(moment), centreM };
      const cop = centreOfPressure(one, normal, row.pad);
      expect(Math.abs(cop.y - centreM.y - row.cop[0]!)).toBeLessThan(1e-9);
      expect(Math.abs(cop.x - centreM.x - row.cop[1]!)).toBeLessThan(1e-9);
      expect(Math.abs(freeMoment(one, normal) - row.free_moment_about_outward_normal)).toBeLessThan(1e-9);
      expect(wrench.storedAs).toBe("on-player");
    }
  });

  it("turn all six signs of a file that holds the action on the plate", () => {
    const row = reference.plates.rows.find((r) => r.type === 2)!;
    const plate = plateOf({ type: 2, channels: [0, 1, 2, 3, 4, 5], originM: vector(row.origin) });
    const turned = recordingOf(
      row.channels.map((value) => channel([-value])),
      plate,
    );
    const straight = recordingOf(
      row.channels.map((value) => channel([value])),
      plate,
    );
    const found = plateWrench(turned, plate, { settings });
    const wanted = plateWrench(straight, plate, { settings });
    expect(found.storedAs).toBe("on-plate");
    for (const axis of ["x", "y", "z"] as const) {
      expect(found.forceN[axis][0]!).toBeCloseTo(wanted.forceN[axis][0]!, 12);
      expect(found.momentNm[axis][0]!).toBeCloseTo(wanted.momentNm[axis][0]!, 12);
    }
    const said = plateWrench(turned, plate, { settings, fact: { plate: 1, foot: "lead", sense: "on-player" } });
    expect(said.storedAs).toBe("on-player");
    expect(codes(said)).toContain("sense-disagrees");
  });

  it("refuse a type that is not computed, a missing channel, a missing matrix and corners that span nothing", () => {
    const bad: [Partial<PlateDescription>, string][] = [
      [{ type: 21 }, "plate-not-computed"],
      [{ type: 3 }, "plate-calibration"],
      [{ type: 4 }, "plate-calibration"],
      [{ corners: [0, 0, 0, 0].map(() => ({ x: 0, y: 0, z: 0 })) as never }, "plate-not-computed"],
    ];
    for (const [extra, code] of bad) {
      const { recording, plate } = loads([800, 800], extra);
      expect(() => plateWrench(recording, plate, { settings })).toThrow(expect.objectContaining({ code }));
    }
  });

  it("of type 0, and of type 3 without sensor distances, give forces only, and say so", () => {
    const forces = plateOf({ type: 0, channels: [0, 1, 2], hasMoments: false });
    const wrench = plateWrench(recordingOf([channel([1]), channel([2]), channel([-700])], forces), forces, {
      settings,
    });
    expect([wrench.forceN.x[0], wrench.forceN.y[0], wrench.forceN.z[0]]).toEqual([2, 1, 700]);
    expect(Number.isNaN(wrench.momentNm.x[0]!)).toBe(true);
    expect(codes(wrench)).toContain("no-moments");
  });

  it("of type 1 keep the written CoP only where loaded", () => {
    const plate = plateOf({ type: 1, channels: [0, 1, 2, 3, 4, 5] });
    const columns = [
      [0, 0],
      [0, 0],
      [-800, -1],
      [0.1, 5000],
      [0.05, Number.NaN],
      [0, 0],
    ].map((v) => channel(v));
    const wrench = plateWrench(recordingOf(columns, plate), plate, { settings });
    expect(wrench.momentNm.x[0]!).toBeCloseTo(0.1 * 800, 9);
    expect(Math.abs(wrench.momentNm.x[1]!)).toBeLessThanOrEqual(0.3);
  });
});

describe("zero of a plate", () => {
  const loaded = [...new Array<number>(600).fill(3), ...new Array<number>(600).fill(803)];

  it("is taken from the stretch that a person gives", () => {
    const { recording, plate } = loads(loaded);
    const wrench = plateWrench(recording, plate, { settings, fact: { plate: 1, foot: "lead", zero: [0, 0.6] } });
    expect(wrench.zero).toEqual({ kind: "window", first: 0, end: 600 });
    expect(wrench.forceN.z[900]!).toBeCloseTo(800, 9);
    expect(codes(wrench)).toEqual([]);
  });

  it("is taken from the file's own stretch when it is unloaded, and left with a finding when somebody stands on it", () => {
    const free = loads(loaded, { zero: { first: 0, end: 600 } });
    expect(plateWrench(free.recording, free.plate, { settings }).forceN.z[900]!).toBeCloseTo(800, 9);
    const stood = loads(loaded, { zero: { first: 550, end: 1000 } });
    const wrench = plateWrench(stood.recording, stood.plate, { settings });
    expect(wrench.zero.kind).toBe("none");
    expect(wrench.forceN.z[900]!).toBeCloseTo(803, 9);
    expect(codes(wrench)).toEqual(["zero-loaded"]);
  });

  it("is refused from a file above 40 N and above 5 % of the peak alike", () => {
    const lightly = loads([...new Array<number>(600).fill(45), ...new Array<number>(600).fill(2000)], {
      zero: { first: 0, end: 600 },
    });
    expect(codes(plateWrench(lightly.recording, lightly.plate, { settings }))).toEqual(["zero-loaded"]);
    const small = loads([...new Array<number>(600).fill(30), ...new Array<number>(600).fill(500)], {
      zero: { first: 0, end: 600 },
    });
    expect(codes(plateWrench(small.recording, small.plate, { settings }))).toEqual(["zero-loaded"]);
  });

  it("says when there is none, when it is forbidden, outside or short", () => {
    const { recording, plate } = loads(loaded, { zero: { first: 0, end: 600 } });
    const coded = (zero: "none" | [number, number]) =>
      codes(plateWrench(recording, plate, { settings, fact: { plate: 1, foot: "lead", zero } }));
    expect(coded("none")).toEqual(["not-zeroed"]);
    expect(coded([5, 6])).toEqual(["zero-outside"]);
    expect(coded([0, 0.2])).toEqual(["zero-short"]);
    const none = loads(loaded);
    expect(codes(plateWrench(none.recording, none.plate, { settings }))).toEqual(["not-zeroed"]);
    expect(plateWrench(none.recording, none.plate, { settings, zeroWindow: [0, 0.5] }).zero.kind).toBe("window");
  });

  it("as written: nothing taken off, nothing repaired", () => {
    const spiked = loaded.map((load, i) => (i === 300 ? 5000 : load));
    const { recording, plate } = loads(spiked, { zero: { first: 0, end: 600 } });
    const wrench = plateWrench(recording, plate, { settings, asWritten: true });
    expect(wrench.forceN.z[300]).toBe(5000);
    expect(wrench.zero.kind).toBe("none");
    expect(codes(wrench)).not.toContain("not-zeroed");
  });
});

describe("raw channels", () => {
  /** A slow sway of the load, so that no stretch is constant. */
  const sway = Array.from({ length: 1000 }, (_, i) => 800 + 20 * Math.sin(i / 60) + 3 * Math.sin(i / 7));

  it("are bridged over 5 ms and not over 6, in a channel or by a gap channel", () => {
    const holed = sway.map((v, i) => ((i >= 100 && i < 105) || (i >= 300 && i < 306) ? Number.NaN : v));
    const { recording, plate } = loads(holed);
    const wrench = plateWrench(recording, plate, { settings });
    expect(wrench.bridgedCount).toBe(5);
    expect(Math.abs(wrench.forceN.z[102]! - sway[102]!)).toBeLessThan(0.5);
    expect(wrench.forceN.z.filter(Number.isNaN).length).toBe(6);
    expect(codes(wrench)).toEqual(["gaps-bridged", "gaps", "not-zeroed"]);
    const marks = channel(
      sway.map((_, i) => (i >= 300 && i < 306 ? 1 : 0)),
      { role: "gap" },
    );
    const whole = loads(sway);
    const marked = plateWrench({ ...whole.recording, channels: [...whole.recording.channels, marks] }, whole.plate, {
      settings,
    });
    expect(marked.forceN.z.filter(Number.isNaN).length).toBe(6);
    const others = { ...marks, label: "gap2" };
    const spared = plateWrench({ ...whole.recording, channels: [...whole.recording.channels, others] }, whole.plate, {
      settings,
    });
    expect(spared.forceN.z.some(Number.isNaN)).toBe(false);
  });

  it("lose single spikes, counted, and keep their noise", () => {
    let state = 1;
    const noise = () => {
      // Park-Miller, twelve draws to a nearly normal number.
      let total = -6;
      for (let k = 0; k < 12; k++) {
        state = (state * 16807) % 2147483647;
        total += state / 2147483647;
      }
      return total;
    };
    const noisy = Array.from({ length: 4000 }, () => 800 + noise());
    const calm = loads(noisy);
    const plain = plateWrench(calm.recording, calm.plate, { settings });
    expect(codes(plain)).toEqual(["not-zeroed"]);
    expect(plain.forceN.z).toEqual(Float64Array.from(noisy));
    const spiked = noisy.map((v, i) => (i === 1200 || i === 2500 ? v + 60 : v));
    const { recording, plate } = loads(spiked);
    const wrench = plateWrench(recording, plate, { settings });
    expect(wrench.findings[0]?.sentence).toMatch(/^2 single samples/);
    expect(Math.abs(wrench.forceN.z[1200]! - 800)).toBeLessThan(6);
  });

  it("at the end of a known range, or cut off flat, are marked; a smooth crest is not", () => {
    const peaked = Array.from({ length: 1000 }, (_, i) => 800 + 1000 * Math.exp(-(((i - 500) / 40) ** 2)));
    const known = loads(peaked, {}, { range: [-1700, 1700] });
    const first = plateWrench(known.recording, known.plate, { settings });
    expect(first.isSaturated[500]).toBe(1);
    expect(first.isSaturated[400]).toBe(0);
    expect(codes(first)).toContain("saturated");
    const cut = loads(peaked.map((v) => Math.min(v, 1500)));
    const second = plateWrench(cut.recording, cut.plate, { settings });
    expect(second.isSaturated[500]).toBe(1);
    expect(second.isSaturated.reduce((a, b) => a + b, 0)).toBe(peaked.filter((v) => v >= 1500).length);
    const smooth = loads(sway.map((v) => Math.round(v * 1000) / 1000));
    expect(codes(plateWrench(smooth.recording, smooth.plate, { settings }))).not.toContain("saturated");
  });
});

describe("the face of a plate", () => {
  it("is turned up where the corners were written in the other order, and said once", () => {
    const { recording, plate } = loads([800, 800]);
    const [a, b, c, d] = plate.corners;
    const turned: PlateDescription = { ...plate, corners: [d, c, b, a] };
    const wrench = plateWrench(recording, turned, { settings });
    expect(wrench.frame.normal.z).toBeCloseTo(1, 12);
    expect(codes(wrench)).toContain("corner-order");
    const asked = { code: "corner-order", severity: "caution" as const, sentence: "", remedy: "", where: { plate: 1 } };
    const again = plateWrench({ ...recording, guesses: [asked] }, turned, { settings });
    expect(codes(again)).not.toContain("corner-order");
  });
});
