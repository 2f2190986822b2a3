import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Column, random, type Samples } from "@underfoot/domain";
import { c3dBytes, columnMappingFromText, shotFactsFromSidecar } from "@underfoot/formats";
import { simulatedFiles } from "@underfoot/pipeline";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { demoShots, type SimulatedShot, simulateShot } from "../../../simulator/src/index.ts";
import { type BringInRequest, type Library, openLibrary } from "../index.ts";

const plans = demoShots({ seed: 1 });

/** Shots of one session as one recording, one after the other without a gap. */
function oneRecordingOf(shots: readonly SimulatedShot[]): SimulatedShot {
  const [first] = shots;
  if (!first) throw new RangeError("no shots");
  const joined = (parts: readonly Samples[]): Column => Float64Array.from(parts.flatMap((part) => Array.from(part)));
  const { recording } = first;
  return {
    ...first,
    recording: {
      ...recording,
      sampleCount: shots.length * recording.sampleCount,
      channels: recording.channels.map((channel, k) => ({
        ...channel,
        values: joined(shots.map((shot) => shot.recording.channels[k]?.values ?? [])),
      })),
    },
    raw: first.raw.map((plate, k) => ({
      ...plate,
      columns: plate.columns.map((_, c) => joined(shots.map((shot) => shot.raw[k]?.columns[c] ?? []))),
    })),
  };
}

function sample(k = 0): BringInRequest & { readonly sidecarText: string } {
  const plan = plans[k];
  if (!plan) throw new RangeError(`no shot ${k}`);
  const fileName = `${plan.name}.c3d`;
  const { c3d, sidecar } = simulatedFiles(simulateShot({ ...plan, durationS: 4.5 }), fileName);
  return { bytes: c3d, fileName, sidecarText: sidecar };
}

const codeOf = (fault: unknown): unknown => (fault instanceof Error && "code" in fault ? fault.code : fault);

