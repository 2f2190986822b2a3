import { UnderfootError } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import { shotFactsFromSidecar } from "./sidecar.ts";
import { sidecarNamesFor } from "./sidecar-names.ts";
import { sidecarText } from "./sidecar-text.ts";

/** The smallest useful sidecar of docs/formats/sidecar.md; the shot is invented. */
export const SMALL = {
  underfoot: "shot",
  version: 1,
  recording: { file: "shot-017.c3d" },
  handed: "right",
  target: [0, 1, 0],
  slope: { pitch: 3, roll: 0, source: "inclinometer", sd: 0.2 },
  plates: [
    { plate: 1, foot: "trail" },
    { plate: 2, foot: "lead" },
  ],
  events: [{ event: "impact", t: 2.314, source: "signal", sd: 1 }],
  intent: "low",
  club: "58",
  keep: "kept",
};

const read = (fields: object) => shotFactsFromSidecar(JSON.stringify({ ...SMALL, ...fields }), { file: "a.shot.json" });

function faultOf(action: () => unknown): UnderfootError {
  try {
    action();
  } catch (error) {
    if (error instanceof UnderfootError) return error;
    throw error;
  }
  throw new Error("nothing was thrown");
}

describe("shotFactsFromSidecar", () => {
  it("reads the smallest useful sidecar into facts with units", () => {
    expect(shotFactsFromSidecar(JSON.stringify(SMALL))).toEqual({
      facts: {
        recordingFile: "shot-017.c3d",
        handed: "right",
        target: { x: 0, y: 1, z: 0 },
        lie: { pitchDeg: 3, rollDeg: 0, source: "inclinometer", sdDeg: 0.2 },
        plates: [
          { plate: 1, foot: "trail" },
          { plate: 2, foot: "lead" },
        ],
        feet: [],
        events: [{ event: "impact", timeS: 2.314, source: "signal", sdMs: 1 }],
        intent: "low",
        club: "58",
        keep: "kept",
      },
      findings: [],
    });
  });

  it("reads every other field", () => {
    const { facts } = read({
      recording: { file: "a.c3d", sha256: "0".repeat(64) },
      player: "P03",
      up: [0, 0, 1],
      plates: [
        {
          plate: 2,
          foot: "both",
          sense: "on-plate",
          originSign: "turned",
          type: 4,
          zero: [0, 0.5],
          clock: { offset: 0.01 },
        },
        { plate: 1, foot: "none", zero: "none" },
      ],
      feet: [
        {
          foot: "lead",
          frame: "plate",
          outline: [
            [0, 0],
            [0.1, 0],
            [0.1, 0.3, 0.01],
          ],
          heel: [0, 0],
          toe: [0.1, 0.3],
        },
      ],
      ball: [0.5, 0.2, 0.02],
      mass: { kg: 81.5, sd: 0.1, source: "scale", withClub: true },
      pad: 0.02,
      latitude: 48,
      height: 520,
      events: [{ event: "address", t: 1, from: 0.5, source: "marked" }],
      lie: "up a little",
      result: { strike: [4, -2], contact: "thin", startLine: -1, carry: 31, launch: 24, good: false },
      keep: "set-aside",
      note: "wind",
    });
    expect(facts).toMatchObject({
      recordingSha256: "0".repeat(64),
      player: "P03",
      up: { x: 0, y: 0, z: 1 },
      plates: [
        {
          plate: 2,
          foot: "both",
          sense: "on-plate",
          originSign: "turned",
          type: 4,
          zero: [0, 0.5],
          clock: { offsetS: 0.01, drift: 0, sdS: 0 },
        },
        { plate: 1, foot: "none", zero: "none" },
      ],
      feet: [
        {
          foot: "lead",
          frame: "plate",
          outline: [
            { x: 0, y: 0, z: 0 },
            { x: 0.1, y: 0, z: 0 },
            { x: 0.1, y: 0.3, z: 0.01 },
          ],
          heel: { x: 0, y: 0, z: 0 },
          toe: { x: 0.1, y: 0.3, z: 0 },
        },
      ],
      ballM: { x: 0.5, y: 0.2, z: 0.02 },
      mass: { kg: 81.5, sdKg: 0.1, source: "scale", withClub: true },
      padM: 0.02,
      latitudeDeg: 48,
      heightM: 520,
      events: [{ event: "address", timeS: 1, fromS: 0.5, source: "marked" }],
      lieName: "up a little",
      result: { strikeMm: [4, -2], contact: "thin", startLineDeg: -1, carryM: 31, launchDeg: 24, isGood: false },
      keep: "set-aside",
      note: "wind",
    });
  });

  it.each([
    [{ slope: { pitch: 45, roll: 0, sd: 1 } }, "slope.pitch is 45; it must lie between -30 and 30"],
    [{ slope: { pitch: 5, sd: 1 } }, "slope.roll is missing"],
    [{ slope: { pitch: 5, roll: 0, sd: 0 } }, "slope.sd is 0; it must be greater than 0"],
    [{ handed: "rihgt" }, 'handed is "rihgt"; it must be one of "right", "left"'],
    [{ handed: undefined }, "handed is missing"],
    [{ target: [0, 0, 0] }, "target is [0,0,0]; a direction needs a length greater than 0"],
    [{ target: [0, 1] }, "target is [0,1]; it must be a list of 3 numbers"],
    [{ target: "north" }, 'target is "north"; it must be a list of 3 numbers'],
    [{ plates: [] }, "plates has 0 entries; it must have 1 to 4 of them"],
    [{ plates: 3 }, "plates is 3; it must be a list in square brackets"],
    [{ plates: [{ plate: 1.5, foot: "lead" }] }, "plates[0].plate is 1.5; it must be a whole number"],
    [{ plates: [{ plate: 0, foot: "lead" }] }, "plates[0].plate is 0; it must be at least 1"],
    [{ plates: ["lead"] }, 'plates[0] is "lead"; it must be an object in braces'],
    [
      { plates: [{ plate: 1, foot: "lead", zero: [1] }] },
      'plates[0].zero is [1]; it must be "none" or two times in seconds, as [0, 0.5]',
    ],
    [
      { feet: [{ foot: "lead", outline: [[0, 0]] }] },
      "feet[0].outline is [[0,0]]; it must be a list of at least 3 points, each as [x, y] in m",
    ],
    [
      { feet: [{ foot: "lead", outline: [[0, 0], [1, 0], [1]] }] },
      "feet[0].outline[2] is [1]; it must be a point of 2 or 3 numbers in m",
    ],
    [{ ball: [1] }, "ball is [1]; it must be a list of 2 to 3 numbers"],
    [{ mass: { kg: 800 } }, "mass.kg is 800; it must lie between 20 and 250"],
    [{ mass: { kg: "80" } }, 'mass.kg is "80"; it must be a number'],
    [{ mass: { kg: 80, withClub: 1 } }, "mass.withClub is 1; it must be true or false"],
    [{ mass: null }, "mass is null; it must be an object in braces"],
    [{ events: [{ event: "impact", t: 1 }] }, "events[0].source is missing"],
    [
      { recording: { file: "a.c3d", sha256: "AB" } },
      'recording.sha256 is "AB"; it must be 64 lower-case hexadecimal digits',
    ],
    [{ recording: {} }, "recording.file is missing"],
    [{ player: 7 }, "player is 7; it must be a text in quotes"],
    [{ video: [{ file: "a.mp4", anchors: [] }] }, "video[0].anchors has 0 entries; it must have at least 1 of them"],
    [{ result: { good: "yes" } }, 'result.good is "yes"; it must be true or false'],
  ])("says which field is wrong, what it is and what it must be: %j", (fields, sentence) => {
    const fault = faultOf(() => read(fields));
    expect(fault.code).toBe("sidecar-field");
    expect(fault.message).toBe(`a.shot.json: ${sentence}.`);
    expect(fault.remedy).toMatch(/^Correct this field/);
    expect(fault.where).toEqual({ file: "a.shot.json" });
  });

  it("names the other faults in the remedy", () => {
    const fault = faultOf(() => read({ handed: 1, target: 2, mass: { kg: 3 } }));
    expect(fault.message).toContain("handed is 1");
    expect(fault.remedy).toContain("target is 2");
    expect(fault.remedy).toContain("mass.kg is 3");
  });

  it.each([
    ["", "sidecar-not-json", "it is empty"],
    ["{", "sidecar-not-json", "JSON"],
    ["[]", "sidecar-not-shot", "missing"],
    ["null", "sidecar-not-shot", "missing"],
    ['{"underfoot":"column-mapping","version":1}', "sidecar-not-shot", '"column-mapping"'],
    ['{"underfoot":"shot"}', "sidecar-version", "missing"],
    ['{"underfoot":"shot","version":2}', "sidecar-version", "version 2"],
  ])("refuses %j with %s", (text, code, part) => {
    const fault = faultOf(() => shotFactsFromSidecar(text));
    expect(fault.code).toBe(code);
    expect(fault.message).toContain(part);
    expect(fault.message).not.toContain("\n");
  });

  it("reads behind a byte order mark", () => {
    expect(shotFactsFromSidecar(`\uFEFF${JSON.stringify(SMALL)}`).facts.handed).toBe("right");
  });

  it("says that it took 0.2 degrees where the slope has no sd, and calls a slope without source assumed", () => {
    const { facts, findings } = read({ slope: { pitch: 3, roll: 1 } });
    expect(facts.lie).toEqual({ pitchDeg: 3, rollDeg: 1, source: "assumed", sdDeg: 0.2 });
    expect(findings.map(({ code }) => code)).toEqual(["sidecar-lie-sd"]);
  });

  it("names unknown fields at any depth, but not $schema, and keeps them all", () => {
    const { facts, findings } = read({
      $schema: "urn:underfoot:shot-sidecar:1",
      weather: { wind: 2 },
      slope: { pitch: 3, roll: 0, sd: 0.2, device: "level" },
      plates: [{ plate: 1, foot: "lead", serial: "A7", clock: { offset: 0, model: "q" } }],
    });
    expect(findings.map(({ code }) => code)).toEqual(["sidecar-unknown-field"]);
    expect(findings[0]?.sentence).toContain("weather, slope.device, plates.1");
    expect(facts.unknown).toEqual({
      $schema: "urn:underfoot:shot-sidecar:1",
      weather: { wind: 2 },
      slope: { device: "level" },
      plates: { 1: { serial: "A7", clock: { model: "q" } } },
    });
  });
});

