import type { Channel, PlateDescription, Where } from "@underfoot/domain";
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

/** |load| of a plate at a sample, N, as stored: not zeroed. */
function loadAt(channels: readonly Channel[], plate: PlateDescription, weights: readonly number[], i: number): number {
  let load = 0;
  for (let c = 0; c < weights.length; c++) {
    const weight = weights[c]!;
    if (weight !== 0) load += weight * channels[plate.channels[c]!]!.values[i]!;
  }
  return Math.abs(load);
}

/** The value that more than half of the samples have, if there is one (Boyer and Moore's majority vote). */
function majority(sampleCount: number, at: (i: number) => number): { value: number; share: number } {
  let value = Number.NaN;
  let votes = 0;
  for (let i = 0; i < sampleCount; i++) {
    const one = at(i);
    if (votes === 0) value = one;
    votes += one === value ? 1 : -1;
  }
  let count = 0;
  for (let i = 0; i < sampleCount; i++) if (at(i) === value) count++;
  return { value, share: count / sampleCount };
}

/**
 * What looks wrong in the loads before anything is computed: too large, none at all, mostly one value, nobody's weight.
 * Limits are ours. Nothing is allocated; what needs a centre of pressure is judged where that is computed.
 */
export function plausibleLoads(
  channels: readonly Channel[],
  plates: readonly PlateDescription[],
  sampleCount: number,
  where: Where,
  out: Said,
): void {
  const weighted = plates.flatMap((plate) => {
    const weights = loadWeights(plate);
    return weights === undefined ? [] : [{ plate, weights }];
  });
  if (weighted.length === 0 || sampleCount === 0) return;
  for (const { plate, weights } of weighted) {
    const at = { ...where, plate: plate.index };
    let peakN = 0;
    for (let i = 0; i < sampleCount; i++) peakN = Math.max(peakN, loadAt(channels, plate, weights, i) || 0);
    if (peakN > MOST_LOAD_N) out.say(c3dFindings.plausibleLoad(at, peakN));
    else if (peakN < LEAST_LOAD_N) out.say(c3dFindings.plausibleNoLoad(at, peakN));
    const most = majority(sampleCount, (i) => loadAt(channels, plate, weights, i));
    if (most.share > CONSTANT_SHARE) out.say(c3dFindings.plausibleConstant(at, 100 * most.share, most.value));
  }
  const total = (i: number): number =>
    weighted.reduce((load, { plate, weights }) => load + (loadAt(channels, plate, weights, i) || 0), 0);
  let peakN = 0;
  for (let i = 0; i < sampleCount; i++) peakN = Math.max(peakN, total(i));
  let sum = 0;
  let count = 0;
  for (let i = 0; i < sampleCount; i++) {
    const load = total(i);
    if (load > peakN / 2) {
      sum += load;
      count++;
    }
  }
  const standingN = count > 0 ? sum / count : 0;
  const isOdd = standingN < STANDING_N[0] || standingN > STANDING_N[1];
  if (isOdd && peakN >= LEAST_LOAD_N) out.say(c3dFindings.plausibleStanding(where, standingN));
}
