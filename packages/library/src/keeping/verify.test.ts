// What verify finds on a real disk, beyond what both engines share.
import { mkdirSync, mkdtempSync, readdirSync, rmSync, statSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { random } from "@underfoot/domain";
import { simulatedFiles } from "@underfoot/pipeline";
import { afterEach, beforeEach, expect, test } from "vitest";
import { demoShots, simulateShot } from "../../../simulator/src/index.ts";
import { type Library, openLibrary, sha256Of } from "../index.ts";

const [plan, otherPlan] = demoShots({ seed: 1 });
const bytesOf = (one = plan): Uint8Array => simulatedFiles(simulateShot({ ...one!, rateHz: 200 }), "a.c3d").c3d;

let folder: string;
let library: Library;
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "underfoot-verify-"));
  library = await openLibrary({ folder, random: random(1) });
});
afterEach(async () => {
  await library.close();
  rmSync(folder, { recursive: true, force: true });
});

const HOUR_S = 3600;
function putOld(path: string, bytes: Uint8Array): void {
  mkdirSync(join(path, ".."), { recursive: true });
  writeFileSync(path, bytes);
  const { mtimeMs } = statSync(path);
  utimesSync(path, mtimeMs / 1000 - HOUR_S, mtimeMs / 1000 - HOUR_S);
}

/** Rows changed behind the library's back, without its checks. */
function behind(text: string): void {
  const raw = new DatabaseSync(join(folder, "catalogue.sqlite"), { enableForeignKeyConstraints: false });
  raw.exec(text);
  raw.close();
}

test("the recording of an import that was cut off is no fault; mending makes it a shot that waits for its facts", async () => {
  const bytes = bytesOf();
  const sha256 = sha256Of(bytes);
  const path = join(folder, "recordings", sha256.slice(0, 2), sha256);
  putOld(path, bytes);
  expect(await library.verify()).toEqual({ recordings: 0, shots: 0, findings: [], leftovers: [path] });
  expect((await library.verify({ mend: true })).leftovers).toEqual([path]);
  expect(await library.verify()).toEqual({ recordings: 1, shots: 1, findings: [], leftovers: [] });
  expect((await library.shots.find()).rows).toMatchObject([
    { recordingSha256: sha256, fileName: `found-${sha256.slice(0, 12)}` },
  ]);
});

test("what another process may still be writing is left alone: young leftovers are never mended", async () => {
  const bytes = bytesOf();
  const sha256 = sha256Of(bytes);
  const young = join(folder, "recordings", sha256.slice(0, 2), sha256);
  mkdirSync(join(young, ".."), { recursive: true });
  writeFileSync(young, bytes);
  const unfinished = join(folder, "recordings", "unfinished");
  putOld(join(unfinished, "old"), bytes.subarray(0, 100));
  writeFileSync(join(unfinished, "young"), bytes.subarray(0, 100));
  await library.verify({ mend: true });
  expect(readdirSync(unfinished)).toEqual(["young"]);
  expect((await library.verify()).leftovers).toEqual([join(unfinished, "young"), young]);
  expect((await library.shots.find()).total).toBe(0);
});

test("a leftover that is no recording, and a file with another name, are said and stay", async () => {
  const junk = new Uint8Array(300);
  const sha256 = sha256Of(junk);
  putOld(join(folder, "recordings", sha256.slice(0, 2), sha256), junk);
  putOld(join(folder, "recordings", "ab", "notes.txt"), junk);
  const { findings } = await library.verify({ mend: true });
  expect(findings.map(({ code, severity }) => `${code} ${severity}`)).toEqual([
    "library-leftover-unreadable note",
    "library-stranger note",
  ]);
});

test("rows that name what is not there, a stretch outside, facts that are no JSON", async () => {
  const { shotId } = await library.importRecording({ bytes: bytesOf(), fileName: "a.c3d" });
  const { shotId: second } = await library.importRecording({ bytes: bytesOf(otherPlan), fileName: "b.c3d" });
  behind(`update shots set player_id = 'gone', session_id = 'gone', end_sample = 999999 where id = '${shotId}'`);
  behind(`update shot_facts set facts_json = '{' where id = '${second}'`);
  const { findings } = await library.verify();
  expect(findings.map(({ code, where }) => [code, where?.shot])).toEqual([
    ["library-reference-lost", shotId],
    ["library-reference-lost", shotId],
    ["library-stretch-outside", shotId],
    ["library-facts-damaged", second],
  ]);
  for (const { severity, isMended } of findings)
    expect({ severity, isMended }).toEqual({ severity: "stop", isMended: false });
});

test("results without a shot are taken out", async () => {
  const { shotId } = await library.importRecording({ bytes: bytesOf(), fileName: "a.c3d" });
  await library.recompute({ workers: 1 });
  behind(`update results set id = 'nobody' where id = '${shotId}'`);
  expect((await library.verify({ mend: true })).findings).toMatchObject([
    { code: "library-result-damaged", isMended: true },
  ]);
  expect((await library.verify()).findings).toEqual([]);
});

test("verifying can be stopped", async () => {
  await library.importRecording({ bytes: bytesOf(), fileName: "a.c3d" });
  await expect(library.verify({ signal: AbortSignal.abort() })).rejects.toMatchObject({ code: "library-cancelled" });
});

test("recomputing can be stopped and goes on where it was", async () => {
  await library.importRecording({ bytes: bytesOf(), fileName: "a.c3d" });
  expect(await library.recompute({ signal: AbortSignal.abort() })).toMatchObject({ computed: 0, isCancelled: true });
  expect(await library.recompute({ workers: 1 })).toMatchObject({ computed: 1, isCancelled: false });
});
