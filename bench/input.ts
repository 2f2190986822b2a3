// The fixed input folders of the bench programs: options, manifest, raw arrays, the clock and the shape of the result.
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { cpus, loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { UnderfootError, VERSION } from "../packages/domain/src/index.ts";

export interface BenchOptions {
  /** The task's own folder. */
  readonly input: string;
  readonly repeat: number;
}

interface ArrayFile {
  readonly path: string;
  readonly type: "f64" | "u16";
  readonly shape: readonly number[];
  readonly sha256: string;
}

export interface Manifest<Files, Params> {
  readonly task: string;
  readonly seed: number;
  readonly files: Files;
  readonly params: Params;
}

/** Arrays by name: chain, maxt, bca, lmm. */
export type ArrayFiles = Readonly<Record<string, ArrayFile>>;

const fault = (sentence: string, remedy: string): UnderfootError =>
  new UnderfootError({ code: "bench-input", sentence, remedy });

/** `--input DIR [--repeat 5]`. */
export function benchOptions(args: readonly string[]): BenchOptions {
  const after = (name: string): string | undefined => {
    const at = args.indexOf(name);
    return at < 0 ? undefined : args[at + 1];
  };
  const input = after("--input");
  if (input === undefined) throw fault("No input folder is given.", "Add --input DIR, the folder with manifest.json.");
  const repeat = Number(after("--repeat") ?? 5);
  if (!Number.isInteger(repeat) || repeat < 1)
    throw fault("--repeat needs a whole number from 1.", "Leave it out for 5.");
  return { input, repeat };
}

/** The manifest of a task's folder. Throws where format, version or task do not fit. */
export function manifestOf<Files, Params>(input: string, task: string): Manifest<Files, Params> {
  const path = join(input, "manifest.json");
  let manifest: { format?: unknown; version?: unknown } & Manifest<Files, Params>;
  try {
    manifest = JSON.parse(readFileSync(path, "utf8"));
  } catch (cause) {
    throw new UnderfootError({
      code: "bench-input",
      sentence: `${path} cannot be read as JSON.`,
      remedy: "Give the task's own folder, which holds manifest.json.",
      cause,
    });
  }
  if (manifest.format !== "bench-input" || manifest.version !== 1) {
    throw fault(
      `${path} is of format ${String(manifest.format)}, version ${String(manifest.version)}; bench-input, version 1 is known.`,
      "Make the folder again with the version that this program reads.",
    );
  }
  if (manifest.task !== task) {
    throw fault(`${path} is for the task ${manifest.task}, not ${task}.`, "Give the task's own folder.");
  }
  return manifest;
}

/** The bytes of a file, refused where their number is not the expected one. */
export function bytesOf(input: string, path: string, expected: number): Buffer<ArrayBuffer> {
  if (!existsSync(join(input, path))) throw fault(`${join(input, path)} is not there.`, "Make the folder again.");
  const bytes = readFileSync(join(input, path));
  if (bytes.length !== expected) {
    throw fault(`${path} has ${bytes.length} bytes; ${expected} are expected.`, "Make the folder again.");
  }
  return bytes;
}

const fileOf = (files: ArrayFiles, name: string, type: ArrayFile["type"]): ArrayFile => {
  const file = files[name];
  if (file === undefined || file.type !== type)
    throw fault(`The manifest has no ${type} file "${name}".`, "Make the folder again.");
  return file;
};

const countOf = (shape: readonly number[]): number => shape.reduce((all, size) => all * size, 1);

/** The bytes of an array, refused where they are not those that the manifest was written for. */
function arrayBytes(input: string, { path, shape, sha256 }: ArrayFile, bytesPerValue: number): ArrayBuffer {
  const bytes = bytesOf(input, path, bytesPerValue * countOf(shape));
  if (createHash("sha256").update(bytes).digest("hex") !== sha256) {
    throw fault(`${path} does not have the SHA-256 that the manifest gives.`, "Make the folder again.");
  }
  return bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length);
}

/** A file of doubles, little endian. */
export function doublesOf(input: string, files: ArrayFiles, name: string): Float64Array<ArrayBuffer> {
  return new Float64Array(arrayBytes(input, fileOf(files, name, "f64"), 8));
}

/** A file of unsigned 16-bit integers, little endian. */
export function wordsOf(input: string, files: ArrayFiles, name: string): Uint16Array<ArrayBuffer> {
  return new Uint16Array(arrayBytes(input, fileOf(files, name, "u16"), 2));
}

/** How long each run took, and what the last one returned. */
export interface Timing<T> {
  readonly firstS: number;
  readonly allS: readonly number[];
  readonly last: T;
}

