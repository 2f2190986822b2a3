// npm run bench -- folder [--files 2000] [--bad 37]: brings a folder of so many recordings in, some of them bad in
// different ways, with the command itself: first anew, then again (all known), then computes them. The recordings come
// from a few simulated shots, each different by one bit. `copyS` is the floor: the same files written one by one, each
// on the disk before the next.
import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { open } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { simulatedFiles } from "../packages/pipeline/src/index.ts";
import { demoShots, simulateShot } from "../packages/simulator/src/index.ts";
import { badFiles, dataStart } from "../packages/underfoot/src/bad-recordings.ts";

const BIN = join(import.meta.dirname, "..", "packages", "underfoot", "bin", "underfoot.js");
const BASE_SHOTS = 8;

function writeFolder(folder: string, good: number, bad: number): number {
  const base = demoShots({ seed: 1 })
    .slice(0, BASE_SHOTS)
    .map((plan) => simulatedFiles(simulateShot(plan), "recording.c3d"));
  for (let k = 0; k < good; k++) {
    const { c3d, sidecar } = base[k % BASE_SHOTS]!;
    const bytes = Uint8Array.from(c3d);
    bytes[dataStart(c3d) + 4 * k]! ^= 1;
    const { recording: _, ...facts } = JSON.parse(sidecar);
    writeFileSync(join(folder, `shot-${k}.c3d`), bytes);
    writeFileSync(join(folder, `shot-${k}.shot.json`), JSON.stringify(facts));
  }
  const files = badFiles(base[0]!.c3d, base[0]!.sidecar).slice(0, bad);
  for (const { name, bytes, sidecar } of files) {
    writeFileSync(join(folder, name), bytes);
    if (sidecar !== undefined) writeFileSync(join(folder, name.replace(".c3d", ".shot.json")), sidecar);
  }
  return files.length;
}

/** One command line to its end: seconds and what its JSON says. */
function timed(words: readonly string[]): { readonly seconds: number; readonly answer: Record<string, unknown> } {
  const startMs = performance.now();
  const { stdout, stderr, status } = spawnSync(process.execPath, [BIN, ...words, "--format", "json"], {
    encoding: "utf8",
    maxBuffer: 1 << 29,
  });
  if (status !== 0 && status !== 1) throw new Error(`underfoot ${words.join(" ")}: ${stderr}`);
  return { seconds: (performance.now() - startMs) / 1000, answer: JSON.parse(stdout) };
}

async function durableCopyS(from: string, to: string): Promise<number> {
  mkdirSync(to);
  const startMs = performance.now();
  for (const name of readdirSync(from).filter((one) => one.endsWith(".c3d"))) {
    const file = await open(join(to, name), "wx");
    await file.writeFile(readFileSync(join(from, name)));
    await file.sync();
    await file.close();
  }
  return (performance.now() - startMs) / 1000;
}

export async function run(args: string[]): Promise<object> {
  const { values } = parseArgs({ args, options: { files: { type: "string" }, bad: { type: "string" } } });
  const fileCount = Number(values.files ?? 2000);
  const root = mkdtempSync(join(tmpdir(), "underfoot-folder-"));
  try {
    const folder = join(root, "day");
    mkdirSync(folder);
    const bad = writeFolder(folder, fileCount - Number(values.bad ?? 37), Number(values.bad ?? 37));
    const copyS = await durableCopyS(folder, join(root, "copy"));
    const library = join(root, "library");
    const words = ["import", folder, "--session", "new", "--no-compute", "--library", library];
    const first = timed(words);
    const again = timed(words);
    const computed = timed(["recompute", "--library", library]);
    const files = first.answer["files"] as { status: string; sentence?: string }[];
    const sentences = new Set(files.flatMap(({ sentence }) => sentence ?? []));
    return {
      files: fileCount,
      bad,
      shots: first.answer["shots"],
      sentences: sentences.size,
      knownAgain: again.answer["duplicates"],
      computed: computed.answer["computed"],
      copyS,
      importS: first.seconds,
      importAgainS: again.seconds,
      computeS: computed.seconds,
      importOverCopy: first.seconds / copyS,
    };
  } finally {
    rmSync(root, { recursive: true });
  }
}
