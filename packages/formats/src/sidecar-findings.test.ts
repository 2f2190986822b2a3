import type { PlateDescription, Recording, ShotFacts } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import { sidecarFindings } from "./sidecar-findings.ts";

/** A plate of 0.4 m by 0.6 m lying level, its centre at (x, y). */
function plate(index: number, x: number, y: number, isPlaced = true): PlateDescription {
  const corner = (dx: number, dy: number) => ({ x: x + dx * 0.2, y: y + dy * 0.3, z: 0 });
  return {
    index,
    type: 2,
    channels: [],
    // Plate z points into the ground, so plate y runs against the laboratory's y.
    corners: [corner(1, -1), corner(-1, -1), corner(-1, 1), corner(1, 1)],
    isPlaced,
    originM: { x: 0, y: 0, z: 0 },
    originAsWrittenM: { x: 0, y: 0, z: 0 },
    forceToN: 1,
    momentToNm: 1,
    lengthToM: 1,
    momentUnit: "Nm",
    sense: "on-player",
    hasMoments: true,
  };
}

const RECORDING: Recording = {
  format: "c3d",
  rateHz: 1000,
  sampleCount: 3001,
  channels: [],
  plates: [plate(1, 0, 0), plate(2, 0.5, 0)],
  events: [],
  markers: [],
  about: {},
  findings: [],
  guesses: [],
};

const FACTS: ShotFacts = {
  handed: "right",
  target: { x: 1, y: 0, z: 0 },
  plates: [
    { plate: 1, foot: "trail" },
    { plate: 2, foot: "lead" },
  ],
  feet: [],
  events: [],
  keep: "kept",
};

const codes = (facts: Partial<ShotFacts>, recording = RECORDING, identity = {}) =>
  sidecarFindings({ ...FACTS, ...facts }, recording, identity).map(({ code }) => code);

describe("sidecarFindings", () => {
  it("says nothing of a sidecar that fits", () => {
    const events = [
      { event: "address", timeS: 0.5, fromS: 0, source: "marked" },
      { event: "top", timeS: 1, source: "estimated" },
      { event: "impact", timeS: 3, source: "signal" },
      { event: "impact", timeS: 2.9, source: "estimated" },
    ] as const;
    expect(codes({ events })).toEqual([]);
  });

  it("finds lead and trail the wrong way round", () => {
    expect(codes({ target: { x: -1, y: 0, z: 0 } })).toEqual(["lead-trail-swapped"]);
    const [finding] = sidecarFindings({ ...FACTS, target: { x: -1, y: 0, z: 0.2 } }, RECORDING);
    expect(finding?.sentence).toContain("500 mm farther");
  });

  it("does not ask about places where the plates have none", () => {
    const recording = { ...RECORDING, plates: [plate(1, 0, 0, false), plate(2, 0, 0, false)] };
    expect(codes({ target: { x: -1, y: 0, z: 0 } }, recording)).toEqual([]);
  });

  it("refuses a target along the plates' normal", () => {
    expect(codes({ target: { x: 0.01, y: 0, z: -1 } })).toEqual(["sidecar-target-normal"]);
    expect(codes({ target: { x: 0.2, y: 0, z: -1 } })).toEqual([]);
  });

  it("finds plates that the recording lacks, plates named twice, feet on two plates", () => {
    expect(codes({ plates: [{ plate: 3, foot: "lead" }] })).toEqual(["sidecar-plate-missing"]);
    const twice = [
      { plate: 1, foot: "lead" },
      { plate: 1, foot: "trail" },
    ] as const;
    expect(codes({ plates: twice })).toEqual(["sidecar-plate-twice"]);
    const two = [
      { plate: 1, foot: "trail" },
      { plate: 2, foot: "trail" },
    ] as const;
    expect(codes({ plates: two })).toEqual(["sidecar-foot-twice"]);
    const both = [
      { plate: 1, foot: "both" },
      { plate: 2, foot: "lead" },
    ] as const;
    expect(codes({ plates: both })).toEqual(["sidecar-foot-twice"]);
  });

  it("finds events outside the recording, out of order, twice, and a window that ends before it begins", () => {
    expect(codes({ events: [{ event: "impact", timeS: 3.001, source: "marked" }] })).toEqual(["sidecar-event-outside"]);
    expect(codes({ events: [{ event: "impact", timeS: -0.001, source: "marked" }] })).toEqual([
      "sidecar-event-outside",
    ]);
    const order = [
      { event: "impact", timeS: 1, source: "marked" },
      { event: "top", timeS: 2, source: "marked" },
    ] as const;
    expect(codes({ events: order })).toEqual(["sidecar-event-order"]);
    const twice = [
      { event: "top", timeS: 1, source: "marked" },
      { event: "top", timeS: 2, source: "marked" },
    ] as const;
    expect(codes({ events: twice })).toEqual(["sidecar-event-twice"]);
    expect(codes({ events: [{ event: "address", timeS: 1, fromS: 2, source: "marked" }] })).toEqual([
      "sidecar-address-window",
    ]);
  });

  it("allows an outline 2 cm beyond the plate and no more, in both frames", () => {
    const outline = (reach: number, x0: number) =>
      [
        [-0.1, 0],
        [reach, 0.1],
        [0.1, -0.1],
      ].map(([x, y]) => ({ x: (x ?? 0) + x0, y: y ?? 0, z: 0 }));
    const foot = (frame: "lab" | "plate", reach: number) =>
      codes({ feet: [{ foot: "lead", frame, outline: outline(reach, frame === "lab" ? 0.5 : 0) }] });
    expect(foot("lab", 0.219)).toEqual([]);
    expect(foot("lab", 0.221)).toEqual(["outline-off-plate"]);
    expect(foot("plate", 0.219)).toEqual([]);
    expect(foot("plate", 0.221)).toEqual(["outline-off-plate"]);
  });

  it("tells another recording by its bytes, else by its name", () => {
    const sha256 = "a".repeat(64);
    const other = "b".repeat(64);
    expect(codes({ recordingFile: "a.c3d" }, RECORDING, { file: "dir/b.c3d" })).toEqual(["sidecar-other-recording"]);
    expect(codes({ recordingFile: "a.c3d" }, RECORDING, { file: "dir/a.c3d" })).toEqual([]);
    expect(codes({ recordingFile: "a.c3d", recordingSha256: sha256 }, RECORDING, { file: "b.c3d", sha256 })).toEqual(
      [],
    );
    expect(
      codes({ recordingFile: "a.c3d", recordingSha256: sha256 }, RECORDING, { file: "a.c3d", sha256: other }),
    ).toEqual(["sidecar-other-recording"]);
  });
});
