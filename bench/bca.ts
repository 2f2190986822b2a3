// Bootstrap intervals (BCa) of the difference of two means, for many measures by the same resamples.
import { random, UnderfootError } from "../packages/domain/src/index.ts";
import { exactSum, type Samples } from "../packages/signal/src/index.ts";
import { type BcaInterval, bcaOfMeanDifferences } from "../packages/statistics/src/index.ts";
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

interface BcaParams {
  readonly nA: number;
  readonly nB: number;
  readonly measures: number;
  readonly resamples: number;
  readonly level: number;
}

function bca(values: Samples, indices: Uint16Array, { nA, nB, measures, level }: BcaParams): readonly BcaInterval[] {
  const count = nA + nB;
  const rows = Array.from({ length: measures }, (_, m) => values.subarray(m * count, (m + 1) * count));
  return bcaOfMeanDifferences(rows, { indices, nA, nB }, { levelOfOne: level });
}

const EXPECTED_PARAMS: BcaParams = { nA: 12, nB: 12, measures: 60, resamples: 10_000, level: 0.95 };

/** An invented input, the same for the same seed: skewed values, a shift in B, drawn indices. */
function makeInput(folder: string, seed: number): void {
  const { nA, nB, measures, resamples } = EXPECTED_PARAMS;
  const count = nA + nB;
  const dice = random(seed, "bca");
  const values = Float64Array.from(
    { length: measures * count },
    (_, at) => 100 + 10 * dice.normal() + dice.normal() ** 2 + (at % count < nA ? 0 : 5),
  );
  const indices = Uint16Array.from({ length: resamples * count }, (_, at) => dice.below(at % count < nA ? nA : nB));
  writeInput(
    folder,
    { task: "bca", seed, params: EXPECTED_PARAMS },
    { values: { values, shape: [measures, count] }, indices: { values: indices, shape: [resamples, count] } },
  );
}

function timedFolder(input: string, repeat: number, isCompared: boolean): object {
  const manifest = manifestOf<ArrayFiles, BcaParams>(input, "bca");
  const { params, files } = manifest;
  const values = doublesOf(input, files, "values");
  const indices = wordsOf(input, files, "indices");
  const count = params.nA + params.nB;
  if (values.length !== count * params.measures || indices.length !== count * params.resamples) {
    throw new UnderfootError({
      code: "bench-input",
      sentence: `The files are not ${params.measures} measures of ${count} shots with ${params.resamples} resamples.`,
      remedy: "Make the folder again.",
    });
  }
  const timing = timed(() => bca(values, indices, params), repeat);
  // The task takes A minus B, the product B minus A: the same interval with its signs turned.
  const lower = -exactSum(Float64Array.from(timing.last, (one) => one.high));
  const upper = -exactSum(Float64Array.from(timing.last, (one) => one.low));
  const checksum = { sum_lower: lower, sum_upper: upper, sum_limits: lower + upper };
  const result = benchResult(manifest, timing, checksum);
  if (!isCompared) return result;
  return { ...result, ...peerOf("peer_bca.py", { input, repeat }, { seconds: timing.allS, checksum }) };
}

/**
 * `npm run bench -- bca [--input DIR] [--repeat 5] [--peer]`. Without --input it makes the expected input from a seed and times NumPy beside
 * itself; with --input only when --peer is given.
 */
export const run = (args: string[]): Promise<object> => overFolder({ name: "bca", makeInput, timedFolder }, args);