describe("sidecarText", () => {
  it("writes back unknown fields where they stood, whatever the order of the entries", () => {
    const source = {
      ...SMALL,
      __comment: "kept",
      plates: [
        { plate: 1, foot: "trail", serial: "A7" },
        { plate: 2, foot: "lead", serial: "B2", clock: { offset: 0.1, drift: 0, sd: 0.001, model: "q" } },
      ],
      events: [
        { event: "impact", t: 2.3, source: "signal", by: "K" },
        { event: "impact", t: 2.4, source: "signal", by: "L" },
      ],
      video: [{ file: "a.mp4", anchors: [{ video: 1, plate: 2, by: "clap" }] }],
    };
    const { facts } = shotFactsFromSidecar(JSON.stringify(source));
    expect(JSON.parse(sidecarText(facts))).toEqual(source);
    const turned = JSON.parse(sidecarText({ ...facts, plates: facts.plates.toReversed() }));
    expect(turned.plates[0]).toMatchObject({ plate: 2, serial: "B2" });
  });

  it("is made for people: a point to a line, a line end at the end", () => {
    const text = sidecarText(shotFactsFromSidecar(JSON.stringify(SMALL)).facts);
    expect(text).toContain('\n  "target": [0, 1, 0],\n');
    expect(text.endsWith("}\n")).toBe(true);
  });

  it("refuses facts that could not be read again", () => {
    const { facts } = shotFactsFromSidecar(JSON.stringify(SMALL));
    expect(faultOf(() => sidecarText({ ...facts, padM: Number.NaN })).message).toBe(
      "pad is null; it must be a number.",
    );
    expect(faultOf(() => sidecarText({ ...facts, recordingSha256: "x" })).code).toBe("sidecar-field");
  });
});

describe("sidecarNamesFor", () => {
  it("looks beside the recording, first NAME.shot.json, then NAME.underfoot.json", () => {
    expect(sidecarNamesFor("shot-017.c3d")).toEqual(["shot-017.shot.json", "shot-017.underfoot.json"]);
    expect(sidecarNamesFor("a.b/shot")).toEqual(["a.b/shot.shot.json", "a.b/shot.underfoot.json"]);
    expect(sidecarNamesFor("x.y.txt")).toEqual(["x.y.shot.json", "x.y.underfoot.json"]);
  });
});
