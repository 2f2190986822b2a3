import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { openLibrary } from "../packages/library/src/index.ts";
import { isWhole, life, run } from "./crash.ts";

// A few rounds here; the full count: npm run bench -- crash --rounds 200.
test("a process killed while it brings recordings in loses nothing that it had acknowledged", async () => {
  const { rounds, acknowledged, lost, verifyFindings, roundsWithShots } = await run(["--rounds", "5", "--seed", "11"]);
  expect({ rounds, lost, verifyFindings }).toEqual({ rounds: 5, lost: 0, verifyFindings: 0 });
  expect(roundsWithShots).toBeGreaterThan(1);
  expect(acknowledged).toBeGreaterThan(10);
});

test("two processes at one new library, both killed: neither is refused, nothing acknowledged is lost", async () => {
  const folder = mkdtempSync(join(tmpdir(), "underfoot-two-"));
  try {
    const [one, other] = await Promise.all([life(folder, 1, 2500), life(folder, 1_000_000, 2500)]);
    const library = await openLibrary({ folder });
    expect(one.length).toBeGreaterThan(3);
    expect(other.length).toBeGreaterThan(3);
    for (const told of [...one, ...other]) expect(await isWhole(library, told)).toBe(true);
    expect((await library.verify()).findings).toEqual([]);
    await library.close();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
