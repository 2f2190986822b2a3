import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { shotFactsFromSidecar } from "@underfoot/formats";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { type ServerForTests, sampleShots, serverForTests, shotForm } from "./server-for-tests.ts";

const [first, second] = sampleShots(2) as [
  ReturnType<typeof sampleShots>[number],
  ReturnType<typeof sampleShots>[number],
];
const PLAYER = { code: "P01", handed: "right", pronoun: "she", consent: "study" };

let at: ServerForTests;
beforeEach(async () => {
  at = await serverForTests();
});
afterEach(async () => {
  await at.end();
  expect(at.faults).toEqual([]);
});

const addPlayer = (more: object = {}) => at.got(201, "POST", "/api/players", { ...PLAYER, ...more });

async function addSession(): Promise<{ id: string; playerId: string }> {
  const { id: playerId } = await addPlayer();
  return at.got(201, "POST", "/api/sessions", { playerId, day: "2026-03-09" });
}

describe("people and things", () => {
  test("a player is added, read, changed, a field taken away by null, and forgotten only by her code", async () => {
    const added = await addPlayer({ massKg: 61.5, name: "Invented" });
    const path = `/api/players/${added.id}`;
    expect(await at.got(200, "GET", path)).toEqual(added);
    const changed = await at.got(200, "PATCH", path, { massKg: null, shoes: "spikes" });
    expect(changed).toMatchObject({ code: "P01", name: "Invented", shoes: "spikes" });
    expect(changed).not.toHaveProperty("massKg");
    expect((await at.got(409, "POST", "/api/players", PLAYER)).code).toBe("library-taken");
    expect((await at.got(400, "PATCH", path, { code: null })).sentence).toContain('"code"');
    expect((await at.got(409, "DELETE", `${path}?code=P02`)).code).toBe("code-differs");
    expect(await at.got(200, "GET", "/api/players")).toHaveLength(1);
    const outline = {
      foot: "lead",
      frame: "plate",
      outline: [0, 1, 2].map((k) => ({ x: k / 10, y: (k % 2) / 10, z: 0 })),
    };
    const traced = await at.got(201, "POST", `${path}/outlines`, { outline, shoes: "spikes" });
    expect(await at.got(200, "GET", `${path}/outlines`)).toEqual([traced]);
    expect(await at.got(200, "DELETE", `${path}?code=P01`)).toMatchObject({ footOutlines: 1, backupsElsewhere: [] });
    expect((await at.got(404, "GET", path)).sentence).toContain(added.id);
    expect((await at.got(404, "GET", `${path}/outlines`)).code).toBe("library-not-there");
  });

  test("clubs and plate layouts: added, changed, removed, and kept while in use", async () => {
    const club = await at.got(201, "POST", "/api/clubs", { name: "wedge 58", loftDeg: 58 });
    expect(await at.got(200, "PATCH", `/api/clubs/${club.id}`, { loftDeg: null })).not.toHaveProperty("loftDeg");
    expect(await at.got(200, "DELETE", `/api/clubs/${club.id}`)).toEqual({ id: club.id });
    expect(await at.got(200, "GET", "/api/clubs")).toEqual([]);
    const layout = await at.got(201, "POST", "/api/layouts", { name: "Bay", plates: [{ plate: 1, foot: "lead" }] });
    const session = await addSession();
    await at.got(200, "PATCH", `/api/sessions/${session.id}`, { layoutId: layout.id });
    expect((await at.got(409, "DELETE", `/api/layouts/${layout.id}`)).sentence).toContain("stand on it");
    expect((await at.got(404, "PATCH", `/api/sessions/${session.id}`, { layoutId: "nowhere" })).code).toBe(
      "library-not-there",
    );
    await at.got(200, "PATCH", `/api/sessions/${session.id}`, { layoutId: null });
    await at.got(200, "PATCH", `/api/layouts/${layout.id}`, { note: "swept" });
    expect(await at.got(200, "GET", "/api/layouts")).toMatchObject([{ note: "swept" }]);
    expect(await at.got(200, "DELETE", `/api/layouts/${layout.id}`)).toEqual({ id: layout.id });
  });

  test("sessions: a plan as it was sent, listed by player and day, removed when empty", async () => {
    const session = await addSession();
    const shot = { intent: "low", lieName: "upslope", club: "wedge 58" };
    const plan = {
      ...{ order: "balanced", seed: 3, asked: [{ measure: "both.target.peak", most: 4 }], drawn: [shot, shot] },
      lies: [{ name: "upslope", pitchDeg: 6, rollDeg: 0, source: "inclinometer", sdDeg: 0.2 }],
      conditions: [{ ...shot, count: 2 }],
    };
    expect((await at.got(200, "PATCH", `/api/sessions/${session.id}`, { plan })).plan).toEqual(plan);
    expect((await at.got(200, "GET", `/api/sessions/${session.id}`)).plan).toEqual(plan);
    const listed = await at.got(200, "GET", `/api/sessions?playerId=${session.playerId}&fromDay=2026-03-01&limit=5`);
    expect(listed).toMatchObject({ total: 1, rows: [{ id: session.id, playerCode: "P01", asked: plan.asked }] });
    expect((await at.got(200, "GET", "/api/sessions?toDay=2026-03-08")).total).toBe(0);
    expect(await at.got(200, "DELETE", `/api/sessions/${session.id}`)).toEqual({ id: session.id });
    expect((await at.got(404, "POST", "/api/sessions", { playerId: "nobody", day: "2026-03-09" })).code).toBe(
      "library-not-there",
    );
  });
});

