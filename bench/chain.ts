// The chain from two plates' channels to the motion of the centre of mass: filter, CoP, turning torque, speed, travel.
import { random, UnderfootError } from "../packages/domain/src/index.ts";
import {
  type Column,
  cumulativeTrapezoid,
  exactSum,
  lowPassFromDesignFrequency,
  mean,
  type Samples,
  zeroPhaseMany,
} from "../packages/signal/src/index.ts";
import { type ArrayFiles, benchResult, doublesOf, manifestOf, overFolder, peerOf, timed, writeInput } from "./input.ts";

export interface ChainParams {
  readonly trials: number;
  readonly channels: number;
  readonly samples: number;
  readonly rateHz: number;
  readonly cutoffHz: number;
  readonly gravity: number;
  readonly quietSamples: number;
  readonly zOffset: number;
  readonly plateCentres: readonly [readonly [number, number], readonly [number, number]];
  readonly channelNames: readonly string[];
}

/** What a run returns, one row a trial: the ten curves' peaks and their samples, last travel, CoP ranges, mass. */
export interface ChainResult {
  readonly peaks: Column;
  readonly peakSamples: Column;
  readonly lastTravelM: Column;
  readonly copRangesM: Column;
  readonly massKg: Column;
}

const CHANNELS = 12;
const PEAK_CURVES = 10;
const RANGES = 6;
/** (sqrt(2) - 1)^(1/4), as the task fixes its design frequency. */
const CORRECTION = (Math.SQRT2 - 1) ** 0.25;

/** Total force of two plates, n samples, and what is asked of their places and torque. */
export interface TwoPlates {
  readonly fx: Column;
  readonly fy: Column;
  readonly fz: Column;
  /** Largest less smallest x and y of the CoP of plate 0, of plate 1 and of both, m. */
  readonly rangesM: Column;
  /** Largest vertical torque about the combined CoP, N m, and its first sample. */
  largestTorqueNm: number;
  largestTorqueAt: number;
}

export function emptyTwoPlates(samples: number): TwoPlates {
  const column = (): Column => new Float64Array(samples);
  const rangesM = new Float64Array(RANGES);
  return { fx: column(), fy: column(), fz: column(), rangesM, largestTorqueNm: Number.NaN, largestTorqueAt: 0 };
}

/**
 * Steps 2 to 4 of the task: two level plates, no load threshold, every place and torque formed once and looked at while it
 * is in a register. The product asks the same of the player wrench, on any lie and above a threshold; chain.test.ts holds
 * this loop against its `plateCop`.
 *
 * @param channels  Fx Fy Fz Mx My Mz of plate 0, then of plate 1
 */
