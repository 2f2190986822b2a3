import { existsSync, mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { nodeFileSystem } from "./file-system.ts";

describe("a folder of this machine's disk", () => {
  let root: string;
  beforeEach(() => {
    root = mkdtempSync(join(tmpdir(), "underfoot-disk-"));
  });
  afterEach(() => rmSync(root, { recursive: true, force: true }));

  test("is made with those above it, by two at once, and again without a fault", async () => {
    const deep = join(root, "a", "b", "c");
    await Promise.all([nodeFileSystem.makeFolder(deep), nodeFileSystem.makeFolder(deep)]);
    await nodeFileSystem.makeFolder(deep);
    expect(statSync(deep).isDirectory()).toBe(true);
  });

  test("is refused where a file stands in the way", async () => {
    writeFileSync(join(root, "file"), "");
    await expect(nodeFileSystem.makeFolder(join(root, "file"))).rejects.toThrow(/EEXIST/);
    await expect(nodeFileSystem.makeFolder(join(root, "file", "below"))).rejects.toThrow(/ENOTDIR/);
  });

  test.skipIf(!existsSync("/proc/self"))("is refused, not tried for ever, where a folder takes no names", async () => {
    await expect(nodeFileSystem.makeFolder("/proc/nowhere/recordings")).rejects.toThrow(/ENOENT/);
  });
});