describe("shots", () => {
  async function brought(): Promise<{ sessionId: string; shotId: string }> {
    const { id: sessionId } = await addSession();
    const { shots } = await at.got(201, "POST", "/api/recordings", shotForm(first, { sessionId }));
    return { sessionId, shotId: shots[0].shotId };
  }

  test("a recording brought in is on the disk, computed, and known when it comes again", async () => {
    const { sessionId, shotId } = await brought();
    const shot = await at.got(200, "GET", `/api/shots/${shotId}`);
    expect(shot).toMatchObject({ sessionId, ordinal: 1, fileName: first.fileName, stretch: { first: 0 } });
    const bytes = new Uint8Array(await (await at.ask("GET", `/api/shots/${shotId}/recording`)).arrayBuffer());
    expect(createHash("sha256").update(bytes).digest("hex")).toBe(shot.recordingSha256);
    expect(bytes).toEqual(first.c3d);
    const measures = await at.got(200, "GET", `/api/shots/${shotId}/measures`);
    expect(measures).toMatchObject({ shotId, status: "ok", isCurrent: true });
    const column = "lead.share.at.impact";
    const points = await at.got(200, "GET", `/api/measures?measure=${column}&sessionId=${sessionId}`);
    expect(points).toMatchObject([{ shotId, value: measures.values[column].value }]);
    expect(points[0].value).toBeGreaterThan(0);
    const again = await at.got(201, "POST", "/api/recordings", shotForm(first, { sessionId }));
    expect(again.shots).toMatchObject([{ shotId, isDuplicate: true }]);
    expect((await at.got(200, "GET", "/api/shots")).total).toBe(1);
  });

  test("facts that come later, with the same recording, are said of the shot and it is computed anew", async () => {
    const bare = shotForm(first);
    bare.delete("sidecar");
    const [{ shotId }] = (await at.got(201, "POST", "/api/recordings", bare)).shots;
    expect((await at.got(404, "GET", `/api/shots/${shotId}/sidecar`)).code).toBe("no-facts");
    expect(await at.got(200, "GET", `/api/shots/${shotId}/measures`)).toMatchObject({ status: "needs-facts" });
    const again = await at.got(201, "POST", "/api/recordings", shotForm(first));
    expect(again.shots).toMatchObject([{ shotId, isDuplicate: true, gotFacts: true }]);
    expect(await at.got(200, "GET", `/api/shots/${shotId}/measures`)).toMatchObject({ status: "ok", isCurrent: true });
  });

  test("its sidecar is the one brought in, but for the player's own code", async () => {
    const { shotId } = await brought();
    const text = JSON.stringify(await at.got(200, "GET", `/api/shots/${shotId}/sidecar`));
    const { player: _, ...facts } = shotFactsFromSidecar(text).facts;
    const { player: __, ...before } = shotFactsFromSidecar(first.sidecar).facts;
    expect(facts).toEqual(before);
    expect((await at.got(200, "GET", `/api/shots/${shotId}`)).facts).toEqual(JSON.parse(text));
  });

  test("facts, label, result, note and marks are said, and each is undone", async () => {
    const { shotId } = await brought();
    const path = `/api/shots/${shotId}`;
    const before = await at.got(200, "GET", path);
    const timeS = before.facts.events.find((event: { event: string }) => event.event === "top").t + 0.02;
    await at.got(200, "PUT", `${path}/facts`, { ...before.facts, intent: "bump" });
    await at.got(200, "PUT", `${path}/label`, { label: "mishit" });
    await at.got(200, "PUT", `${path}/result`, { result: { contact: "thin", carryM: 12.5, isGood: false } });
    await at.got(200, "PUT", `${path}/note`, { note: "wet grass" });
    const marked = await at.got(200, "POST", `${path}/marks`, { marks: [{ event: "top", timeS, sdMs: 8 }] });
    expect(marked).toMatchObject({ intent: "bump", label: "mishit", contact: "thin", carryM: 12.5 });
    expect(marked.facts.events).toContainEqual({ event: "top", t: timeS, source: "marked", sd: 8 });
    expect((await at.got(200, "DELETE", `${path}/marks/top`)).facts.events ?? []).not.toContainEqual(
      expect.objectContaining({ event: "top", source: "marked" }),
    );
    expect((await at.got(200, "PUT", `${path}/note`, { note: null })).facts).not.toHaveProperty("note");
    expect((await at.got(200, "PUT", `${path}/result`, { result: null })).facts).not.toHaveProperty("result");
    const { undone } = await at.got(200, "POST", `${path}/undo`);
    expect((await at.got(200, "GET", path)).facts.result).toMatchObject({ contact: "thin" });
    expect(undone.shotId).toBe(shotId);
    for (let k = 0; k < 7; k++) await at.got(200, "POST", `${path}/undo`);
    expect(await at.got(200, "GET", path)).toEqual(before);
    expect(await at.got(200, "POST", `${path}/undo`)).toEqual({ undone: null });
    expect((await at.got(200, "GET", `${path}/history`)).length).toBeGreaterThan(8);
  });

  test("shots are found by facts, counted by words, and moved", async () => {
    const { sessionId, shotId } = await brought();
    const form = shotForm(second, { day: "2026-03-10", playerId: (await at.got(200, "GET", "/api/players"))[0].id });
    const other = (await at.got(201, "POST", "/api/recordings", form)).shots[0].shotId;
    expect((await at.got(200, "GET", "/api/shots?limit=1")).next).toBeDefined();
    const { intent, lieName, pitchDeg } = await at.got(200, "GET", `/api/shots/${shotId}`);
    const found = async (query: string) =>
      (await at.got(200, "GET", `/api/shots?${query}`)).rows.map((row: { id: string }) => row.id);
    expect(await found(`sessionId=${sessionId}&order=session`)).toEqual([shotId]);
    expect(await found("fromDay=2026-03-10")).toEqual([other]);
    expect(await found(`pitchDeg=${pitchDeg - 0.5},${pitchDeg + 0.5}&intent=${intent}`)).toContain(shotId);
    expect((await at.got(400, "GET", "/api/shots?pitchDeg=steep")).sentence).toContain('"pitchDeg"');
    const words = await at.got(200, "GET", "/api/words");
    expect(words.intents.reduce((sum: number, word: { shots: number }) => sum + word.shots, 0)).toBe(2);
    expect(words.lies.map((word: { word: string }) => word.word)).toContain(lieName);
    await at.got(200, "PUT", `/api/shots/${other}/session`, { sessionId });
    expect(await found(`sessionId=${sessionId}&order=session`)).toEqual([shotId, other]);
  });

  test("a recording that is none, a sidecar that is none and a wrong ask are refused, and nothing is kept", async () => {
    const { id: sessionId } = await addSession();
    const form = (part: Partial<typeof first>, ask: object = {}) =>
      shotForm({ ...first, ...part }, { sessionId, ...ask });
    const refusals = [
      form({ c3d: new Uint8Array([1, 2, 3]) }),
      form({ c3d: new Uint8Array(0) }),
      form({ c3d: first.c3d.slice(0, 700) }),
      form({ sidecar: "{" }),
      form({ sidecar: '{"underfoot":"shot"}' }),
      form({}, { sessionId: "nowhere" }),
      form({}, { day: "yesterday" }),
      form({}, { mapping: { columns: 1 } }),
      form({}, { facts: { handed: "both" } }),
      form({}, { unknown: 1 }),
    ];
    for (const refused of refusals) {
      const answer = await at.ask("POST", "/api/recordings", refused);
      const said = (await answer.json()) as { sentence: string };
      expect(answer.status, JSON.stringify(said)).toBeGreaterThanOrEqual(400);
      expect(answer.status).toBeLessThan(500);
      expect(said.sentence).toMatch(/\.$/);
    }
    expect((await at.got(200, "GET", "/api/shots")).total).toBe(0);
    expect(readdirSync(join(at.root, "library", "recordings")).filter((name) => !name.startsWith("."))).toEqual([]);
    const dry = await at.got(201, "POST", "/api/recordings", form({}, { isDryRun: true }));
    expect(dry.shots).toMatchObject([{ isDuplicate: false }]);
    expect((await at.got(200, "GET", "/api/shots")).total).toBe(0);
  });

  test("history of everything, and undoing by its id", async () => {
    const { sessionId, shotId } = await brought();
    await at.got(200, "PUT", `/api/shots/${shotId}/label`, { label: "set-aside" });
    const [latest] = await at.got(200, "GET", `/api/history?sessionId=${sessionId}&limit=1`);
    const { id } = await at.got(200, "POST", `/api/history/${latest.id}/undo`);
    expect((await at.got(200, "GET", `/api/shots/${shotId}`)).label).toBe("kept");
    expect((await at.got(409, "POST", `/api/history/${latest.id}/undo`)).code).toBe("library-already-undone");
    await at.got(200, "POST", `/api/history/${id}/undo`);
    expect((await at.got(200, "GET", `/api/shots/${shotId}`)).label).toBe("set-aside");
    expect((await at.got(404, "POST", "/api/history/none/undo")).code).toBe("library-not-there");
  });
});

