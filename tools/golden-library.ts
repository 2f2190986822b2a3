// Writes golden/library/NAME.tar.gz: a small library of today's version, kept for good so that every later version can
// show that it opens it. Run once for each new migration: node tools/golden-library.ts 0001
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { random } from "../packages/domain/src/index.ts";
import { shotFactsFromSidecar } from "../packages/formats/src/index.ts";
import { openLibrary } from "../packages/library/src/index.ts";
import { simulatedFiles } from "../packages/pipeline/src/index.ts";
import { demoShots, simulateShot } from "../packages/simulator/src/index.ts";

const [name] = process.argv.slice(2);
if (!name) throw new RangeError("say the number of the newest migration, for example 0001");
const root = mkdtempSync(join(tmpdir(), "underfoot-golden-"));
let nowMs = Date.UTC(2026, 2, 9, 12);
const library = await openLibrary({
  folder: join(root, "library"),
  clock: () => nowMs++,
  random: random(1),
  who: "Invented coach",
});
const player = await library.players.add({
  ...{ code: "P01", handed: "right", pronoun: "she", consent: "study", consentDay: "2026-03-01", massKg: 64.5 },
  ...{ notes: "Invented for this golden library.", shoes: "flat soles" },
});
const outline = [
  { x: 0, y: 0, z: 0 },
  { x: 0.1, y: 0, z: 0 },
  { x: 0.1, y: 0.28, z: 0 },
];
await library.players.addOutline(player.id, { foot: "lead", frame: "plate", outline });
await library.clubs.add({ name: "wedge 56", loftDeg: 56 });
const layout = await library.layouts.add({ name: "bay", plates: [{ plate: 1, foot: "trail", ratedLoadN: 4000 }] });
const session = await library.sessions.add({
  ...{ playerId: player.id, layoutId: layout.id, day: "2026-03-09", place: "bay" },
  plan: { order: "as-given", seed: 1, lies: [], conditions: [], asked: [], drawn: [] },
});
const check = { sessionId: session.id, kind: "zero", allowed: 5, found: 9.3, unit: "N", isPassed: false } as const;
await library.checks.goOnAnyway((await library.checks.add(check)).id, "no time");
for (const plan of demoShots({ seed: 1 }).slice(0, 2)) {
  const fileName = `${plan.name}.c3d`;
  const { c3d, sidecar } = simulatedFiles(simulateShot({ ...plan, rateHz: 200 }), fileName);
  const { facts } = shotFactsFromSidecar(sidecar);
  const { shotId } = await library.importRecording({ bytes: c3d, fileName, facts, sessionId: session.id });
  await library.shots.label(shotId, "mishit");
  await library.shots.undoLast(shotId);
}
await library.recompute({ workers: 1 });
await library.settings.set("theme", "dusk");
const file = join(root, "backup.tar");
await library.backup(file);
await library.close();
const folder = join(import.meta.dirname, "../golden/library");
mkdirSync(folder, { recursive: true });
writeFileSync(join(folder, `${name}.tar.gz`), gzipSync(readFileSync(file), { level: 9 }));
rmSync(root, { recursive: true });
