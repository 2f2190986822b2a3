// One demo library for all browser tests of a run: filled by the first that needs it, copied by each, removed at the end.
import { cpSync, existsSync, mkdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";

const NAME = "UNDERFOOT_TEST_DEMO";
const WAIT_MS = 200;

/** Vitest's own hook: names the folder for the workers, and takes it away when all is done. */
export function setup(): () => void {
  const folder = join(tmpdir(), `underfoot-demo-of-tests-${process.pid}`);
  process.env[NAME] = folder;
  return () => rmSync(folder, { recursive: true, force: true });
}

/** Puts a copy of the filled demo library into a folder of the test's own. */
export async function copyDemo(target: string): Promise<void> {
  const folder = process.env[NAME];
  if (folder === undefined) throw new RangeError("the browser tests run under vitest only");
  mkdirSync(folder, { recursive: true });
  const done = join(folder, "filled");
  if (isFirst(join(folder, "filling"))) {
    // Only now: the hook below is loaded for every run, and needs none of it.
    const { filledDemoLibrary } = await import("../packages/underfoot/src/demo-library.ts");
    await filledDemoLibrary(join(folder, "library"));
    mkdirSync(done);
  }
  while (!existsSync(done)) await setTimeout(WAIT_MS);
  cpSync(join(folder, "library"), target, { recursive: true });
}

/** Making a folder is the one step that only one of many can do. */
function isFirst(folder: string): boolean {
  try {
    mkdirSync(folder);
    return true;
  } catch (fault) {
    if ((fault as NodeJS.ErrnoException).code === "EEXIST") return false;
    throw fault;
  }
}
