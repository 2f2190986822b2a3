// Backups that are damaged or hostile: refused with a sentence, and nothing is left of them.
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { random } from "@underfoot/domain";
import { simulatedFiles } from "@underfoot/pipeline";
import { afterAll, beforeAll, expect, test } from "vitest";
import { demoShots, simulateShot } from "../../../simulator/src/index.ts";
import { nodeFileSystem, openLibrary, restoreLibrary } from "../index.ts";
import { writeBytesEntry, writeEnd } from "./tar.ts";

let root: string;
let good: Buffer;
beforeAll(async () => {
  root = mkdtempSync(join(tmpdir(), "underfoot-restore-"));
  const library = await openLibrary({ folder: join(root, "library"), random: random(1) });
  const [plan] = demoShots({ seed: 1 });
  await library.importRecording({ bytes: simulatedFiles(simulateShot(plan!), "a.c3d").c3d, fileName: "a.c3d" });
  await library.backup(join(root, "good.tar"));
  await library.close();
  good = readFileSync(join(root, "good.tar"));
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

async function expectRefused(bytes: Uint8Array, code = "library-not-backup"): Promise<void> {
  const file = join(root, "bad.tar");
  const folder = join(root, "target");
  writeFileSync(file, bytes);
  await expect(restoreLibrary(file, folder)).rejects.toMatchObject({ code });
  expect(existsSync(folder)).toBe(false);
  expect(readdirSync(root).filter((name) => name.includes("unfinished"))).toEqual([]);
}

async function archive(entries: readonly (readonly [string, Uint8Array | string])[]): Promise<Uint8Array> {
  const path = join(root, "made.tar");
  rmSync(path, { force: true });
  const out = await nodeFileSystem.openWriter(path);
  for (const [name, content] of entries)
    await writeBytesEntry(
      out,
      { name, changedS: 0 },
      typeof content === "string" ? new TextEncoder().encode(content) : content,
    );
  await writeEnd(out);
  await out.finish();
  return readFileSync(path);
}

test("a byte turned anywhere, or an end cut off, is found", async () => {
  const dice = random(5);
  for (let k = 0; k < 30; k++) {
    const bytes = Buffer.from(good);
    // Not in the padding between entries, nor in the fields of a header that nothing hangs on: within the recording.
    bytes[good.length - 1024 - 512 - dice.below(200_000)]! ^= 1 << dice.below(8);
    await expectRefused(bytes);
  }
  for (const share of [0, 0.1, 0.5, 0.9, 0.999]) await expectRefused(good.subarray(0, Math.floor(good.length * share)));
});

test("names that reach outside, that nobody announced, or that are missing, are refused", async () => {
  const hash = "a".repeat(64);
  const manifest = (recordings: readonly string[]) =>
    JSON.stringify({ underfoot: "backup", version: 1, catalogue: { sha256: hash, byteCount: 1 }, recordings });
  await expectRefused(
    await archive([
      ["manifest.json", manifest([])],
      ["../outside", "x"],
    ]),
  );
  await expectRefused(
    await archive([
      ["manifest.json", manifest(["../../outside"])],
      ["recordings/../../../outside", "x"],
    ]),
  );
  await expectRefused(
    await archive([
      ["manifest.json", manifest([])],
      ["/tmp/outside", "x"],
    ]),
  );
  await expectRefused(await archive([["catalogue.sqlite", "x"]]));
  await expectRefused(await archive([["manifest.json", "{"]]));
  await expectRefused(await archive([["manifest.json", "null"]]));
  await expectRefused(await archive([["manifest.json", manifest([]).replace('"version":1', '"version":2')]]));
  await expectRefused(await archive([["manifest.json", manifest([hash])]]));
  await expectRefused(await archive([]));
  expect(existsSync(join(root, "outside"))).toBe(false);
});

test("a file that is not there, a folder that is not empty", async () => {
  await expect(restoreLibrary(join(root, "none.tar"), join(root, "target"))).rejects.toMatchObject({
    code: "library-unreadable",
  });
  const full = join(root, "full");
  mkdirSync(full);
  writeFileSync(join(full, "precious"), "x");
  await expect(restoreLibrary(join(root, "good.tar"), full)).rejects.toMatchObject({ code: "library-not-empty" });
  expect(readdirSync(full)).toEqual(["precious"]);
});
