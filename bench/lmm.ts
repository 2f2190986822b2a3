// Mixed models of many measures over one design: a random intercept for the player, fixed conditions, REML.
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { random, UnderfootError } from "../packages/domain/src/index.ts";
import { type Column, exactSum, type Samples } from "../packages/signal/src/index.ts";
import { mixedDesign, mixedFit } from "../packages/statistics/src/index.ts";
import { type ArrayFiles, benchOptions, benchResult, doublesOf, manifestOf, median, timed, wordsOf } from "./input.ts";

interface LmmParams {
  readonly measures: number;
  readonly rows: number;
  readonly players: number;
  readonly conditions: number;
  readonly shots: number;
}

/** What a run returns: fixed effects [measures, conditions], two variances a measure, and how many fits came with a finding. */
interface LmmResult {
  readonly fixed: Column;
  readonly playerVariance: Column;
  readonly residualVariance: Column;
  readonly countWithFinding: number;
}

interface LmmInput {
  /** [measures, rows] */
  readonly values: Samples;
  readonly player: Uint16Array;
  readonly condition: Uint16Array;
}

/** The task of bench-inputs, all measures: one design, whatever its number of shots a cell, and a fit each. */
function lmm({ values, player, condition }: LmmInput, { measures, rows, conditions }: LmmParams): LmmResult {
  const fixed = Array.from({ length: conditions }, (_, c) =>
    Float64Array.from(condition, (one) => (c === 0 || one === c ? 1 : 0)),
  );
  const design = mixedDesign(fixed, [{ levels: player }]);
  const result = {
    fixed: new Float64Array(measures * conditions),
    playerVariance: new Float64Array(measures),
    residualVariance: new Float64Array(measures),
  };
  let countWithFinding = 0;
  for (let m = 0; m < measures; m++) {
    const fit = mixedFit(design, values.subarray(m * rows, (m + 1) * rows))?.fit;
    const { beta, theta, sigma } = fit ?? {
      beta: new Float64Array(conditions).fill(Number.NaN),
      theta: [Number.NaN],
      sigma: Number.NaN,
    };
    result.fixed.set(beta, m * conditions);
    result.residualVariance[m] = sigma ** 2;
    result.playerVariance[m] = (sigma * theta[0]!) ** 2;
    if (fit === undefined || fit.findings.length > 0) countWithFinding++;
  }
  return { ...result, countWithFinding };
}

/** Checksums, formed after the clock stops. */
function lmmChecksum(result: LmmResult): Record<string, number> {
  const player = exactSum(result.playerVariance);
  const residual = exactSum(result.residualVariance);
  return {
    sum_fixed: exactSum(result.fixed),
    sum_player_variance: player,
    sum_residual_variance: residual,
    sum_variances: player + residual,
    fits_with_warning: result.countWithFinding,
  };
}

/** Sizes of the expected input. */
const EXPECTED_PARAMS: LmmParams = { measures: 60, rows: 1200, players: 40, conditions: 5, shots: 6 };

/** Writes an invented folder, the same for the same seed. */
function makeInput(folder: string, seed: number): void {
  const { measures, rows, players, conditions, shots } = EXPECTED_PARAMS;
  const dice = random(seed, "lmm");
  const player = Uint16Array.from({ length: rows }, (_, k) => Math.floor(k / (conditions * shots)));
  const condition = Uint16Array.from({ length: rows }, (_, k) => Math.floor(k / shots) % conditions);
  const values = new Float64Array(measures * rows);
  for (let m = 0; m < measures; m++) {
    const own = Array.from({ length: players }, () => (0.5 + dice.unit()) * dice.normal());
    for (let k = 0; k < rows; k++) values[m * rows + k] = 60 + own[player[k]!]! + 0.2 * condition[k]! + dice.normal();
  }
  const entry = (name: string, data: Float64Array | Uint16Array, shape: readonly number[]) => {
    const bytes = new Uint8Array(data.buffer as ArrayBuffer);
    const type = data instanceof Float64Array ? ("f64" as const) : ("u16" as const);
    const path = `${name}.${type}`;
    writeFileSync(join(folder, path), bytes);
    return { path, type, shape, sha256: createHash("sha256").update(bytes).digest("hex") };
  };
  const files: ArrayFiles = {
    values: entry("values", values, [measures, rows]),
    player: entry("player", player, [rows]),
    condition: entry("condition", condition, [rows]),
  };
  const manifest = { format: "bench-input", version: 1, task: "lmm", seed, files, params: EXPECTED_PARAMS };
  writeFileSync(join(folder, "manifest.json"), JSON.stringify(manifest));
}

