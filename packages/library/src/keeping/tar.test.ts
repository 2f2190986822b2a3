// Against GNU tar, or any other on the machine: what we write it reads, what it writes we read (IEEE Std 1003.1, ustar).
import { execFileSync, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { nodeFileSystem } from "../disk/file-system.ts";
import { entryPieces, tarEntries, tarHeader, writeBytesEntry, writeEnd } from "./tar.ts";

const hasTar = spawnSync("tar", ["--version"]).status === 0;
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "underfoot-tar-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const FILES = { "manifest.json": 0, "a/b": 1, "a/c": 511, "a/d": 512, "a/e": 513, "recordings/x": 1_100_000 };
const content = (count: number): Uint8Array => Uint8Array.from({ length: count }, (_, k) => (k * 31 + count) % 251);

async function written(): Promise<string> {
  const path = join(folder, "our.tar");
  const out = await nodeFileSystem.openWriter(path);
  for (const [name, count] of Object.entries(FILES))
    await writeBytesEntry(out, { name, changedS: 1_700_000_000 }, content(count));
  await writeEnd(out);
  await out.finish();
  return path;
}

async function entriesOf(path: string): Promise<Map<string, Buffer>> {
  const source = await nodeFileSystem.openReader(path);
  const found = new Map<string, Buffer>();
  try {
    for await (const entry of tarEntries(source, path)) {
      const pieces: Uint8Array[] = [];
      for await (const piece of entryPieces(source, entry)) pieces.push(piece);
      found.set(entry.name, Buffer.concat(pieces));
    }
  } finally {
    await source.close();
  }
  return found;
}

describe("an archive", () => {
  test.skipIf(!hasTar)("of ours is read by tar", async () => {
    const path = await written();
    expect(execFileSync("tar", ["-tf", path], { encoding: "utf8" }).trim().split("\n")).toEqual(Object.keys(FILES));
    execFileSync("tar", ["-xf", path, "-C", folder]);
    for (const [name, count] of Object.entries(FILES))
      expect(readFileSync(join(folder, name)).equals(Buffer.from(content(count)))).toBe(true);
  });

  test.skipIf(!hasTar)("of tar's is read by us", async () => {
    mkdirSync(join(folder, "a"));
    writeFileSync(join(folder, "a/x"), content(700));
    writeFileSync(join(folder, "y"), content(0));
    execFileSync("tar", ["--format=ustar", "-cf", "theirs.tar", "a/x", "y"], { cwd: folder });
    const found = await entriesOf(join(folder, "theirs.tar"));
    expect([...found.keys()]).toEqual(["a/x", "y"]);
    expect(found.get("a/x")!.equals(Buffer.from(content(700)))).toBe(true);
  });

  test("comes back as it was written", async () => {
    const found = await entriesOf(await written());
    expect([...found].map(([name, bytes]) => [name, bytes.length])).toEqual(Object.entries(FILES));
  });

  test("cut off anywhere, or with any byte of a header turned, is refused", async () => {
    const path = await written();
    const bytes = readFileSync(path);
    for (const length of [0, 100, 512, 1000, bytes.length - 1024, bytes.length - 600]) {
      writeFileSync(join(folder, "cut.tar"), bytes.subarray(0, length));
      await expect(entriesOf(join(folder, "cut.tar"))).rejects.toMatchObject({ code: "library-not-backup" });
    }
    for (const at of [0, 60, 110, 130, 140, 156, 260, 400]) {
      const turned = Buffer.from(bytes);
      turned[at]! ^= 1;
      writeFileSync(join(folder, "turned.tar"), turned);
      await expect(entriesOf(join(folder, "turned.tar")), `byte ${at}`).rejects.toMatchObject({
        code: "library-not-backup",
      });
    }
  });

  test("has no room for a name beyond 100 bytes or a file beyond 8 GiB", () => {
    expect(tarHeader("x".repeat(100), 8 ** 11 - 1, 0)).toHaveLength(512);
    expect(() => tarHeader("x".repeat(101), 0, 0)).toThrow(/does not fit/);
    expect(() => tarHeader("x", 8 ** 11, 0)).toThrow(/does not fit/);
  });
});