/** One warm-up, then `repeat` timed runs; garbage is collected before each where the runtime allows (--expose-gc). */
export function timed<T>(work: () => T, repeat: number): Timing<T> {
  const one = (): { seconds: number; made: T } => {
    globalThis.gc?.();
    const start = process.hrtime.bigint();
    const made = work();
    return { seconds: Number(process.hrtime.bigint() - start) / 1e9, made };
  };
  let { seconds: firstS, made: last } = one();
  const allS: number[] = [];
  for (let k = 0; k < repeat; k++) {
    const { seconds, made } = one();
    allS.push(seconds);
    last = made;
  }
  return { firstS, allS, last };
}

/** Of an even number the mean of the middle two. */
export function median(values: readonly number[]): number {
  const ordered = [...values].sort((a, b) => a - b);
  const middle = ordered.length >> 1;
  return ordered.length % 2 === 1 ? ordered[middle]! : (ordered[middle - 1]! + ordered[middle]!) / 2;
}

/** The JSON object that a bench program prints last. */
export function benchResult(
  { task, seed }: { readonly task: string; readonly seed: number },
  timing: Timing<unknown>,
  checksum: Readonly<Record<string, number>>,
): object {
  return {
    task,
    seconds_median: median(timing.allS),
    seconds_all: timing.allS,
    seconds_first: timing.firstS,
    checksum,
    versions: { node: process.versions.node, underfoot: VERSION },
    seed,
    cpu: cpus()[0]?.model ?? "unknown",
    load_average: loadavg()[0],
    max_rss_bytes: process.resourceUsage().maxRSS * 1024,
  };
}

/** An array to be written into an input folder. */
export interface MadeArray {
  readonly values: Float64Array<ArrayBuffer> | Uint16Array<ArrayBuffer>;
  readonly shape: readonly number[];
}

/** Writes an input folder as the programs read it: one file an array, and the manifest with their hashes. */
export function writeInput(
  folder: string,
  o: { readonly task: string; readonly seed: number; readonly params: object },
  arrays: Readonly<Record<string, MadeArray>>,
): void {
  const files: Record<string, ArrayFile> = {};
  for (const [name, { values, shape }] of Object.entries(arrays)) {
    const type = values instanceof Float64Array ? "f64" : "u16";
    const path = `${name}.${type}`;
    const bytes = new Uint8Array(values.buffer);
    writeFileSync(join(folder, path), bytes);
    files[name] = { path, type, shape, sha256: createHash("sha256").update(bytes).digest("hex") };
  }
  const manifest = { format: "bench-input", version: 1, task: o.task, seed: o.seed, files, params: o.params };
  writeFileSync(join(folder, "manifest.json"), JSON.stringify(manifest));
}

interface PeerAnswer {
  readonly peer: string;
  readonly seconds_all: readonly number[];
  readonly checksum: Readonly<Record<string, number>>;
}

/**
 * A peer on the same folder, in a process of its own after ours has stopped. `ratio` is our median over its median: below 1
 * is faster. A peer that cannot run is said, not hidden.
 *
 * @param script  Python beside this file: takes the folder and the number of runs, prints one JSON object
 */
export function peerOf(
  script: string,
  { input, repeat }: BenchOptions,
  ours: { readonly seconds: readonly number[]; readonly checksum: Readonly<Record<string, number>> },
): object {
  const command = [join(import.meta.dirname, script), input, String(repeat)];
  const { status, stdout, stderr, error } = spawnSync("python3", command, { encoding: "utf8" });
  if (status !== 0) return { peer: `not run: ${error?.message ?? stderr.trim().split("\n").at(-1)}` };
  const peer: PeerAnswer = JSON.parse(stdout);
  const differences = Object.entries(ours.checksum).map(([name, value]) => Math.abs(value / peer.checksum[name]! - 1));
  return {
    peer: peer.peer,
    peer_seconds_median: median(peer.seconds_all),
    peer_seconds_all: peer.seconds_all,
    peer_largest_relative_difference: Math.max(...differences),
    ratio: median(ours.seconds) / median(peer.seconds_all),
  };
}

/** A task that is timed over a folder, and can make the expected one itself. */
export interface FolderTask {
  readonly name: string;
  readonly makeInput: (folder: string, seed: number) => void;
  readonly timedFolder: (input: string, repeat: number, isCompared: boolean) => object | Promise<object>;
}

/**
 * A task over the folder of --input, beside its peer only where --peer is given; without --input over the expected input,
 * made from a seed in a folder that goes away again, always beside the peer.
 */
export async function overFolder(
  { name, makeInput, timedFolder }: FolderTask,
  args: readonly string[],
): Promise<object> {
  if (args.includes("--input")) {
    const { input, repeat } = benchOptions(args);
    return timedFolder(input, repeat, args.includes("--peer"));
  }
  const folder = mkdtempSync(join(tmpdir(), `underfoot-${name}-`));
  try {
    makeInput(folder, 1);
    return await timedFolder(folder, benchOptions([...args, "--input", folder]).repeat, true);
  } finally {
    rmSync(folder, { recursive: true });
  }
}