interface PeerAnswer {
  readonly peer: string;
  readonly seconds_all: readonly number[];
  readonly checksum: Readonly<Record<string, number>>;
}

/** Statsmodels on the same folder, in a process of its own after ours has stopped. A peer that cannot run is said, not hidden. */
function peerLmm(
  input: string,
  repeat: number,
  ours: { readonly seconds: readonly number[]; readonly checksum: Readonly<Record<string, number>> },
): object {
  const script = join(import.meta.dirname, "peer_lmm.py");
  const { status, stdout, stderr, error } = spawnSync("python3", [script, input, String(repeat)], { encoding: "utf8" });
  if (status !== 0) return { peer: `not run: ${error?.message ?? stderr.trim().split("\n").at(-1)}` };
  const peer: PeerAnswer = JSON.parse(stdout);
  const differences = Object.entries(peer.checksum).map(([name, value]) => Math.abs(ours.checksum[name]! / value - 1));
  return {
    peer: peer.peer,
    peer_seconds_median: median(peer.seconds_all),
    peer_seconds_all: peer.seconds_all,
    peer_largest_relative_difference: Math.max(...differences),
    ratio: median(ours.seconds) / median(peer.seconds_all),
  };
}

/** Times a folder; `isCompared`: the peer does the same afterwards, where it is installed. */
function timedFolder(input: string, repeat: number, isCompared: boolean): object {
  const manifest = manifestOf<ArrayFiles, LmmParams>(input, "lmm");
  const { params } = manifest;
  const arrays: LmmInput = {
    values: doublesOf(input, manifest.files, "values"),
    player: wordsOf(input, manifest.files, "player"),
    condition: wordsOf(input, manifest.files, "condition"),
  };
  const { measures, rows, conditions } = params;
  const fits = [
    arrays.values.length === measures * rows,
    arrays.player.length === rows,
    arrays.condition.length === rows,
  ];
  if (fits.includes(false) || arrays.condition.some((one) => one >= conditions)) {
    throw new UnderfootError({
      code: "bench-input",
      sentence: `The arrays are not ${measures} measures of ${rows} rows with ${conditions} conditions.`,
      remedy: "Make the folder again.",
    });
  }
  const timing = timed(() => lmm(arrays, params), repeat);
  const checksum = lmmChecksum(timing.last);
  const result = benchResult(manifest, timing, checksum);
  return isCompared ? { ...result, ...peerLmm(input, repeat, { seconds: timing.allS, checksum }) } : result;
}

/**
 * `npm run bench -- lmm [--input DIR] [--repeat 5] [--peer]`. Without --input it makes an invented input of the expected size from a seed and
 * times the peer beside itself; with --input only when --peer is given.
 */
export async function run(args: string[]): Promise<object> {
  if (args.includes("--input")) {
    const { input, repeat } = benchOptions(args);
    return timedFolder(input, repeat, args.includes("--peer"));
  }
  const folder = mkdtempSync(join(tmpdir(), "underfoot-lmm-"));
  try {
    makeInput(folder, 1);
    return timedFolder(folder, benchOptions([...args, "--input", folder]).repeat, true);
  } finally {
    rmSync(folder, { recursive: true });
  }
}