describe("bringing one file in", () => {
  let folder: string;
  let library: Library;

  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), "underfoot-bring-in-"));
    let nowMs = Date.UTC(2026, 2, 9, 12);
    library = await openLibrary({ folder, clock: () => nowMs++, random: random(3, "bring in"), who: "Test coach" });
  });
  afterEach(async () => {
    await library.close();
    rmSync(folder, { recursive: true });
  });

  test("takes its facts from the sidecar, its player by code, and is known the second time", async () => {
    const first = await library.bringIn(sample());
    expect(first.shots).toMatchObject([{ isDuplicate: false, addedPlayerCode: "Player A" }]);
    const [shot] = first.shots;
    const stored = await library.shots.byId(shot?.shotId ?? "");
    expect(stored).toMatchObject({ intent: "stock", playerCode: "Player A", stretch: { first: 0, end: 4500 } });
    const again = await library.bringIn({ ...sample(), fileName: "another name.c3d" });
    expect(again.shots).toEqual([
      { shotId: shot?.shotId, playerId: shot?.playerId, isDuplicate: true, stretch: { first: 0, end: 4500 } },
    ]);
    expect(again.recordingSha256).toBe(first.recordingSha256);
    expect((await library.shots.find()).total).toBe(1);
  });

  test("a shot that was taken out says that it is back, and tells the page", async () => {
    const [shot] = (await library.bringIn(sample())).shots;
    const [brought] = await library.shots.history(shot?.shotId ?? "");
    await library.undo(brought?.id ?? "");
    const told: string[] = [];
    const stop = library.changes(({ deed }) => told.push(deed));
    const again = await library.bringIn(sample());
    stop();
    expect(again.shots).toMatchObject([{ shotId: shot?.shotId, isDuplicate: true, isBroughtBack: true }]);
    expect(told).toHaveLength(1);
    expect((await library.shots.find()).total).toBe(1);
    expect((await library.bringIn(sample())).shots[0]).not.toHaveProperty("isBroughtBack");
  });

  test("a trial answers the same and stores nothing", async () => {
    const trial = await library.bringIn({ ...sample(), isDryRun: true, isSessionOfDay: true });
    expect(trial.shots).toEqual([
      { isDuplicate: false, stretch: { first: 0, end: 4500 }, addedPlayerCode: "Player A" },
    ]);
    expect((await library.shots.find()).total).toBe(0);
    expect(await library.players.list()).toEqual([]);
    expect(await library.history()).toEqual([]);
    expect(readdirSync(join(folder, "recordings"))).toEqual([]);
    const done = await library.bringIn(sample());
    expect(done.recordingSha256).toBe(trial.recordingSha256);
    expect((await library.bringIn({ ...sample(), isDryRun: true })).shots).toMatchObject([{ isDuplicate: true }]);
  });

  test("cuts several shots out of one recording, each with its own part of the facts", async () => {
    const shots = [0, 1, 3].map((k) => simulateShot({ ...plans[k]!, sessionSeed: 5 }));
    const { c3d, sidecar } = simulatedFiles(oneRecordingOf(shots), "whole.c3d");
    const facts = { ...shotFactsFromSidecar(sidecar).facts, result: { carryM: 30 } };
    const lengthS = 6;
    const impactsS = shots.map((shot, k) => k * lengthS + shot.truth.events.impact);
    const topsS = shots.map((shot, k) => k * lengthS + shot.truth.events.top);
    const marked = topsS.map((timeS) => ({ event: "top" as const, timeS, source: "marked" as const, sdMs: 6 }));
    const request = { bytes: c3d, fileName: "whole.c3d", facts: { ...facts, events: marked }, isSessionOfDay: true };
    const { shots: found } = await library.bringIn(request);
    expect(found).toHaveLength(3);
    for (const [k, { shotId, stretch, impactS }] of found.entries()) {
      const startS = stretch.first / 1000;
      expect(impactsS[k]).toBeGreaterThan(startS);
      expect(impactsS[k]).toBeLessThan(stretch.end / 1000);
      expect(impactS).toBeCloseTo(impactsS[k] ?? Number.NaN, 2);
      const stored = await library.shots.byId(shotId ?? "");
      expect(stored.ordinal).toBe(k + 1);
      expect(stored.facts?.events.map(({ timeS }) => timeS)).toEqual([
        expect.closeTo((topsS[k] ?? Number.NaN) - startS, 6),
      ]);
      expect(stored.carryM).toBeUndefined();
    }
    expect((await library.recompute()).computed).toBe(3);
    expect((await library.shots.find({ leastSeverity: "stop" })).total).toBe(0);
    const again = await library.bringIn(request);
    expect(again.shots.map(({ shotId, isDuplicate }) => [shotId, isDuplicate])).toEqual(
      found.map(({ shotId }) => [shotId, true]),
    );
  });

  test("one session for each player and day, opened once, with the shots in order", async () => {
    for (const [k, day] of [
      [0, "2026-03-09"],
      [1, "2026-03-09"],
      [2, "2026-03-10"],
      [16, "2026-03-09"],
    ] as const)
      await library.bringIn({ ...sample(k), day, isSessionOfDay: true });
    const { rows } = await library.sessions.list();
    expect(rows.map(({ day, playerCode, shotCount }) => [day, playerCode, shotCount]).sort()).toEqual([
      ["2026-03-09", "Player A", 2],
      ["2026-03-09", "Player B", 1],
      ["2026-03-10", "Player A", 1],
    ]);
    const [opened] = (await library.history()).filter(({ deed }) => deed.startsWith("opened a session on 2026-03-10"));
    expect(opened).toBeDefined();
  });

  test("without a player no session is made up", async () => {
    const { bytes, fileName } = sample();
    const { shots, findings } = await library.bringIn({ bytes, fileName, isSessionOfDay: true });
    expect(shots[0]?.sessionId).toBeUndefined();
    expect(findings.map(({ code }) => code)).toContain("bring-in-no-player");
    expect((await library.sessions.list()).total).toBe(0);
  });

  test("a sidecar that names another player than the session's is noticed", async () => {
    const player = await library.players.add({ code: "P01", handed: "right", pronoun: "she", consent: "none" });
    const session = await library.sessions.add({ playerId: player.id, day: "2026-03-09" });
    const { shots, findings } = await library.bringIn({ ...sample(), sessionId: session.id });
    expect(shots).toMatchObject([{ sessionId: session.id, playerId: player.id }]);
    expect(findings.map(({ code }) => code)).toContain("bring-in-other-player");
    expect((await library.players.list()).map(({ code }) => code)).toEqual(["P01"]);
  });

  test("facts that come later reach a shot that had none; facts that were said stay", async () => {
    const { bytes, fileName, sidecarText } = sample();
    const [first] = (await library.bringIn({ bytes, fileName })).shots;
    expect(
      (await library.bringIn({ bytes, fileName, sidecarText, isDryRun: true })).shots[0]?.gotFacts,
    ).toBeUndefined();
    expect((await library.bringIn({ bytes, fileName, sidecarText })).shots).toMatchObject([
      { shotId: first?.shotId, isDuplicate: true, gotFacts: true },
    ]);
    await library.shots.note(first?.shotId ?? "", "thin");
    const [third] = (await library.bringIn({ bytes, fileName, sidecarText })).shots;
    expect(third?.gotFacts).toBeUndefined();
    expect((await library.shots.byId(first?.shotId ?? "")).facts?.note).toBe("thin");
  });

  test("a recording whose file was lost is put back by bringing it in again", async () => {
    const { recordingSha256 } = await library.bringIn(sample());
    rmSync(join(folder, "recordings", recordingSha256.slice(0, 2), recordingSha256));
    await expect(library.recordingBytes(recordingSha256)).rejects.toMatchObject({ code: "library-recording-lost" });
    expect((await library.bringIn(sample())).shots).toMatchObject([{ isDuplicate: true }]);
    expect((await library.recordingBytes(recordingSha256)).length).toBe(sample().bytes.length);
  });

  test("what is no shot is refused with a code of its own, and nothing of it stays", async () => {
    const values = Float64Array.from({ length: 200 }, (_, i) => i);
    const plateless = c3dBytes({ rateHz: 100, plates: [], extras: [{ label: "heart", unit: "mV", values }] });
    const { bytes, fileName } = sample();
    const cut = bytes.subarray(0, Math.floor(bytes.length / 2));
    const refused: readonly (readonly [BringInRequest, string])[] = [
      [{ bytes: plateless, fileName: "heart.c3d" }, "bring-in-no-plates"],
      [{ bytes: cut, fileName }, "bring-in-cut-off"],
      [{ bytes: new TextEncoder().encode("t;Fz\n0;1\n1;2\n2;3\n"), fileName: "t.csv" }, "bring-in-no-mapping"],
      [{ bytes, fileName, sidecarText: "{ handed" }, "sidecar-not-json"],
      [{ bytes, fileName, sessionId: "s1" }, "library-not-there"],
      [{ bytes, fileName, signal: AbortSignal.abort() }, "library-cancelled"],
    ];
    for (const [request, code] of refused)
      expect(await library.bringIn(request).then(() => "taken", codeOf), code).toBe(code);
    expect((await library.shots.find()).total).toBe(0);
    expect(await library.history()).toEqual([]);
    expect(readdirSync(join(folder, "recordings"))).toEqual([]);
    expect((await library.bringIn({ bytes: cut, fileName, isCutOffTaken: true })).shots).toHaveLength(1);
  });
});

