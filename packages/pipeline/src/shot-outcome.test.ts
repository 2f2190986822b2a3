import { type ShotFacts, VERSION } from "@underfoot/domain";
import { demoShots, type SimulatedShot, simulateShot } from "@underfoot/simulator";
import { beforeAll, describe, expect, test } from "vitest";
import { answer } from "./answer.ts";
import { shotOutcome } from "./shot-outcome.ts";
import { simulatedFiles } from "./simulated-files.ts";

let shot: SimulatedShot;
let c3d: Uint8Array;
let sidecar: string;

beforeAll(() => {
  const plan = demoShots({ seed: 3 }).find(({ lie }) => lie.pitchDeg === 5)!;
  shot = simulateShot(plan);
  ({ c3d, sidecar } = simulatedFiles(shot, "chip.c3d"));
});

describe("from bytes to measures", () => {
  test("a recording with its sidecar gives curves, measures and how they were made", () => {
    const outcome = shotOutcome({ bytes: c3d, file: "chip.c3d", sidecarText: sidecar, sha256: "ab" });
    if (outcome.status !== "ok") throw new Error(outcome.status);
    expect(outcome.provenance).toMatchObject({ software: "Underfoot", version: VERSION, sourceSha256: "ab" });
    expect(outcome.shot.sampleCount).toBe(shot.recording.sampleCount);
    const truth = new Map(shot.truth.measures.map(({ id, axes, value }) => [`${id} ${axes ?? ""}`, value]));
    const speed = outcome.measures.find(({ id, axes }) => id === "both.speedTarget.at.impact" && axes === "turf")!;
    expect(Math.abs(speed.value - truth.get("both.speedTarget.at.impact turf")!)).toBeLessThan(4 * speed.sigma);
  });

  test("the page's worker and the command get the same answer", () => {
    const question = { bytes: c3d, file: "chip.c3d", sidecarText: sidecar };
    expect(answer({ kind: "shot", id: 7, ...question })).toEqual({
      kind: "shot",
      id: 7,
      outcome: shotOutcome(question),
    });
  });

  test("a mark replaces the estimate, and everything that hangs on it is computed anew", () => {
    const before = shotOutcome({ bytes: c3d, file: "chip.c3d", sidecarText: sidecar });
    const marked = shotOutcome({
      bytes: c3d,
      file: "chip.c3d",
      sidecarText: sidecar,
      marks: [{ event: "delivery", timeS: shot.truth.events.delivery - 0.02, sdMs: 4 }],
    });
    if (before.status !== "ok" || marked.status !== "ok") throw new Error("no shot");
    const delivery = marked.shot.events.find(({ event }) => event === "delivery")!;
    expect(delivery).toMatchObject({ source: "marked", sigmaMs: 4 });
    const share = (outcome: typeof before): number =>
      outcome.measures.find(({ id }) => id === "lead.share.at.delivery")!.value;
    expect(share(marked)).not.toBeCloseTo(share(before), 1);
  });

  test("a mark out of order is refused with the reason", () => {
    const outcome = shotOutcome({
      bytes: c3d,
      file: "chip.c3d",
      sidecarText: sidecar,
      marks: [{ event: "top", timeS: 5.9, sdMs: 4 }],
    });
    expect(outcome).toMatchObject({ status: "error", code: "mark-out-of-order" });
  });
});

describe("without a sidecar", () => {
  test("loads, pressure per plate and weight are given, and what is missing is said", () => {
    const outcome = shotOutcome({ bytes: c3d, file: "chip.c3d" });
    if (outcome.status !== "needs-facts") throw new Error(outcome.status);
    expect(outcome.findings.map(({ code }) => code)).toContain("sidecar-missing");
    const weight = outcome.measures.find(({ id }) => id === "both.weight.mean")!;
    // Static law: along the normal of a 5 degree slope a standing player weighs W cos 5°.
    expect(Math.abs(weight.value - shot.truth.weightN * Math.cos((5 * Math.PI) / 180))).toBeLessThan(4 * weight.sigma);
    for (const { loadN, copM } of outcome.loads) expect(loadN.length).toBe(copM.x.length);
  });
});

describe("bad input is an outcome, not an exception", () => {
  const facts = (): ShotFacts => shot.facts;
  test.each<[string, () => Parameters<typeof shotOutcome>[0], string]>([
    ["nothing", () => ({ bytes: new Uint8Array(), file: "x.c3d" }), "empty"],
    ["a sidecar that is not JSON", () => ({ bytes: c3d, file: "x.c3d", sidecarText: "{" }), "sidecar-not-json"],
    [
      "no plate of the recording used",
      () => ({ bytes: c3d, file: "x.c3d", facts: { ...facts(), plates: [{ plate: 9, foot: "lead" }] } }),
      "plate-unknown",
    ],
    [
      "a slope nobody can stand on",
      () => ({
        bytes: c3d,
        file: "x.c3d",
        facts: { ...facts(), lie: { pitchDeg: 40, rollDeg: 0, source: "inclinometer", sdDeg: 0.2 } },
      }),
      "lie-too-steep",
    ],
  ])("%s", (_, question, code) => {
    const outcome = shotOutcome(question());
    expect(outcome).toMatchObject({ status: "error", code });
    if (outcome.status === "error") expect(outcome.remedy.length).toBeGreaterThan(10);
  });
});
