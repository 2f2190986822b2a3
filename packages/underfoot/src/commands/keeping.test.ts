import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openLibrary } from "@underfoot/library";
import { simulatedFiles } from "@underfoot/pipeline";
import { demoShots, simulateShot } from "@underfoot/simulator";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { ran as calledWith } from "../command.ts";
import { type CommandEnd, underfoot } from "../command-process.ts";
import { UsageFault } from "../usage-fault.ts";
import { backup } from "./backup.ts";
import { forget } from "./forget.ts";
import { recompute } from "./recompute.ts";
import { restore } from "./restore.ts";
import { verify } from "./verify.ts";

let root: string;
const at = (...names: string[]): string => join(root, ...names);
const ran = (...words: string[]): CommandEnd => underfoot([...words, "--library", at("library")]);

beforeAll(async () => {
  root = mkdtempSync(join(tmpdir(), "underfoot-keeping-"));
  const library = await openLibrary({ folder: at("library") });
  const plans = demoShots({ seed: 1 });
  for (const plan of [...plans.slice(0, 3), ...plans.slice(16, 18)]) {
    const fileName = `${plan.name}.c3d`;
    const { c3d, sidecar } = simulatedFiles(simulateShot({ ...plan, durationS: 4.5 }), fileName);
    await library.bringIn({ bytes: c3d, fileName, sidecarText: sidecar, isSessionOfDay: true });
  }
  await library.close();
});
afterAll(() => rmSync(root, { recursive: true }));

describe("keeping a library", () => {
  test("recompute does what is missing, then finds nothing to do, then says which numbers another setting moved", async () => {
    const first = JSON.parse(ran("recompute", "--format", "json").out);
    expect(first).toMatchObject({ computed: 5, current: 0, faults: [], moved: [] });
    expect(ran("recompute")).toMatchObject({ code: 0, out: "0 shots computed, 5 up to date already.\n" });
    const library = await openLibrary({ folder: at("library") });
    await library.settings.setMechanics({ filter: { kind: "butterworth", cutoffHz: 8 } });
    await library.close();
    const { code, out } = ran("recompute", "--player", "Player A");
    expect(code).toBe(0);
    expect(out).toContain("3 shots computed");
    expect(out).toMatch(/\d+ measures moved/);
    expect(out).toMatch(/\d N\b/);
    expect(ran("recompute", "--workers", "1").out).toContain("2 shots computed, 3 up to date already.");
  });

  test("backup writes over nothing; restore gives the same library in a new folder; verify finds and mends", () => {
    const made = ran("backup", at("all.tar"));
    expect(made.code).toBe(0);
    expect(made.out).toMatch(/^5 shots and 5 recordings are in .*all\.tar, \d+\.?\d* MB/);
    const again = ran("backup", at("all.tar"));
    expect(again.code).toBe(1);
    expect(again.err).toContain("is there already");
    expect(underfoot(["restore", at("all.tar"), "--to", at("restored")])).toMatchObject({ code: 0, err: "" });
    expect(underfoot(["restore", at("all.tar"), "--to", at("restored")])).toMatchObject({ code: 1, out: "" });
    const restored = (...words: string[]): CommandEnd => underfoot([...words, "--library", at("restored")]);
    const shots = (end: CommandEnd): unknown => JSON.parse(end.out).shots;
    expect(shots(restored("list", "--format", "json"))).toEqual(shots(ran("list", "--format", "json")));
    expect(restored("verify").out).toBe("5 recordings and 5 shots looked at; nothing is wrong.\n");

    const [part = ""] = readdirSync(at("restored", "recordings")).filter((name) => name.length === 2);
    const [name = ""] = readdirSync(at("restored", "recordings", part));
    const path = at("restored", "recordings", part, name);
    const sound = readFileSync(path);
    writeFileSync(path, sound.subarray(0, 1000));
    const wrong = restored("verify");
    expect(wrong.code).toBe(1);
    expect(wrong.out).toContain("1 fault left");
    expect(readFileSync(path)).toHaveLength(1000);
    expect(restored("verify", "--mend", "--backup", at("all.tar"))).toMatchObject({ code: 0 });
    expect(readFileSync(path).equals(sound)).toBe(true);
  });

  test("forget asks first, says what it removed, and names the backups that still hold the player", () => {
    ran("backup", at("before.tar"));
    const unasked = ran("forget", "Player B");
    expect(unasked.code).toBe(1);
    expect(unasked.err).toContain("1 session and 2 shots");
    const gone = ran("forget", "Player B", "--yes");
    expect(gone.code).toBe(0);
    expect(gone.out).toContain("Player B is forgotten. Removed: 1 session, 2 shots");
    expect(gone.out).toContain(at("before.tar"));
    expect(JSON.parse(ran("list", "players", "--format", "json").out).players).toMatchObject([{ code: "Player A" }]);
    expect(ran("forget", "Player B", "--yes").code).toBe(1);
  });

  test.each([
    ["backup without a file", backup, []],
    ["restore without a folder", restore, ["x.tar"]],
    ["verify of a file", verify, ["x"]],
    ["a backup there is not", verify, ["--backup", "nowhere.tar"]],
    ["forget of two", forget, ["A", "B"]],
    ["no workers", recompute, ["--workers", "0"]],
  ] as const)("%s is wrong usage", (_, command, words) => {
    return expect(calledWith(command, words)).rejects.toThrow(UsageFault);
  });

  test("a file that is no backup is a sentence, and nothing is left of it", () => {
    mkdirSync(at("none"));
    writeFileSync(at("none", "x.tar"), "no backup at all");
    const { code, err } = underfoot(["restore", at("none", "x.tar"), "--to", at("none", "to")]);
    expect(code).toBe(1);
    expect(err).toContain("no whole Underfoot backup");
    expect(existsSync(at("none", "to"))).toBe(false);
  });
});
