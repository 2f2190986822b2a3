import { mkdirSync, mkdtempSync, readdirSync, rmSync, symlinkSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { simulatedFiles } from "@underfoot/pipeline";
import { demoShots, simulateShot } from "@underfoot/simulator";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { badFiles, dataStart } from "../bad-recordings.ts";
import { ran } from "../command.ts";
import { type CommandEnd, underfoot, underfootStarted } from "../command-process.ts";
import { UsageFault } from "../usage-fault.ts";
import { importRecordings } from "./import.ts";

const GOOD = 163;
const BAD = 37;

let root: string;
const at = (...names: string[]): string => join(root, ...names);

const sounds = demoShots({ seed: 1 })
  .slice(0, 3)
  .map((plan) => simulatedFiles(simulateShot({ ...plan, durationS: 4.5 }), `${plan.name}.c3d`));

/** A sound recording like no other: one number of it differs by the last bit. */
function soundFile(k: number): { readonly c3d: Uint8Array; readonly sidecar: string } {
  const { c3d, sidecar } = sounds[k % sounds.length]!;
  const copy = Uint8Array.from(c3d);
  copy[dataStart(c3d) + 4 * k]! ^= 1;
  const { recording: _, ...facts } = JSON.parse(sidecar);
  return { c3d: copy, sidecar: JSON.stringify(facts) };
}

function writeSound(folder: string, name: string, k: number): void {
  const { c3d, sidecar } = soundFile(k);
  writeFileSync(join(folder, `${name}.c3d`), c3d);
  writeFileSync(join(folder, `${name}.shot.json`), sidecar);
}

function imported(words: readonly string[]): { readonly end: CommandEnd; readonly report: Record<string, unknown> } {
  const end = underfoot(["import", ...words, "--format", "json"]);
  return { end, report: end.out === "" ? {} : JSON.parse(end.out) };
}

/** A failing input is one sentence with a remedy, never a trace of our stack. */
function expectSentences(text: string): void {
  expect(text).not.toMatch(/\n\s+at /);
  expect(text).not.toMatch(/our fault/);
}

beforeAll(() => {
  root = mkdtempSync(join(tmpdir(), "underfoot-import-"));
});
afterAll(() => rmSync(root, { recursive: true }));

describe("a folder of 200 files, 37 of them bad in different ways", () => {
  let end: CommandEnd;

  beforeAll(() => {
    mkdirSync(at("day", "morning"), { recursive: true });
    for (let k = 0; k < GOOD; k++) writeSound(k % 2 === 0 ? at("day") : at("day", "morning"), `shot-${k}`, k);
    const bad = badFiles(sounds[0]!.c3d, sounds[0]!.sidecar);
    expect(bad).toHaveLength(BAD);
    for (const { name, bytes, sidecar } of bad) {
      writeFileSync(at("day", name), bytes);
      if (sidecar !== undefined) writeFileSync(at("day", name.replace(".c3d", ".shot.json")), sidecar);
    }
    writeFileSync(at("day", "README.md"), "Invented.\n");
    end = underfoot(["import", at("day"), "--session", "new", "--no-compute", "--library", at("library")]);
  });

  test("gives 163 shots and 37 sentences, distinct and each naming its file; exit code 1", () => {
    expect(end.code).toBe(1);
    expectSentences(end.out + end.err);
    const [head = "", ...lines] = end.out.split("\n");
    expect(head).toBe("163 shots from 163 files; 37 files could not be brought in:");
    const sentences = lines.filter((line) => line.startsWith("  "));
    expect(sentences).toHaveLength(BAD);
    expect(new Set(sentences).size).toBe(BAD);
    for (const { name } of badFiles(sounds[0]!.c3d, sounds[0]!.sidecar))
      expect(
        sentences.some((line) => line.includes(at("day", name))),
        name,
      ).toBe(true);
    expect(end.out).toContain("1 other file passed over.");
  });

  test("what is known is not taken twice", () => {
    const { end: again, report } = imported([
      at("day"),
      "--session",
      "new",
      "--no-compute",
      "--library",
      at("library"),
    ]);
    expect(again.code).toBe(1);
    expect(report).toMatchObject({ shots: 0, duplicates: GOOD, passedOver: 1, notLookedAt: 0 });
    const files = report["files"] as {
      status: string;
      shots: string[];
      code?: string;
      sentence?: string;
      remedy?: string;
    }[];
    expect(files.filter(({ status }) => status === "known")).toHaveLength(GOOD);
    for (const file of files.filter(({ status }) => status === "error")) {
      expect(file.shots).toEqual([]);
      expect(file.code).toMatch(/^[a-z0-9-]+$/);
      expect(file.sentence).toMatch(/\.$/);
      expect(file.remedy).toMatch(/\.$/);
    }
    const sessions = JSON.parse(underfoot(["list", "sessions", "--library", at("library"), "--format", "json"]).out);
    expect(sessions.sessions).toMatchObject([{ shotCount: GOOD, playerCode: "Player A" }]);
    expect(JSON.parse(underfoot(["verify", "--library", at("library"), "--format", "json"]).out)).toMatchObject({
      shots: GOOD,
      findings: [],
      leftovers: [],
    });
  });
});

describe("one import", () => {
  test("computes the new shots, puts them on the day named and into a session a player", () => {
    mkdirSync(at("two"));
    writeSound(at("two"), "a", 300);
    writeSound(at("two"), "b", 301);
    const words = [at("two"), "--session", "new", "--day", "2026-03-09", "--library", at("two-library")];
    const { end, report } = imported(words);
    expect(end).toMatchObject({ code: 0, err: "" });
    expect(report).toMatchObject({ shots: 2, computation: { computed: 2, faults: [] }, notComputable: [] });
    const { rows } = {
      rows: JSON.parse(underfoot(["list", "--library", at("two-library"), "--format", "json"]).out).shots,
    };
    expect(rows.map((row: { day: string; ordinal: number }) => [row.day, row.ordinal])).toEqual([
      ["2026-03-09", 2],
      ["2026-03-09", 1],
    ]);
    const session = rows[0].sessionId;
    writeSound(at("two"), "c", 302);
    expect(imported([at("two", "c.c3d"), "--session", session, "--library", at("two-library")]).report).toMatchObject({
      files: [{ status: "stored", sessions: [session] }],
    });
  });

  test("without --day a shot is of the day its file was last written, and says so", () => {
    mkdirSync(at("written"));
    writeSound(at("written"), "a", 310);
    utimesSync(at("written", "a.c3d"), new Date(2025, 4, 6, 12), new Date(2025, 4, 6, 12));
    const { out } = underfoot(["import", at("written"), "--no-compute", "--library", at("written-library")]);
    expect(out).toContain("last written");
    const listed = JSON.parse(underfoot(["list", "--library", at("written-library"), "--format", "json"]).out);
    expect(listed.shots[0].day).toBe("2025-05-06");
  });

  test("a trial looks at everything and stores nothing", () => {
    mkdirSync(at("trial"));
    writeSound(at("trial"), "a", 320);
    writeFileSync(at("trial", "bad.c3d"), "");
    const { end, report } = imported([at("trial"), "--dry-run", "--library", at("trial-library")]);
    expect(end.code).toBe(1);
    expect(report).toMatchObject({
      shots: 1,
      isDryRun: true,
      files: [{ status: "stored", shots: [] }, { code: "empty" }],
    });
    expect(JSON.parse(underfoot(["list", "--library", at("trial-library"), "--format", "json"]).out).total).toBe(0);
    expect(readdirSync(at("trial-library", "recordings"))).toEqual([]);
  });

  test("a shot that came without a sidecar gets its facts when the sidecar is there", () => {
    mkdirSync(at("later"));
    writeSound(at("later"), "a", 330);
    const sidecar = soundFile(330).sidecar;
    rmSync(at("later", "a.shot.json"));
    const words = [at("later"), "--library", at("later-library")];
    const bare = underfoot(["import", ...words, "--no-compute"]);
    expect(bare.out).toContain("1 file came without a sidecar");
    writeFileSync(at("later", "a.shot.json"), sidecar);
    expect(imported(words).report).toMatchObject({
      shots: 0,
      duplicates: 1,
      factsSaid: 1,
      computation: { computed: 1 },
    });
    expect(imported([...words, "--no-compute"]).report).toMatchObject({ duplicates: 1, factsSaid: 0 });
    const listed = JSON.parse(underfoot(["list", "--library", at("later-library"), "--format", "json"]).out);
    expect(listed.shots[0]).toMatchObject({ intent: "stock", playerCode: "Player A" });
  });

  test("one sidecar for all that have none: --facts, or the folder's own", () => {
    mkdirSync(at("defaults"));
    writeSound(at("defaults"), "a", 340);
    rmSync(at("defaults", "a.shot.json"));
    writeFileSync(at("all.json"), soundFile(340).sidecar);
    const library = at("defaults-library");
    expect(
      imported([at("defaults"), "--facts", at("all.json"), "--no-compute", "--library", library]).report,
    ).toMatchObject({ shots: 1 });
    writeSound(at("defaults"), "b", 341);
    rmSync(at("defaults", "b.shot.json"));
    writeFileSync(at("defaults", "folder.shot.json"), soundFile(341).sidecar);
    expect(imported([at("defaults", "b.c3d"), "--no-compute", "--library", library]).report).toMatchObject({
      shots: 1,
    });
    const listed = JSON.parse(underfoot(["list", "--library", library, "--format", "json"]).out);
    expect(listed.shots.map((shot: { playerCode: string }) => shot.playerCode)).toEqual(["Player A", "Player A"]);
  });

  test("what is cut off is taken when that is all there is", () => {
    const { c3d } = soundFile(350);
    writeFileSync(at("cut.c3d"), c3d.subarray(0, Math.floor(c3d.length * 0.9)));
    const words = [at("cut.c3d"), "--no-compute", "--library", at("cut-library")];
    expect(imported(words).report).toMatchObject({ shots: 0, files: [{ code: "bring-in-cut-off" }] });
    const { end, report } = imported([...words, "--take-cut-off"]);
    expect(end.code).toBe(0);
    expect(report).toMatchObject({ shots: 1, files: [{ findings: [{ code: "truncated" }] }] });
  });
});

describe("delimited text", () => {
  test("a mapping from a file is kept, and the next file like it is known", () => {
    mkdirSync(at("texts"));
    const rows = (add: number): string =>
      Array.from({ length: 600 }, (_, i) => `${(i / 500).toFixed(3)};${5 + (i % 3) + add};-2;${700 + (i % 5)}`).join(
        "\n",
      );
    writeFileSync(at("texts", "one.csv"), `Time [s];Fx;Fy;Fz\n${rows(0)}\n`);
    writeFileSync(at("texts", "two.csv"), `Time [s];Fx;Fy;Fz\n${rows(1)}\n`);
    const mapping = JSON.parse(underfoot(["inspect", at("texts", "one.csv"), "--propose-mapping"]).out);
    for (const force of mapping.plates[0].force) force.unit = "N";
    writeFileSync(at("bay.mapping.json"), JSON.stringify({ ...mapping, name: "bay 2" }));
    const library = ["--no-compute", "--library", at("text-library")];
    expect(imported([at("texts", "one.csv"), ...library]).report).toMatchObject({
      files: [{ code: "bring-in-no-mapping" }],
    });
    expect(imported([at("texts", "one.csv"), "--mapping", at("bay.mapping.json"), ...library]).report).toMatchObject({
      shots: 1,
      keptMapping: "bay 2",
    });
    expect(imported([at("texts", "two.csv"), ...library]).report).toMatchObject({
      shots: 1,
      files: [{ mapping: "bay 2" }],
    });
    const { end } = imported([at("texts", "two.csv"), "--mapping", "bay 9", ...library]);
    expect(end.code).toBe(1);
    expect(end.err).toContain('"bay 2"');
  });
});

describe("when things go wrong around it", () => {
  test("what is not there, links that lead nowhere and folders without recordings are sentences", () => {
    const gone = underfoot(["import", at("nowhere"), "--library", at("x")]);
    expect(gone.code).toBe(1);
    expect(gone.out).toContain("is not there");
    mkdirSync(at("dull"));
    writeFileSync(at("dull", "notes.md"), "");
    const dull = underfoot(["import", at("dull"), "--library", at("x")]);
    expect(dull).toMatchObject({ code: 1, out: "" });
    expect(dull.err).toContain("No recording was found");
    symlinkSync(at("nowhere.c3d"), at("dull", "lost.c3d"));
    symlinkSync(at("dull"), at("dull", "round"));
    const links = underfoot(["import", at("dull"), "--library", at("x")]);
    expect(links.code).toBe(1);
    expect(links.out).toContain("lost.c3d is not there");
    expectSentences(gone.out + dull.err + links.out);
  });

  test("two imports into one library at once lose nothing and take nothing twice", async () => {
    mkdirSync(at("both"));
    for (let k = 0; k < 24; k++) writeSound(at("both"), `s${k}`, 400 + k);
    const words = [
      "import",
      at("both"),
      "--session",
      "new",
      "--no-compute",
      "--library",
      at("both-library"),
      "--format",
      "json",
    ];
    const ends = await Promise.all([underfootStarted(words).end, underfootStarted(words).end]);
    expect(ends.map(({ code, err }) => [code, err])).toEqual([
      [0, ""],
      [0, ""],
    ]);
    const reports = ends.map(({ out }) => JSON.parse(out) as { shots: number; duplicates: number });
    expect(reports.reduce((sum, { shots }) => sum + shots, 0)).toBe(24);
    expect(reports.reduce((sum, { duplicates }) => sum + duplicates, 0)).toBe(24);
    const sessions = JSON.parse(
      underfoot(["list", "sessions", "--library", at("both-library"), "--format", "json"]).out,
    );
    expect(sessions.sessions).toMatchObject([{ shotCount: 24 }]);
  });

  test("Ctrl+C ends after the file in hand, says what is stored, and the same command goes on", async () => {
    mkdirSync(at("stopped"));
    for (let k = 0; k < 60; k++) writeSound(at("stopped"), `s${k}`, 500 + k);
    const words = ["import", at("stopped"), "--library", at("stopped-library"), "--format", "json"];
    const { child, end } = underfootStarted(words);
    const recordings = at("stopped-library", "recordings");
    const first = setInterval(() => {
      try {
        if (readdirSync(recordings).length < 3) return;
      } catch {
        return; // not made yet
      }
      clearInterval(first);
      child.kill("SIGINT");
    }, 2);
    const { code, out } = await end;
    clearInterval(first);
    const report = JSON.parse(out);
    expect(code).toBe(1);
    expect(report.shots).toBeGreaterThan(0);
    expect(report.shots + report.notLookedAt).toBe(60);
    expect(report.notLookedAt).toBeGreaterThan(0);
    expect(imported([at("stopped"), "--no-compute", "--library", at("stopped-library")]).report).toMatchObject({
      shots: report.notLookedAt,
      duplicates: report.shots,
    });
  });

  test.each([
    ["no path", []],
    ["a day there is not", ["x", "--day", "2026-02-30"]],
    ["a session and a player", ["x", "--session", "s1", "--player", "P01"]],
    ["a format there is not", ["x", "--format", "xml"]],
    ["an option there is not", ["x", "--quick"]],
  ])("%s is wrong usage", (_, words) => {
    return expect(ran(importRecordings, words)).rejects.toThrow(UsageFault);
  });

  test("a session or player that is not there is said once, before any file", () => {
    mkdirSync(at("one"));
    writeSound(at("one"), "a", 600);
    for (const words of [
      ["--session", "s1"],
      ["--player", "P99"],
    ]) {
      const { code, out, err } = underfoot(["import", at("one"), ...words, "--library", at("one-library")]);
      expect([code, out]).toEqual([1, ""]);
      expect(err).toContain(words[1]);
    }
  });
});