describe("settings, mappings and place", () => {
  test("settings are changed within their limits, set back by null, and reach the sessions computed with them", async () => {
    const before = await at.got(200, "GET", "/api/settings");
    expect(before).toMatchObject({ isBackupFolderDefault: true, mechanics: before.defaults });
    const filter = { kind: "butterworth", cutoffHz: 20 };
    expect((await at.got(200, "PATCH", "/api/settings", { mechanics: { filter, zeroSigmaN: 3 } })).mechanics).toEqual({
      ...before.defaults,
      ...{ filter, zeroSigmaN: 3 },
    });
    expect(
      (await at.got(200, "PATCH", "/api/settings", { mechanics: { filter: null, zeroSigmaN: null } })).mechanics,
    ).toEqual(before.defaults);
    for (const mechanics of [
      { zeroSigmaN: -1 },
      { zeroSigmaN: "2" },
      { filter: { kind: "butterworth" } },
      { estimatedSigmaMs: { top: 1 } },
      { speed: 1 },
      JSON.parse('{"constructor": 1}'),
    ])
      expect((await at.got(422, "PATCH", "/api/settings", { mechanics })).sentence).toMatch(/setting/);
    expect((await at.got(422, "PATCH", "/api/settings", { backupFolder: "here" })).code).toBe("not-whole-path");
    const backupFolder = join(at.root, "elsewhere");
    expect(await at.got(200, "PATCH", "/api/settings", { backupFolder })).toMatchObject({
      backupFolder,
      isBackupFolderDefault: false,
    });
    const { id: sessionId } = await addSession();
    await at.got(201, "POST", "/api/recordings", shotForm(first, { sessionId }));
    expect(await at.got(200, "GET", "/api/settings/reach")).toEqual({
      shots: 1,
      sessions: [{ id: sessionId, day: "2026-03-09", playerCode: "P01", shots: 1 }],
    });
  });

  test("mappings are kept by name, listed and removed", async () => {
    expect(await at.got(200, "GET", "/api/mappings")).toEqual([]);
    expect((await at.got(422, "PUT", "/api/mappings/bay%202", { nonsense: 1 })).sentence).toContain("mapping");
    expect((await at.got(404, "DELETE", "/api/mappings/bay%202")).code).toBe("library-not-there");
  });

  test("another folder becomes the library, is remembered, and what cannot be opened changes nothing", async () => {
    await addPlayer();
    const folder = join(at.root, "other");
    const full = join(at.root, "documents");
    mkdirSync(full);
    writeFileSync(join(full, "letter.txt"), "Dear all");
    writeFileSync(join(at.root, "file"), "");
    expect((await at.got(409, "PUT", "/api/place", { folder: full })).code).toBe("other-things");
    expect((await at.got(422, "PUT", "/api/place", { folder: "other" })).code).toBe("not-whole-path");
    expect((await at.got(422, "PUT", "/api/place", { folder: join(at.root, "file") })).sentence).toContain("file");
    expect(readdirSync(full)).toEqual(["letter.txt"]);
    expect(at.remembered).toEqual([]);
    expect(await at.got(200, "GET", "/api/players")).toHaveLength(1);
    expect(await at.got(200, "PUT", "/api/place", { folder })).toMatchObject({ folder, isDemo: false });
    expect(at.remembered).toEqual([folder]);
    expect(await at.got(200, "GET", "/api/players")).toEqual([]);
    expect(existsSync(folder)).toBe(true);
    await at.got(200, "PUT", "/api/place", { folder: join(at.root, "library") });
    expect(await at.got(200, "GET", "/api/players")).toHaveLength(1);
  });

  test("where the folder cannot be remembered, the library before stays open", async () => {
    const stuck = await serverForTests({ remember: () => Promise.reject(new Error("EROFS")) });
    const { folder } = await stuck.got(200, "GET", "/api/about");
    const said = await stuck.got(503, "PUT", "/api/place", { folder: join(stuck.root, "other") });
    expect(said.sentence).toContain("EROFS");
    expect((await stuck.got(200, "GET", "/api/about")).folder).toBe(folder);
    await stuck.end();
  });

  test("the demo stays in its place", async () => {
    const demo = await serverForTests({ isDemo: true });
    expect((await demo.got(409, "PUT", "/api/place", { folder: join(demo.root, "other") })).code).toBe("demo-stays");
    await demo.end();
  });
});
