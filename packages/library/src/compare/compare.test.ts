import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { random } from "@underfoot/domain";
import { simulatedFiles } from "@underfoot/pipeline";
import { afterAll, beforeAll, expect, test } from "vitest";
import { demoShots, simulateShot } from "../../../simulator/src/index.ts";
import { type Library, openLibrary, type SessionPlan } from "../index.ts";

// Invented shots: the demo's first player, flat and up the slope.
const COUNT = 8;
let folder: string;
let library: Library;
let playerId: string;
let sessionId: string;
let ids: string[];

const codeOf = (fault: unknown): unknown => (fault instanceof Error && "code" in fault ? fault.code : fault);
const plan: SessionPlan = {
  ...{ order: "as-given", seed: 1, lies: [], conditions: [], drawn: [] },
  asked: [
    { measure: "lead.share.at.impact", most: 80 },
    { measure: "both.target.peak", axes: "level", intent: "moon" },
  ],
};

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "underfoot-compare-"));
  let nowMs = Date.UTC(2026, 2, 9, 12);
  library = await openLibrary({ folder, clock: () => nowMs++, random: random(3, "compare") });
  playerId = (
    await library.players.add({ code: "Player A", handed: "right", pronoun: "they", consent: "study", shoes: "flat" })
  ).id;
  sessionId = (await library.sessions.add({ playerId, day: "2026-03-09", plan })).id;
  ids = [];
  for (const shotPlan of demoShots({ seed: 1 }).slice(0, COUNT)) {
    const fileName = `${shotPlan.name}.c3d`;
    const { c3d, sidecar } = simulatedFiles(simulateShot({ ...shotPlan, durationS: 4.5 }), fileName);
    const { shots } = await library.bringIn({ bytes: c3d, fileName, sidecarText: sidecar, sessionId });
    ids.push(shots[0]?.shotId ?? "");
  }
}, 30_000);
afterAll(async () => {
  await library.close();
  rmSync(folder, { recursive: true });
});

test("a shot is the same whether it is computed for the comparison, kept by the library, or asked for with curves", async () => {
  const computed = await library.compare.shots({ playerId });
  await library.recompute();
  const kept = await library.compare.shots({ playerId });
  expect(kept).toEqual(computed);
  const curved = await library.compare.shots({ playerId }, { curves: ["both.target turf", "lead.share"] });
  expect(curved.map(({ curves: _, ...shot }) => shot)).toEqual(kept.map(({ curves: _, ...shot }) => shot));
  expect(kept.map(({ shotId }) => shotId)).toEqual(ids);
  expect(kept[0]).toMatchObject({
    ...{ label: "kept", player: "Player A", sessionId, day: "2026-03-09", ordinal: 1, intent: "stock" },
    ...{ lieName: "flat", pitchDeg: -0.2, shoes: "flat", impactSource: "signal" },
  });
  expect(kept[0]?.eventsMs).toMatchObject({ impact: 0 });
  const stored = await library.results.get(ids[0] ?? "");
  for (const [column, { value, sigma }] of kept[0]?.measures ?? [])
    expect(stored?.values.get(column)).toMatchObject({ value, sigma });
  // Up the slope gravity has a share, which the level axes have not.
  const up = kept.find(({ lieName }) => lieName === "upslope");
  expect(up?.measures.get("both.target.peak turf")?.slopeShare).toBeGreaterThan(10);
  expect(up?.measures.get("both.target.peak level")?.slopeShare).toBeUndefined();
  expect(up?.measures.get("both.target.peak turf")?.sigmaShared).toBeGreaterThan(0);
});

test("a curve stands on the time of its impact, with the slope's share beside it", async () => {
  const [up] = await library.compare.shots({ lieName: "upslope" }, { curves: ["both.target turf"] });
  const series = up?.curves?.get("both.target turf");
  const peak = up?.measures.get("both.target.peak turf")?.value ?? Number.NaN;
  expect(Math.max(...(series?.values ?? []))).toBeCloseTo(peak, -1);
  expect(series?.slopeShare).toHaveLength(series?.values.length ?? -1);
  const { firstMs = 0, rateHz = 1, values = [] } = series ?? {};
  expect(firstMs).toBeLessThan(-700);
  expect(firstMs + (1000 * values.length) / rateHz).toBeGreaterThan(300);
});

test("the same question has the same answer until a shot changes; what the plan asked is a family of its own", async () => {
  const ask = { a: { playerId, lieName: "flat" }, b: { playerId, lieName: "upslope" } };
  const first = await library.compare.comparison(ask);
  if (first.kind !== "conditions") throw new RangeError("two conditions were compared");
  expect(await library.compare.comparison(ask)).toBe(first);
  expect(first.measures.find(({ column }) => column === "lead.share.at.impact")?.family).toBe("asked");
  expect(first.measures.some(({ column }) => column === "both.target.peak level")).toBe(false);
  await library.shots.label(ids[0] ?? "", "set-aside");
  const second = await library.compare.comparison(ask);
  expect(second).toMatchObject({ a: { countShots: first.a.countShots } });
  expect(second).not.toEqual(first);
  await library.shots.undoLast(ids[0] ?? "");
  expect(await library.compare.comparison(ask)).toEqual(first);
});

test("a mark moves the numbers of its shot at once", async () => {
  const [id = ""] = ids;
  const before = (await library.compare.shots({ shotIds: [id] }))[0]?.eventsMs?.top;
  await library.shots.mark(id, [{ event: "top", timeS: 2.2, sdMs: 4 }]);
  const after = (await library.compare.shots({ shotIds: [id] }))[0]?.eventsMs?.top;
  expect(after).not.toBe(before);
  await library.shots.undoLast(id);
});

test("a shot without facts and one whose recording is lost count as invalid, and the rest is compared", async () => {
  const other = demoShots({ seed: 2 })[0];
  if (other === undefined) throw new RangeError("no shot");
  const { c3d } = simulatedFiles(simulateShot({ ...other, durationS: 4.5 }), "bare.c3d");
  const bare = await library.bringIn({ bytes: c3d, fileName: "bare.c3d", sessionId });
  const bareId = bare.shots[0]?.shotId ?? "";
  expect((await library.compare.shots({ shotIds: [bareId] }))[0]).toMatchObject({ label: "invalid" });
  const { recordingSha256 } = await library.shots.byId(bareId);
  rmSync(join(folder, "recordings", recordingSha256.slice(0, 2), recordingSha256));
  const [lost] = await library.compare.shots({ shotIds: [bareId] }, { curves: ["lead.share"] });
  expect(lost).toMatchObject({ label: "invalid", curves: new Map() });
});

test("what is cancelled ends in a sentence, and the next question is answered", async () => {
  const stop = new AbortController();
  const ask = { a: { playerId, lieName: "flat" }, b: { playerId, lieName: "upslope" }, seed: 99 };
  const asked = library.compare.comparison(
    { ...ask, curves: ["both.target", "both.speedTarget"] },
    { signal: stop.signal },
  );
  setTimeout(() => stop.abort(), 20);
  expect(codeOf(await asked.catch((fault: unknown) => fault))).toBe("library-cancelled");
  expect(await library.compare.comparison(ask)).toMatchObject({ kind: "conditions", seed: 99 });
});

test.each([
  [{ shotIds: ["nothing"] }, "library-not-there"],
  [{ fromDay: "yesterday" }, "library-wrong"],
])("%j is refused", async (asked, code) => {
  expect(codeOf(await library.compare.shots(asked).catch((fault: unknown) => fault))).toBe(code);
});
