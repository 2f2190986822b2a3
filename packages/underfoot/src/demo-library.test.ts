import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Library, openLibrary } from "@underfoot/library";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { filledDemoLibrary } from "./demo-library.ts";

describe("the demo's library", () => {
  let root: string;
  let folder: string;
  let library: Library;

  // Takes some seconds: it is what a first run does, simulated, brought in and computed.
  beforeAll(async () => {
    root = mkdtempSync(join(tmpdir(), "underfoot-demo-"));
    folder = await filledDemoLibrary(root);
    library = await openLibrary({ folder });
  });
  afterAll(async () => {
    await library.close();
    rmSync(root, { recursive: true });
  });

  test("has the 24 shots of the story, a player's year and a small study, all of them computed and sound", async () => {
    const { total } = await library.shots.find({ limit: 1 });
    expect(total).toBeGreaterThanOrEqual(24 + 8 * 2 * 6 + 6 * 2 * 5);
    expect((await library.shots.find({ fileName: "demo-", limit: 1 })).total).toBe(24);
    expect(await library.recompute()).toMatchObject({ computed: 0, current: total, faults: [] });
    expect((await library.verify()).findings).toEqual([]);
    expect((await library.shots.find({ leastSeverity: "stop" })).total).toBe(0);
  });

  test("a year: eight sessions over eleven months, two conditions, another club from one day on", async () => {
    const player = await library.players.byCode("Player C");
    expect(player).toMatchObject({ consent: "study" });
    expect(player?.massKg).toBeGreaterThan(40);
    const { rows } = await library.sessions.list({ playerId: player?.id ?? "" });
    expect(rows).toHaveLength(8);
    const days = rows.map(({ day }) => Date.parse(day));
    expect((Math.max(...days) - Math.min(...days)) / 86_400_000).toBeGreaterThan(320);
    const points = await library.results.measure({
      measure: "both.target.peak",
      axes: "turf",
      playerId: player?.id ?? "",
    });
    expect(points.every(({ value }) => Number.isFinite(value))).toBe(true);
    expect(new Set(points.map(({ lieName }) => lieName))).toEqual(new Set(["flat", "upslope"]));
    expect([...new Set(points.map(({ club }) => club))]).toEqual(["wedge 56", "wedge 58"]);
    for (const { id, shotCount } of rows) {
      const session = await library.sessions.byId(id);
      expect(session.plan?.drawn).toHaveLength(shotCount);
      expect((await library.layouts.byId(session.layoutId ?? "")).plates).toHaveLength(2);
    }
    expect((await library.players.outlines(player?.id ?? "")).map(({ outline }) => outline.foot).sort()).toEqual([
      "lead",
      "trail",
    ]);
  });

  test("a study: six players who agreed to it, two conditions of five shots each on a day of their own", async () => {
    const players = (await library.players.list()).filter(({ consent }) => consent === "study");
    expect(players.map(({ code }) => code)).toEqual(
      ["C", "D", "E", "F", "G", "H", "I"].map((letter) => `Player ${letter}`),
    );
    for (const { id } of players.slice(1)) {
      const { rows, total } = await library.shots.find({ playerId: id, limit: 20 });
      expect(total).toBe(10);
      expect(rows.filter(({ intent }) => intent === "low")).toHaveLength(5);
      expect(rows.filter(({ intent }) => intent === "high")).toHaveLength(5);
    }
  });

  test("is made once; one that was stopped half way is made anew", async () => {
    expect(await filledDemoLibrary(root)).toBe(folder);
    const other = join(root, "other");
    mkdirSync(join(other, `${folder.split(/[\\/]/).at(-1)}.unfinished`), { recursive: true });
    writeFileSync(join(other, `${folder.split(/[\\/]/).at(-1)}.unfinished`, "catalogue.sqlite"), "half");
    const again = await openLibrary({ folder: await filledDemoLibrary(other) });
    try {
      const ids = async (of: Library) => (await of.shots.find({ limit: 500 })).rows.map(({ id, day }) => [id, day]);
      expect(await ids(again)).toEqual(await ids(library));
    } finally {
      await again.close();
    }
  });
});
