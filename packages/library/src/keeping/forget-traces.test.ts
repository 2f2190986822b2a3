// Nothing of a forgotten person may be left in any byte of the library's folder.
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { random } from "@underfoot/domain";
import { shotFactsFromSidecar } from "@underfoot/formats";
import { simulatedFiles } from "@underfoot/pipeline";
import { expect, test } from "vitest";
import { demoShots, simulateShot } from "../../../simulator/src/index.ts";
import { openLibrary } from "../index.ts";

/** Words that stand nowhere but in what is said of this person. All invented. */
const TRACES = [
  "Quendolyn Xarravane",
  "PZ9-TRACE",
  "left-knee-remark-71",
  "her-file-name-93",
  "shoe-brandless-44",
  "typo-corrected-52",
  "outline-word-61",
  "plan-word-88",
];

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .map((name) => join(folder, name))
    .filter((path) => statSync(path).isFile());
}

function tracesIn(folder: string): string[] {
  return filesBelow(folder).flatMap((path) => {
    const bytes = readFileSync(path);
    return TRACES.filter((word) => bytes.includes(word)).map((word) => `${word} in ${path}`);
  });
}

test("a forgotten person leaves no byte in the folder: rows, indexes, history, freed pages, log, recordings, daily backups", async () => {
  const folder = mkdtempSync(join(tmpdir(), "underfoot-forget-"));
  const library = await openLibrary({ folder, random: random(3) });
  try {
    const player = await library.players.add({
      code: "PZ9-TRACE",
      name: "Quendolyn Xarravane",
      handed: "left",
      pronoun: "she",
      consent: "study",
      notes: "typo",
    });
    await library.players.change(player.id, { notes: "typo-corrected-52", shoes: "shoe-brandless-44" });
    await library.players.addOutline(
      player.id,
      { foot: "lead", frame: "plate", outline: [{ x: 0, y: 0, z: 0 }] },
      { shoes: "outline-word-61" },
    );
    const other = await library.players.add({ code: "P02", handed: "right", pronoun: "he", consent: "none" });
    const session = await library.sessions.add({ playerId: player.id, day: "2026-03-09", note: "plan-word-88" });
    const theirs = await library.sessions.add({ playerId: other.id, day: "2026-03-09" });
    const shots = demoShots({ seed: 1 }).slice(0, 6);
    for (const [k, plan] of shots.entries()) {
      const { c3d, sidecar } = simulatedFiles(simulateShot(plan), "a.c3d");
      const { facts } = shotFactsFromSidecar(sidecar);
      const isHers = k % 2 === 0;
      const shot = await library.importRecording({
        ...{ bytes: c3d, facts: isHers ? { ...facts, note: "left-knee-remark-71" } : facts },
        ...{ fileName: isHers ? `her-file-name-93-${k}.c3d` : `${k}.c3d`, sessionId: isHers ? session.id : theirs.id },
      });
      await library.shots.label(shot.shotId, "mishit");
      if (isHers) await library.shots.note(shot.shotId, "left-knee-remark-71, better");
    }
    await library.recompute({ workers: 1 });
    await library.settings.set("last chosen", { player: "PZ9-TRACE" });
    await library.dailyBackup();
    expect(new Set(tracesIn(folder).map((trace) => trace.split(" in ")[0]))).toEqual(new Set(TRACES));

    const done = await library.forget(player.id);
    expect(done).toMatchObject({
      shots: 3,
      sessions: 1,
      footOutlines: 1,
      recordings: 3,
      isScrubbed: true,
      settings: ["last chosen"],
    });
    expect(done.backups).toHaveLength(1);
    expect(tracesIn(folder)).toEqual([]);
    await library.close();
    expect(tracesIn(folder)).toEqual([]);
    const later = await openLibrary({ folder });
    expect((await later.shots.find()).total).toBe(3);
    expect(await later.verify()).toMatchObject({ findings: [], leftovers: [] });
    await later.close();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

test("where another program is reading, freed pages wait for the next opening, and then nothing is left", async () => {
  const folder = mkdtempSync(join(tmpdir(), "underfoot-forget-"));
  const { DatabaseSync } = await import("node:sqlite");
  try {
    const library = await openLibrary({ folder, random: random(3) });
    const player = await library.players.add({ code: "PZ9-TRACE", handed: "left", pronoun: "she", consent: "study" });
    const reader = new DatabaseSync(join(folder, "catalogue.sqlite"));
    reader.exec("begin");
    reader.prepare("select * from players").all();
    expect(await library.forget(player.id)).toMatchObject({ isScrubbed: false });
    reader.exec("commit");
    reader.close();
    await library.close();
    const later = await openLibrary({ folder });
    expect(tracesIn(folder)).toEqual([]);
    await later.close();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
