import type { Channel, Column, PlateDescription, Samples, Where } from "@underfoot/domain";
import { c3dFindings, type Said } from "./c3d-findings.ts";

const MOST_LOAD_N = 10_000;
const LEAST_LOAD_N = 20;
const STANDING_N = [200, 2000] as const;
const CONSTANT_SHARE = 0.5;

/** Weights of a plate's channels in its load along plate z, N; undefined where its type is not computed. */
function loadWeights(plate: PlateDescription): readonly number[] | undefined {
  if (plate.fault?.severity === "stop") return undefined;
  if (plate.type === 4) return plate.matrix?.[2];
  const isLoad = (c: number): boolean => (plate.type === 3 ? c >= 4 : c === 2);
  return plate.channels.map((_, c) => (isLoad(c) ? plate.forceToN : 0));
}

/** Samples taken at a time: the loads of a stretch are formed once and never of a whole recording. */
const STRETCH = 4096;

/** One plate's load, and what is learned of it while the recording is gone through. */
interface PlateLoad {
  readonly plate: PlateDescription;
  readonly columns: readonly Samples[];
  readonly weights: readonly number[];
  peakN: number;
  /** The value that more than half of the samples have, if there is one (Boyer and Moore's majority vote). */
  candidateN: number;
  votes: number;
  sameCount: number;
}

/** |sum of weight x channel|, N, of the samples from `first` on, as stored: not zeroed. Missing is 0. */
function loadsInto({ columns, weights }: PlateLoad, first: number, loads: Column): void {
  loads.fill(0);
  for (let c = 0; c < columns.length; c++) {
    const column = columns[c]!;
    const weight = weights[c]!;
    if (weight === 0) continue;
    for (let i = 0; i < loads.length; i++) loads[i] = loads[i]! + weight * column[first + i]!;
  }
  for (let i = 0; i < loads.length; i++) loads[i] = Math.abs(loads[i]!) || 0;
}

function learn(load: PlateLoad, loads: Column): void {
  let { peakN, candidateN, votes } = load;
  for (let i = 0; i < loads.length; i++) {
    const one = loads[i]!;
    if (one > peakN) peakN = one;
    if (votes === 0) candidateN = one;
    votes += one === candidateN ? 1 : -1;
  }
  load.peakN = peakN;
  load.candidateN = candidateN;
  load.votes = votes;
}

/** Goes through the recording a stretch at a time: `each` sees every plate's loads, `all` their sum. */
function eachStretch(
  loads: readonly PlateLoad[],
  sampleCount: number,
  each: (load: PlateLoad, loads: Column) => void,
  all: (totals: Column) => void,
): void {
  const buffer = new Float64Array(Math.min(STRETCH, sampleCount));
  const sums = new Float64Array(buffer.length);
  for (let first = 0; first < sampleCount; first += STRETCH) {
    const length = Math.min(STRETCH, sampleCount - first);
    const [own, totals] = [buffer.subarray(0, length), sums.subarray(0, length)];
    totals.fill(0);
    for (const load of loads) {
      loadsInto(load, first, own);
      each(load, own);
      for (let i = 0; i < length; i++) totals[i] = totals[i]! + own[i]!;
    }
    all(totals);
  }
}

function plateLoads(channels: readonly Channel[], plates: readonly PlateDescription[]): PlateLoad[] {
  return plates.flatMap((plate) => {
    const weights = loadWeights(plate);
    if (weights === undefined) return [];
    const columns = plate.channels.map((c) => channels[c]!.values);
    return [{ plate, columns, weights, peakN: 0, candidateN: 0, votes: 0, sameCount: 0 }];
  });
}

/**
 * What looks wrong in the loads before anything is computed: too large, none at all, mostly one value, nobody's weight.
 * Limits are ours. What needs a centre of pressure is judged where that is computed.
 */
export function plausibleLoads(
  channels: readonly Channel[],
  plates: readonly PlateDescription[],
  sampleCount: number,
  where: Where,
  out: Said,
): void {
  const loads = plateLoads(channels, plates);
  if (loads.length === 0 || sampleCount === 0) return;
  let peakN = 0;
  eachStretch(loads, sampleCount, learn, (totals) => {
    for (let i = 0; i < totals.length; i++) if (totals[i]! > peakN) peakN = totals[i]!;
  });
  let sumN = 0;
  let count = 0;
  const countSame = (load: PlateLoad, own: Column): void => {
    for (let i = 0; i < own.length; i++) if (own[i] === load.candidateN) load.sameCount++;
  };
  eachStretch(loads, sampleCount, countSame, (totals) => {
    for (let i = 0; i < totals.length; i++) {
      if (totals[i]! <= peakN / 2) continue;
      sumN += totals[i]!;
      count++;
    }
  });
  for (const load of loads) {
    const at = { ...where, plate: load.plate.index };
    if (load.peakN > MOST_LOAD_N) out.say(c3dFindings.plausibleLoad(at, load.peakN));
    else if (load.peakN < LEAST_LOAD_N) out.say(c3dFindings.plausibleNoLoad(at, load.peakN));
    const share = load.sameCount / sampleCount;
    if (share > CONSTANT_SHARE) out.say(c3dFindings.plausibleConstant(at, 100 * share, load.candidateN));
  }
  const standingN = count > 0 ? sumN / count : 0;
  const isOdd = standingN < STANDING_N[0] || standingN > STANDING_N[1];
  if (isOdd && peakN >= LEAST_LOAD_N) out.say(c3dFindings.plausibleStanding(where, standingN));
}
