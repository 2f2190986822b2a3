import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openLibrary } from "@underfoot/library";
import { simulatedFiles } from "@underfoot/pipeline";
import { demoShots, simulateShot } from "@underfoot/simulator";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { ran } from "../command.ts";
import { underfoot } from "../command-process.ts";
import { UsageFault } from "../usage-fault.ts";
import { list } from "./list.ts";

let root: string;
let place: string;

const asked = (...words: string[]): { total: number; shots: { fileName: string; ordinal: number }[] } =>
  JSON.parse(underfoot(["list", ...words, "--library", place, "--format", "json"]).out);

beforeAll(async () => {
  root = mkdtempSync(join(tmpdir(), "underfoot-list-"));
  place = join(root, "library");
  const library = await openLibrary({ folder: place });
  // Ten right-handed shots on the flat and up the slope, then two of the left-hander.
  for (const [k, plan] of demoShots({ seed: 1 }).entries()) {
    if (k >= 10 && k < 22) continue;
    const fileName = `${plan.name}.c3d`;
    const { c3d, sidecar } = simulatedFiles(simulateShot({ ...plan, durationS: 4.5 }), fileName);
    const day = k < 6 ? "2026-03-09" : "2026-04-02";
    await library.bringIn({ bytes: c3d, fileName, sidecarText: sidecar, day, isSessionOfDay: true });
  }
  await library.close();
});
afterAll(() => rmSync(root, { recursive: true }));

describe("list", () => {
  test("shots by any fact, all of which must hold", () => {
    expect(asked().total).toBe(12);
    expect(asked("--player", "Player A").total).toBe(10);
    expect(asked("--player", "Player A", "--lie", "flat").total).toBe(6);
    expect(asked("--lie", "flat", "--intent", "low", "--player", "Player A").shots).toMatchObject([
      { fileName: "demo-04-right-flat-low.c3d", club: "wedge 50" },
    ]);
    expect(asked("--club", "wedge 50").total).toBe(asked("--intent", "low").total);
    expect(asked("--label", "mishit").total).toBe(1);
    expect(asked("--from", "2026-04-01").total).toBe(6);
    expect(asked("--to", "2026-03-31", "--file", "FLAT-steep").total).toBe(1);
    const [{ contact } = { contact: "" }] = asked("--label", "mishit").shots as unknown as { contact: string }[];
    expect(asked("--contact", contact).total).toBeGreaterThan(0);
    expect(asked("--finding", "no-such-finding").total).toBe(0);
  });

  test("of one session in the order hit", () => {
    const sessions = JSON.parse(underfoot(["list", "sessions", "--library", place, "--format", "json"]).out).sessions;
    expect(sessions.map((one: { day: string; shotCount: number }) => [one.day, one.shotCount])).toEqual([
      ["2026-04-02", 2],
      ["2026-04-02", 4],
      ["2026-03-09", 6],
    ]);
    expect(asked("--session", sessions[2].id).shots.map(({ ordinal }) => ordinal)).toEqual([1, 2, 3, 4, 5, 6]);
    const of = JSON.parse(
      underfoot(["list", "sessions", "--player", "Player B", "--library", place, "--format", "json"]).out,
    );
    expect(of.total).toBe(1);
  });

  test("a table with units, the total, and how to see more", () => {
    const { code, out } = underfoot(["list", "--limit", "2", "--library", place]);
    expect(code).toBe(0);
    expect(out.split("\n")[0]).toContain("carry m");
    expect(out).toContain("2 of 12 shots; --limit N shows more.");
    expect(underfoot(["list", "players", "--library", place]).out).toMatch(/Player A +right.*\n.*Player B +left/);
    expect(underfoot(["list", "--intent", "moon", "--library", place]).out).toBe(
      "No shots like that in this library.\n",
    );
  });

  test.each([
    ["a kind there is not", ["balls"]],
    ["a fact that sessions have not", ["sessions", "--club", "x"]],
    ["a label there is not", ["--label", "lost"]],
    ["a day there is not", ["--from", "yesterday"]],
    ["no limit", ["--limit", "0"]],
  ])("%s is wrong usage", (_, words) => {
    return expect(ran(list, words)).rejects.toThrow(UsageFault);
  });

  test("a player there is not is a sentence with those there are", () => {
    const { code, err } = underfoot(["list", "--player", "P99", "--library", place]);
    expect(code).toBe(1);
    expect(err).toContain("Player A, Player B");
  });
});
