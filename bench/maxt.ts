// Whole-curve permutation test of two conditions: the largest |t| of every given labelling, and its threshold.
import { random, UnderfootError } from "../packages/domain/src/index.ts";
import { exactSum, type Samples } from "../packages/signal/src/index.ts";
import {
  largestTOfRows,
  permutationSample,
  permutationThreshold,
  rowsOfOrders,
} from "../packages/statistics/src/index.ts";
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

interface MaxTParams {
  readonly nA: number;
  readonly nB: number;
  readonly points: number;
  readonly permutations: number;
  readonly quantile: number;
}

interface MaxTResult {
  /** Largest |t| of each labelling; the observed one first. */
  readonly maxima: Samples;
  readonly threshold: number;
}

/** The task: pooled t, no floor, interpolated threshold. */
function maxT(curves: Samples, orders: Uint16Array, { nA, nB, points, quantile }: MaxTParams): MaxTResult {
  const rows = rowsOfOrders(orders, nA + nB, nA);
  const maxima = largestTOfRows([{ values: curves, countPoints: points }], rows, { nA, statistic: "pooled" });
  return { maxima, threshold: permutationThreshold(permutationSample(maxima), 1 - quantile, "type-7") };
}

const EXPECTED_PARAMS: MaxTParams = { nA: 12, nB: 12, points: 501, permutations: 10_000, quantile: 0.95 };

/** An invented input, the same for the same seed: sums of slow waves with drawn weights, a bump in B, drawn labellings after the observed. */
function makeInput(folder: string, seed: number): void {
  const { nA, nB, points, permutations } = EXPECTED_PARAMS;
  const [count, waves] = [nA + nB, 25];
  const dice = random(seed, "maxt");
  const curves = new Float64Array(count * points);
  for (let i = 0; i < count; i++) {
    const weights = Array.from({ length: waves }, () => [dice.normal(), dice.normal()] as const);
    for (let q = 0; q < points; q++) {
      const bump = i < nA ? 0 : 4 * Math.exp(-(((q - 350) / 30) ** 2));
      const turn = (2 * Math.PI * q) / points;
      curves[i * points + q] = weights.reduce(
        (sum, [c, s], k) => sum + c * Math.cos(k * turn) + s * Math.sin(k * turn),
        bump,
      );
    }
  }
  const order = Array.from({ length: count }, (_, k) => k);
  const orders = new Uint16Array(permutations * count);
  for (let row = 0; row < permutations; row++) orders.set(row === 0 ? order : dice.shuffle([...order]), row * count);
  writeInput(
    folder,
    { task: "maxt", seed, params: EXPECTED_PARAMS },
    {
      curves: { values: curves, shape: [count, points] },
      permutations: { values: orders, shape: [permutations, count] },
    },
  );
}

function timedFolder(input: string, repeat: number, isCompared: boolean): object {
  const manifest = manifestOf<ArrayFiles, MaxTParams>(input, "maxt");
  const { params, files } = manifest;
  const curves = doublesOf(input, files, "curves");
  const orders = wordsOf(input, files, "permutations");
  const count = params.nA + params.nB;
  if (curves.length !== count * params.points || orders.length !== count * params.permutations) {
    throw new UnderfootError({
      code: "bench-input",
      sentence: `The files are not ${count} curves of ${params.points} points with ${params.permutations} labellings.`,
      remedy: "Make the folder again.",
    });
  }
  const timing = timed(() => maxT(curves, orders, params), repeat);
  const { maxima, threshold } = timing.last;
  const checksum = { threshold, sum_maxima: exactSum(maxima), observed: maxima[0] as number };
  const result = benchResult(manifest, timing, checksum);
  if (!isCompared) return result;
  return { ...result, ...peerOf("peer_maxt.py", { input, repeat }, { seconds: timing.allS, checksum }) };
}

/**
 * `npm run bench -- maxt [--input DIR] [--repeat 5] [--peer]`. Without --input it makes the expected input from a seed and times NumPy beside
 * itself; with --input only when --peer is given.
 */
export const run = (args: string[]): Promise<object> => overFolder({ name: "maxt", makeInput, timedFolder }, args);