export function twoPlates(channels: readonly Samples[], centres: ChainParams["plateCentres"], out: TwoPlates): void {
  const [fx0, fy0, fz0, mx0, my0, mz0] = channels as [Samples, Samples, Samples, Samples, Samples, Samples];
  const [fx1, fy1, fz1, mx1, my1, mz1] = channels.slice(6) as [Samples, Samples, Samples, Samples, Samples, Samples];
  const [[ox0, oy0], [ox1, oy1]] = centres;
  const { fx, fy, fz } = out;
  const n = fx.length;
  const [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  let [lowX0, lowY0, lowX1, lowY1, lowX, lowY] = [low, low, low, low, low, low];
  let [highX0, highY0, highX1, highY1, highX, highY] = [high, high, high, high, high, high];
  let largestTorqueNm = high;
  let largestTorqueAt = 0;
  for (let i = 0; i < n; i++) {
    const pushX0 = fx0[i]!;
    const pushY0 = fy0[i]!;
    const load0 = fz0[i]!;
    const pushX1 = fx1[i]!;
    const pushY1 = fy1[i]!;
    const load1 = fz1[i]!;
    const load = load0 + load1;
    const x0 = ox0 - my0[i]! / load0;
    const y0 = oy0 + mx0[i]! / load0;
    const x1 = ox1 - my1[i]! / load1;
    const y1 = oy1 + mx1[i]! / load1;
    const x = (load0 * x0 + load1 * x1) / load;
    const y = (load0 * y0 + load1 * y1) / load;
    const torque0 = mz0[i]! + (ox0 - x) * pushY0 - (oy0 - y) * pushX0;
    const torque1 = mz1[i]! + (ox1 - x) * pushY1 - (oy1 - y) * pushX1;
    const torqueNm = torque0 + torque1;
    fx[i] = pushX0 + pushX1;
    fy[i] = pushY0 + pushY1;
    fz[i] = load;
    if (x0 < lowX0) lowX0 = x0;
    if (x0 > highX0) highX0 = x0;
    if (y0 < lowY0) lowY0 = y0;
    if (y0 > highY0) highY0 = y0;
    if (x1 < lowX1) lowX1 = x1;
    if (x1 > highX1) highX1 = x1;
    if (y1 < lowY1) lowY1 = y1;
    if (y1 > highY1) highY1 = y1;
    if (x < lowX) lowX = x;
    if (x > highX) highX = x;
    if (y < lowY) lowY = y;
    if (y > highY) highY = y;
    if (torqueNm > largestTorqueNm) {
      largestTorqueNm = torqueNm;
      largestTorqueAt = i;
    }
  }
  out.rangesM.set([highX0 - lowX0, highY0 - lowY0, highX1 - lowX1, highY1 - lowY1, highX - lowX, highY - lowY]);
  out.largestTorqueNm = largestTorqueNm;
  out.largestTorqueAt = largestTorqueAt;
}

/** First sample of the largest value. */
function largestAt(x: Samples): number {
  const n = x.length;
  let largest = x[0]!;
  let at = 0;
  for (let i = 1; i < n; i++) {
    const value = x[i]!;
    if (value > largest) {
      largest = value;
      at = i;
    }
  }
  return at;
}

/** The task of bench-inputs, all trials. `signals` is [trials, 12, samples] and stays as it is. */
export function chain(signals: Samples, params: ChainParams): ChainResult {
  const { trials, samples, rateHz, gravity, quietSamples } = params;
  const filter = lowPassFromDesignFrequency(params.cutoffHz / CORRECTION, rateHz);
  const column = (): Column => new Float64Array(samples);
  const filtered = Array.from({ length: CHANNELS }, column);
  const both = emptyTwoPlates(samples);
  const forces = [both.fx, both.fy, both.fz];
  const net = new Float64Array(samples);
  const speed = new Float64Array(samples);
  const travel = new Float64Array(samples);
  const result: ChainResult = {
    peaks: new Float64Array(trials * PEAK_CURVES),
    peakSamples: new Float64Array(trials * PEAK_CURVES),
    lastTravelM: new Float64Array(trials * forces.length),
    copRangesM: new Float64Array(trials * RANGES),
    massKg: new Float64Array(trials),
  };
  for (let trial = 0; trial < trials; trial++) {
    const first = trial * CHANNELS * samples;
    const channels = filtered.map((_, c) => signals.subarray(first + c * samples, first + (c + 1) * samples));
    zeroPhaseMany(channels, filter, filtered);
    twoPlates(filtered, params.plateCentres, both);
    const quietN = forces.map((force) => mean(force, 0, quietSamples));
    const massKg = quietN[2]! / gravity;
    const row = trial * PEAK_CURVES;
    const note = (curve: Samples, k: number): void => {
      const at = largestAt(curve);
      result.peaks[row + k] = curve[at]!;
      result.peakSamples[row + k] = at;
    };
    forces.forEach((force, axis) => {
      acceleration(force, quietN[axis]!, massKg, net);
      cumulativeTrapezoid(net, rateHz, speed);
      cumulativeTrapezoid(speed, rateHz, travel);
      note(force, axis);
      note(speed, 4 + axis);
      note(travel, 7 + axis);
      result.lastTravelM[trial * forces.length + axis] = travel[samples - 1]!;
    });
    result.peaks[row + 3] = both.largestTorqueNm;
    result.peakSamples[row + 3] = both.largestTorqueAt;
    result.copRangesM.set(both.rangesM, trial * RANGES);
    result.massKg[trial] = massKg;
  }
  return result;
}

function acceleration(forceN: Samples, quietN: number, massKg: number, out: Column): void {
  const perKg = 1 / massKg;
  const n = out.length;
  for (let i = 0; i < n; i++) out[i] = (forceN[i]! - quietN) * perKg;
}

/** Checksums, formed after the clock stops. */
export function chainChecksum(result: ChainResult, { rateHz }: ChainParams): Record<string, number> {
  return {
    sum_peaks: exactSum(result.peaks),
    sum_peak_times: exactSum(result.peakSamples) / rateHz,
    sum_final_displacement: exactSum(result.lastTravelM),
    sum_abs_final_displacement: exactSum(result.lastTravelM.map(Math.abs)),
    sum_cop_ranges: exactSum(result.copRangesM),
    sum_mass: exactSum(result.massKg),
  };
}

/** Sizes of the expected input: 500 trials of 6 s at 1000 Hz. */
export const EXPECTED_PARAMS: ChainParams = {
  trials: 500,
  channels: CHANNELS,
  samples: 6000,
  rateHz: 1000,
  cutoffHz: 20,
  gravity: 9.80665,
  quietSamples: 500,
  zOffset: 0,
  plateCentres: [
    [0.25, 0],
    [-0.25, 0],
  ],
  channelNames: [0, 1].flatMap((plate) => ["Fx", "Fy", "Fz", "Mx", "My", "Mz"].map((name) => `${name}${plate}`)),
};

/** An invented input folder, the same for the same seed: a soft bump in each channel, a sway, and noise of 0.5 N or N m. */
function makeInput(folder: string, seed: number): void {
  const { trials, samples } = EXPECTED_PARAMS;
  const dice = random(seed, "chain");
  const bump = [20, -10, 60, 2, -3, 4, 15, 12, -40, -1, 2, 3];
  const signals = new Float64Array(trials * CHANNELS * samples);
  for (let trial = 0; trial < trials; trial++) {
    const peakS = 3.5 + dice.unit();
    const size = 0.7 + 0.6 * dice.unit();
    const shape = Float64Array.from({ length: samples }, (_, j) => Math.exp(-(((j / 1000 - peakS) / 0.12) ** 2)));
    for (let c = 0; c < CHANNELS; c++) {
      const at = (trial * CHANNELS + c) * samples;
      const level = c % 6 === 2 ? 350 + 100 * dice.unit() : 0;
      for (let j = 0; j < samples; j++) {
        const noise = dice.u32() / 2147483648 - 1;
        signals[at + j] = level + size * bump[c]! * shape[j]! + 0.5 * Math.sin(0.003 * (3 + c) * j + trial) + noise;
      }
    }
  }
  writeInput(
    folder,
    { task: "chain", seed, params: EXPECTED_PARAMS },
    { signals: { values: signals, shape: [trials, CHANNELS, samples] } },
  );
}

/** Times a folder; `isCompared`: SciPy does the same afterwards, where it is installed. */
function timedFolder(input: string, repeat: number, isCompared: boolean): object {
  const manifest = manifestOf<ArrayFiles, ChainParams>(input, "chain");
  const { params } = manifest;
  const signals = doublesOf(input, manifest.files, "signals");
  if (params.channels !== CHANNELS || signals.length !== params.trials * CHANNELS * params.samples) {
    throw new UnderfootError({
      code: "bench-input",
      sentence: `The signals are not ${params.trials} trials of ${CHANNELS} channels of ${params.samples} samples.`,
      remedy: "Make the folder again.",
    });
  }
  const timing = timed(() => chain(signals, params), repeat);
  const checksum = chainChecksum(timing.last, params);
  const result = benchResult(manifest, timing, checksum);
  return isCompared
    ? { ...result, ...peerOf("peer_chain.py", { input, repeat }, { seconds: timing.allS, checksum }) }
    : result;
}

/**
 * `npm run bench -- chain [--input DIR] [--repeat 5] [--peer]`. Without --input it makes the expected input from a seed and
 * times SciPy beside itself; with --input only when --peer is given.
 */
export const run = (args: string[]): Promise<object> => overFolder({ name: "chain", makeInput, timedFolder }, args);
