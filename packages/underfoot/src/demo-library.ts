import { existsSync } from "node:fs";
import { mkdir, rename, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { VERSION } from "@underfoot/domain";
import { simulatedFiles } from "@underfoot/pipeline";
import { DEMO_NOTICE, demoShots, simulateShot } from "@underfoot/simulator";
import { progress } from "./output.ts";

/** The demo is the same on every machine. */
const DEMO_SEED = 1;

/**
 * The folder of the demo's recordings, made on first run. It is filled beside its final place and moved there when
 * whole, so that a run that was stopped half way starts anew.
 */
export async function fillDemoLibrary(library: string): Promise<string> {
  const folder = join(library, `demo-${VERSION}`);
  if (existsSync(folder)) return folder;
  process.stderr.write(`Filling the demo library (first run): ${folder}\n`);
  const unfinished = `${folder}.unfinished`;
  await rm(unfinished, { recursive: true, force: true });
  await mkdir(unfinished, { recursive: true });
  const plans = demoShots({ seed: DEMO_SEED });
  for (const [k, plan] of plans.entries()) {
    const shot = simulateShot(plan);
    const { c3d, sidecar } = simulatedFiles(shot, `${plan.name}.c3d`);
    await writeFile(join(unfinished, `${plan.name}.c3d`), c3d);
    await writeFile(join(unfinished, `${plan.name}.shot.json`), sidecar);
    progress(k + 1, plans.length, "Demo shots");
  }
  await writeFile(
    join(unfinished, "README.md"),
    `${DEMO_NOTICE}\nMake more, with the truth beside them: underfoot simulate --out DIR\n`,
  );
  await rename(unfinished, folder);
  return folder;
}