describe("mappings by name", () => {
  const text = (columns: string): string =>
    JSON.stringify({
      ...{ underfoot: "column-mapping", version: 1, name: "bay", match: { columns: columns.split(" ") }, text: {} },
      time: { column: "t", unit: "s" },
      plates: [
        {
          ...{ plate: "both", gives: "force", moment: [], cop: [] },
          force: columns
            .split(" ")
            .slice(1)
            .map((column, k) => ({ column, unit: "N", axis: ["+z", "+x", "+y"][k] })),
        },
      ],
      extra: [],
    });
  const rows = (head: string): Uint8Array =>
    new TextEncoder().encode(
      `${head.replaceAll(" ", ";")}\n${Array.from({ length: 400 }, (_, i) => [i / 200, 700 + (i % 7), 5, -3].slice(0, head.split(" ").length).join(";")).join("\n")}\n`,
    );

  test("kept, listed, changed, undone and removed like any setting; the one that fits is taken by itself", async () => {
    const folder = mkdtempSync(join(tmpdir(), "underfoot-mappings-"));
    const library = await openLibrary({ folder });
    try {
      const wide = columnMappingFromText(text("t Fz Fx Fy"));
      await library.mappings.keep("bay 1", wide);
      await library.mappings.keep("other", columnMappingFromText(text("t load")));
      expect((await library.mappings.list()).map(({ name }) => name)).toEqual(["bay 1", "other"]);
      expect(await library.mappings.byName("bay 1")).toEqual({ ...wide, name: "bay 1" });
      const brought = await library.bringIn({ bytes: rows("t Fz Fx Fy"), fileName: "a.csv" });
      expect(brought.mappingName).toBe("bay 1");
      expect((await library.shots.byId(brought.shots[0]?.shotId ?? "")).mapping?.plates).toHaveLength(1);
      await expect(
        library.bringIn({ bytes: rows("t Fz Fx Fy"), fileName: "b.csv", mappingName: "none" }),
      ).resolves.toMatchObject({ shots: [{ isDuplicate: true }] });
      await expect(
        library.bringIn({ bytes: rows("t load Fx"), fileName: "c.csv", mappingName: "bay 1" }),
      ).rejects.toMatchObject({ code: "mapping-mismatch" });
      await library.mappings.remove("bay 1");
      await expect(library.mappings.byName("bay 1")).rejects.toMatchObject({ code: "library-not-there" });
      const [last] = await library.history();
      await library.undo(last?.id ?? "");
      expect((await library.mappings.byName("bay 1")).name).toBe("bay 1");
      await expect(library.mappings.keep("", wide)).rejects.toMatchObject({ code: "library-wrong" });
    } finally {
      await library.close();
      rmSync(folder, { recursive: true });
    }
  });
});
