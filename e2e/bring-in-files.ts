// A folder as a person might bring it: nine sound shots with sidecars, a table of numbers, and two files that are no shots.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { simulatedFiles } from "@underfoot/pipeline";
import { demoShots, simulateShot } from "@underfoot/simulator";

/** Another seed than the demo's: none of these shots is in its library. */
const SEED = 42;

/** Two plates under an invented player of 700 N who only stands; the units are left out, as many programs do. */
function table(): string {
  const names = ["Time [s]", ...[1, 2].flatMap((plate) => ["Fx", "Fy", "Fz", "Px", "Py"].map((part) => part + plate))];
  const rows = Array.from({ length: 1500 }, (_, i) => {
    const sway = Math.sin(i / 90);
    const plate = (share: number) => [2 + sway, -3 - sway, 700 * share + sway, 12 + 4 * sway, -8 + 3 * sway];
    return [(i / 500).toFixed(3), ...[...plate(0.45), ...plate(0.55)].map((value) => value.toFixed(2))].join(";");
  });
  return `${names.join(";")}\n${rows.join("\n")}\n`;
}

/** Fills a folder with 12 recordings, the 9 sidecars and a file of another kind. */
export function writeBringInFolder(folder: string): void {
  mkdirSync(folder, { recursive: true });
  const plans = demoShots({ seed: SEED }).slice(0, 9);
  for (const [k, plan] of plans.entries()) {
    const name = `shot-${k + 1}.c3d`;
    const { c3d, sidecar } = simulatedFiles(simulateShot(plan), name);
    writeFileSync(join(folder, name), c3d);
    writeFileSync(join(folder, `shot-${k + 1}.shot.json`), sidecar);
    if (k === 0) writeFileSync(join(folder, "cut.c3d"), c3d.subarray(0, Math.floor(c3d.length * 0.6)));
  }
  writeFileSync(join(folder, "stance.csv"), table());
  writeFileSync(join(folder, "notes.txt"), "Shot 7: thin, left.\nShot 8: better.\n");
  writeFileSync(join(folder, "film.mp4"), "no film");
}
