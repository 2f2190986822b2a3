// npm run bench -- crash [--rounds 200] [--seed 1]: a child process brings recordings in, computes and labels them while
// it is killed (SIGKILL) at random moments; afterwards everything it had acknowledged must be there, whole, and verify clean.
// A kill tests the process, not a power cut: that is what the library's tests with a losing disk are for.
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { parseArgs } from "node:util";
import { random, type ShotFacts, UnderfootError } from "../packages/domain/src/index.ts";
import { shotFactsFromSidecar } from "../packages/formats/src/index.ts";
import { type Library, openLibrary } from "../packages/library/src/index.ts";
import { shotOutcome, simulatedFiles } from "../packages/pipeline/src/index.ts";
import { demoShots, simulateShot } from "../packages/simulator/src/index.ts";

/** Rounds that go on in one library; verifying it anew after each round takes longer and longer. */
const ROUNDS_A_LIBRARY = 10;
const LONGEST_LIFE_MS = 900;

/** A word of the C3D header that the format leaves free (reserved words 13 to 149; c3d.org user guide, from memory). */
const FREE_HEADER_BYTE = 64;

interface Told {
  readonly shotId: string;
  readonly hasResult: boolean;
  readonly label: string | undefined;
}

export interface CrashOutcome {
  readonly rounds: number;
  readonly acknowledged: number;
  readonly lost: number;
  readonly verifyFindings: number;
  /** Imports that were cut off before they were acknowledged: no fault, shown to prove that kills hit something. */
  readonly leftovers: number;
  /** In the others the process was killed while it started. */
  readonly roundsWithShots: number;
}

function sample(): { readonly bytes: Uint8Array; readonly facts: ShotFacts } {
  const [plan] = demoShots({ seed: 1 });
  if (!plan) throw new RangeError("the demo has no shots");
  const { c3d, sidecar } = simulatedFiles(simulateShot(plan), "crash.c3d");
  return { bytes: c3d, facts: shotFactsFromSidecar(sidecar).facts };
}

/** The child: works until it is killed, or until the disk says no; says each thing once it is acknowledged. */
async function child(folder: string, first: number): Promise<void> {
  const { bytes, facts } = sample();
  const outcome = shotOutcome({ bytes, file: "crash.c3d", facts });
  console.log("begins");
  try {
    const library = await openLibrary({ folder });
    const player =
      (await library.players.byCode("P01")) ??
      (await library.players.add({ code: "P01", handed: "right", pronoun: "they", consent: "none" }));
    console.log("open");
    for (let k = first; ; k++) {
      new DataView(bytes.buffer, bytes.byteOffset).setUint32(FREE_HEADER_BYTE, k, true);
      const { shotId } = await library.importRecording({
        bytes,
        fileName: `crash-${k}.c3d`,
        facts,
        playerId: player.id,
      });
      console.log(`shot ${shotId}`);
      const { key } = await library.results.question(shotId);
      await library.results.put(shotId, outcome, { key });
      console.log(`result ${shotId}`);
      await library.shots.label(shotId, "mishit");
      console.log(`label ${shotId} mishit`);
    }
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    console.log(`fault ${fault.code} ${fault.message} ${fault.remedy}`);
  }
}

/** Runs the child until it is killed after `lifeMs` of work; what it had acknowledged. */
export async function life(folder: string, first: number, lifeMs: number): Promise<readonly Told[]> {
  const told = new Map<string, Told>();
  const running = spawn(process.execPath, [import.meta.filename, "--child", folder, "--first", String(first)], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  const ended = new Promise<void>((resolve) => running.once("close", () => resolve()));
  for await (const line of createInterface({ input: running.stdout })) {
    const [word, shotId = "", label] = line.split(" ");
    if (word === "begins") setTimeout(() => running.kill("SIGKILL"), lifeMs);
    if (word === "shot") told.set(shotId, { shotId, hasResult: false, label: undefined });
    const known = told.get(shotId);
    if (known && word === "result") told.set(shotId, { ...known, hasResult: true });
    if (known && word === "label") told.set(shotId, { ...known, label });
    if (word === "fault") throw new RangeError(line);
  }
  await ended;
  return [...told.values()];
}

export async function isWhole(library: Library, { shotId, hasResult, label }: Told): Promise<boolean> {
  try {
    const shot = await library.shots.byId(shotId);
    await library.recordingBytes(shot.recordingSha256);
    const result = await library.results.get(shotId);
    return (!hasResult || result?.isCurrent === true) && (label === undefined || shot.label === label);
  } catch (fault) {
    console.error(fault);
    return false;
  }
}

export async function crashRounds(rounds: number, seed = 1): Promise<CrashOutcome> {
  const dice = random(seed, "crash");
  const total = { acknowledged: 0, lost: 0, verifyFindings: 0, leftovers: 0, roundsWithShots: 0 };
  let folder = "";
  let all: Told[] = [];
  for (let round = 0; round < rounds; round++) {
    if (round % ROUNDS_A_LIBRARY === 0) {
      if (folder) rmSync(folder, { recursive: true, force: true });
      folder = mkdtempSync(join(tmpdir(), "underfoot-crash-"));
      all = [];
    }
    const told = await life(folder, 1 + round * 1_000_000, 1 + dice.below(LONGEST_LIFE_MS));
    all.push(...told);
    const library = await openLibrary({ folder });
    try {
      const report = await library.verify();
      for (const one of all) if (!(await isWhole(library, one))) total.lost++;
      for (const finding of report.findings) console.error(`${finding.sentence} ${finding.remedy}`);
      total.acknowledged += told.length;
      total.verifyFindings += report.findings.length;
      total.leftovers += report.leftovers.length;
      if (told.length > 0) total.roundsWithShots++;
    } finally {
      await library.close();
    }
    if (process.stderr.isTTY) process.stderr.write(`\rround ${round + 1} of ${rounds}\u001b[K`);
  }
  rmSync(folder, { recursive: true, force: true });
  return { rounds, ...total };
}

export async function run(args: string[]): Promise<CrashOutcome> {
  const { values } = parseArgs({
    args,
    options: { rounds: { type: "string", default: "200" }, seed: { type: "string", default: "1" } },
  });
  return crashRounds(Number(values.rounds), Number(values.seed));
}

if (import.meta.main) {
  const { values } = parseArgs({ options: { child: { type: "string" }, first: { type: "string", default: "1" } } });
  if (values.child !== undefined) await child(values.child, Number(values.first));
}
