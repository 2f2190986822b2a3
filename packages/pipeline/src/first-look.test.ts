import { STANDARD_GRAVITY_M_PER_S2 } from "@underfoot/domain";
import { type ColumnMapping, mappingProposal, recordingFromBytes, textSniff } from "@underfoot/formats";
import { demoShots, simulateShot } from "@underfoot/simulator";
import { describe, expect, test } from "vitest";
import { firstKind, firstLook, type LookedFile } from "./first-look.ts";
import { stanceLie } from "./quiet-stance.ts";
import { simulatedFiles } from "./simulated-files.ts";

const plans = demoShots({ seed: 1 });
const onSlope = plans.find(({ lie }) => Math.abs(lie.pitchDeg) > 2) ?? plans[0];
if (onSlope === undefined) throw new Error("no demo shot");
const shot = simulateShot(onSlope);
const files = simulatedFiles(shot, "shot.c3d");

function looked(question: Parameters<typeof firstLook>[0]): LookedFile {
  const look = firstLook(question);
  if (look.status === "error") throw new Error(look.sentence);
  return look;
}

/** Two plates side by side, forces of the ground on a player of 700 N, written as a table in another order of plates. */
function table({ names = NAMES, weightN = 700, rows = 1500 } = {}): Uint8Array {
  const lines = Array.from({ length: rows }, (_, i) => {
    const wobble = Math.sin(i / 9) * 0.4;
    const share = [0.45, 0.55];
    return [
      (i / 500).toFixed(3),
      ...share.flatMap((part) => [
        (2 + wobble).toFixed(2),
        (-3 + wobble).toFixed(2),
        (weightN * part + wobble).toFixed(2),
        (10 * part).toFixed(1),
        (-8).toFixed(1),
      ]),
    ].join(";");
  });
  return new TextEncoder().encode(`${names.join(";")}\n${lines.join("\n")}\n`);
}
const NAMES = [
  "Time [s]",
  "Fx1 [N]",
  "Fy1 [N]",
  "Fz1 [N]",
  "Px1 [mm]",
  "Py1 [mm]",
  "Fx2 [N]",
  "Fy2 [N]",
  "Fz2 [N]",
  "Px2 [mm]",
  "Py2 [mm]",
];

describe("firstLook at a C3D file", () => {
  const look = looked({ bytes: files.c3d, file: "shot.c3d", sidecarText: files.sidecar });

  test("shows a guess and a reason for every channel, from the plates' list of channels", () => {
    expect(look.columns.length).toBe(shot.recording.channels.length);
    const onPlates = look.columns.filter(({ guess }) => guess.plate !== undefined);
    expect(onPlates.length).toBe(shot.recording.plates.flatMap(({ channels }) => channels).length);
    for (const { why } of look.columns) expect(why).not.toBe("");
  });

  test("traces the first second of a channel with its least and largest value, in at most 120 points", () => {
    const { channels, rateHz } = recordingFromBytes(files.c3d, { file: "shot.c3d" });
    look.columns.forEach((column, k) => {
      const second = [...(channels[k]?.values.subarray(0, rateHz) ?? [])];
      expect(column.trace.length).toBeLessThanOrEqual(120);
      expect([Math.min(...column.trace), Math.max(...column.trace)]).toEqual([
        Math.min(...second),
        Math.max(...second),
      ]);
      expect([column.least, column.largest]).toEqual([Math.min(...second), Math.max(...second)]);
    });
  });

  test("weighs the player in the quiet stance as the simulator made them", () => {
    // The simulator's own mass, its sensors' errors included: gains of the order of 1 %.
    const massKg = shot.facts.mass?.kg ?? Number.NaN;
    expect(Math.abs((look.stance?.massKg ?? 0) / massKg - 1)).toBeLessThan(0.02);
    expect(look.stance?.weightN).toBeCloseTo((look.stance?.massKg ?? 0) * STANDARD_GRAVITY_M_PER_S2, 9);
    expect(look.findings.filter(({ code }) => code.startsWith("stance"))).toEqual([]);
  });

  test("tells the lie from the lean of the stance, within the usual lean of a person who stands", () => {
    if (look.stance === undefined || look.facts === undefined) throw new Error("no stance");
    const lie = stanceLie(look.stance, look.facts);
    expect(Math.abs(lie.pitchDeg - onSlope.lie.pitchDeg)).toBeLessThan(0.7);
    expect(Math.abs(lie.rollDeg - onSlope.lie.rollDeg)).toBeLessThan(0.7);
  });

  test("says what is wrong with a sidecar and still shows the columns", () => {
    const broken = looked({ bytes: files.c3d, file: "shot.c3d", sidecarText: "{ handed" });
    expect(broken.columns.length).toBe(look.columns.length);
    expect(broken.facts).toBeUndefined();
    expect(broken.findings.map(({ code }) => code)).toContain("sidecar-not-json");
  });
});

