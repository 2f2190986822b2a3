// Mixed models of many measures over one design: a random intercept for the player, fixed conditions, REML.
import { random, UnderfootError } from "../packages/domain/src/index.ts";
import { type Column, exactSum, type Samples } from "../packages/signal/src/index.ts";
import { mixedDesign, mixedFit } from "../packages/statistics/src/index.ts";
import {
  type ArrayFiles,
  benchResult,
  doublesOf,
  manifestOf,
  overFolder,
  peerOf,
  timed,
  wordsOf,
  writeInput,
} from "./input.ts";

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
  writeInput(
    folder,
    { task: "lmm", seed, params: EXPECTED_PARAMS },
    {
      values: { values, shape: [measures, rows] },
      player: { values: player, shape: [rows] },
      condition: { values: condition, shape: [rows] },
    },
  );
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
  if (!isCompared) return result;
  // The peer forms the three sums only: the fourth is two of them, and a count of 0 has no relative difference.
  const { fits_with_warning: _, sum_variances: __, ...sums } = checksum;
  return { ...result, ...peerOf("peer_lmm.py", { input, repeat }, { seconds: timing.allS, checksum: sums }) };
}

/**
 * `npm run bench -- lmm [--input DIR] [--repeat 5] [--peer]`. Without --input it makes an invented input of the expected size from a seed and
 * times the peer beside itself; with --input only when --peer is given.
 */
export const run = (args: string[]): Promise<object> => overFolder({ name: "lmm", makeInput, timedFolder }, args);