describe("firstLook at delimited text", () => {
  test("tries the proposal and shows the stance that follows from it", () => {
    const look = looked({ bytes: table(), file: "a.csv" });
    expect(look.refusal).toBeUndefined();
    expect(look.rateHz).toBeCloseTo(500, 6);
    expect(look.stance?.weightN).toBeCloseTo(700, 0);
    expect(look.stance?.plates.map(({ loadN }) => Math.round(loadN / 5) * 5)).toEqual([315, 385]);
    expect(look.columns.map(({ guess }) => guess.part)).toEqual([
      "time",
      ..."12".split("").flatMap(() => ["Fx", "Fy", "Fz", "Px", "Py"]),
    ]);
    expect(look.columns[3]).toMatchObject({ guess: { plate: 1, axis: "+z", unit: "N" }, least: expect.any(Number) });
    expect(look.questions.map(({ code }) => code)).toContain("ask-sense");
  });

  test("recomputes the stance with the mapping that is given", () => {
    const bytes = table({ names: NAMES.map((name) => name.replace(" [N]", "")) });
    const first = looked({ bytes, file: "a.csv" });
    expect(first.stance).toBeUndefined();
    expect(first.refusal?.code).toBe("no-unit");
    const { mapping } = mappingProposal(textSniff(bytes));
    const inKgf = (plate: ColumnMapping["plates"][number]) => ({
      ...plate,
      force: plate.force.map((column) => ({ ...column, unit: "kgf" })),
    });
    const second = looked({ bytes, file: "a.csv", mapping: { ...mapping, plates: mapping.plates.map(inKgf) } });
    // 700 kgf: the picture shows that this cannot be right. 1 kgf = 9.80665 N exactly (3rd CGPM, 1901).
    expect(second.stance?.weightN).toBeCloseTo(700 * 9.80665, -1);
    expect(second.findings.map(({ code }) => code)).toContain("stance-weight");
    expect(second.columns[1]?.why).toBe("by its name; no unit is written; now said here");
  });

  test("doubts a stance that leans because two axes were mixed up", () => {
    const { mapping } = mappingProposal(textSniff(table()));
    const turned = mapping.plates.map((plate) => ({
      ...plate,
      force: plate.force.map((column) => ({
        ...column,
        axis: ({ "+x": "+z", "+y": "+y", "+z": "+x" } as const)[column.axis as "+x" | "+y" | "+z"],
      })),
    }));
    const look = looked({ bytes: table(), file: "a.csv", mapping: { ...mapping, up: "+z", plates: turned } });
    expect(look.findings.map(({ code }) => code)).toEqual(expect.arrayContaining([expect.stringMatching(/^stance-/)]));
    expect(look.columns.map(({ why }) => why === "said here")).toEqual(
      NAMES.map((name) => name.startsWith("Fx") || name.startsWith("Fz")),
    );
  });

  test("shows the columns of a text whose names say nothing", () => {
    const names = NAMES.map((_, k) => `value ${String.fromCharCode(97 + k)}`);
    const look = looked({ bytes: table({ names }), file: "a.csv" });
    expect(look.columns).toHaveLength(11);
    expect(look.stance).toBeUndefined();
    expect(look.refusal?.sentence).toBeTruthy();
    expect(look.columns[4]?.trace.some(Number.isFinite)).toBe(true);
  });
});

describe("what is no recording", () => {
  test.each([
    ["notes.txt", "Shot 7: thin, left.\nShot 8: better.\n"],
    ["empty.csv", ""],
    ["prose.c3d", "Shot 7: thin, left.\n"],
  ])("%s comes back as a sentence with what to do", (file, text) => {
    const bytes = new TextEncoder().encode(text);
    for (const look of [firstLook({ bytes, file }), firstKind({ bytes, file, isWhole: true })]) {
      expect(look).toMatchObject({
        status: "error",
        sentence: expect.stringMatching(/\.$/),
        remedy: expect.any(String),
      });
    }
  });

  test("the kind of a file is the same from its head and from its look", () => {
    const head = files.c3d.subarray(0, 65_536);
    expect(firstKind({ bytes: head, file: "shot.c3d", isWhole: false })).toMatchObject({
      status: "known",
      key: looked({ bytes: files.c3d, file: "shot.c3d" }).key,
    });
  });
});
