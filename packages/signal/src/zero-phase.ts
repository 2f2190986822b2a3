import type { LowPass } from "./low-pass.ts";
import { type Column, requireSameLength, type Samples } from "./samples.ts";
import { validRuns } from "./valid-runs.ts";

/** Samples of the odd extension at each end: three times the number of coefficients, as `scipy.signal.filtfilt` does. */
const EDGE_SAMPLES = 9;
/** Columns that run side by side: measured in bench/chain.ts; three and four were slower. */
const LANES = 2;
/** A stretch shorter than this has too little besides its edges to be filtered (ours). */
const SHORTEST_RUN_SAMPLES = 30;

/**
 * Low-pass forward and back, so that nothing is delayed. Equal to `scipy.signal.filtfilt(b, a, x)` with its defaults:
 * odd extension of 9 samples, each pass started in the steady state of its first sample. A constant passes
 * unchanged, and a ramp too once the start of each pass has died away (a few periods of the cut-off from the ends).
 *
 * @param x       n samples at a constant rate
 * @param filter  from `butterworthLowPass`; b1 = 2 b0 and b2 = b0 are taken for granted
 * @param out     receives the result; n samples; not `x` itself
 * @returns       `out`. Each run without a missing sample is filtered alone; runs under 30 samples become NaN.
 */
export function zeroPhase(x: Samples, filter: LowPass, out: Column = new Float64Array(x.length)): Column {
  zeroPhaseMany([x], filter, [out]);
  return out;
}

/**
 * `zeroPhase` of several columns of equal length. A recursive filter waits for its own last result, so columns run side
 * by side in one loop: several times faster than one after the other, with the same result to the last bit.
 *
 * @param columns  columns of n samples each
 * @param out      receives the results; as many columns of n samples; none of the inputs
 */
export function zeroPhaseMany(
  columns: readonly Samples[],
  filter: LowPass,
  out: readonly Column[] = columns.map((x) => new Float64Array(x.length)),
): Column[] {
  requireSameLength("out", out.length, columns.length);
  columns.forEach((x, c) => {
    requireSameLength(`column ${c}`, x.length, columns[0]!.length);
    requireSameLength(`out ${c}`, out[c]!.length, x.length);
  });
  const sampleCount = columns[0]?.length ?? 0;
  if (sampleCount >= SHORTEST_RUN_SAMPLES) {
    for (let c = 0; c < columns.length; c += LANES) filterLanes(columns, filter, out, c);
  }
  // A missing sample stays in the recursion to its end, so one look tells whether a column had any.
  columns.forEach((x, c) => {
    if (!Number.isFinite(out[c]![0] ?? 0) || sampleCount < SHORTEST_RUN_SAMPLES) filterRuns(x, filter, out[c]!);
  });
  return [...out];
}

/** The runs of valid samples one by one; NaN elsewhere. */
function filterRuns(x: Samples, filter: LowPass, out: Column): void {
  out.fill(Number.NaN);
  for (const { first, end } of validRuns(x)) {
    if (end - first < SHORTEST_RUN_SAMPLES) continue;
    filterLanes([x.subarray(first, end)], filter, [out.subarray(first, end)], 0);
  }
}

/** What a pass remembers of a lane: last input, sum of the last two inputs, last output, the output before. */
const LANE_STATE = 4;

/** Both passes over columns c and c + 1; the last of an odd number runs beside itself for nothing. */
function filterLanes(columns: readonly Samples[], filter: LowPass, out: readonly Column[], c: number): void {
  const d = Math.min(c + 1, columns.length - 1);
  const state = new Float64Array(LANES * LANE_STATE);
  const tail = new Float64Array(EDGE_SAMPLES);
  enter(columns[c]!, filter, state, 0);
  enter(columns[d]!, filter, state, 1);
  forwardTwo(columns[c]!, columns[d]!, out[c]!, out[d]!, filter, state);
  turnRound(columns[c]!, filter, state, tail, 0);
  turnRound(columns[d]!, filter, state, tail, 1);
  backTwo(out[c]!, out[d]!, filter, state);
}

/** Starts a lane in the steady state of the first extended sample and runs over the extension before sample 0. */
function enter(x: Samples, filter: LowPass, state: Float64Array, lane: number): void {
  settle(state, lane, 2 * x[0]! - x[EDGE_SAMPLES]!);
  for (let j = EDGE_SAMPLES; j > 0; j--) step(filter, state, lane, 2 * x[0]! - x[j]!);
}

/** Runs over the extension after the last sample, then back over its results, for which `tail` is room. */
function turnRound(x: Samples, filter: LowPass, state: Float64Array, tail: Float64Array, lane: number): void {
  const last = x.length - 1;
  for (let j = 0; j < EDGE_SAMPLES; j++) tail[j] = step(filter, state, lane, 2 * x[last]! - x[last - 1 - j]!);
  settle(state, lane, tail[EDGE_SAMPLES - 1]!);
  for (let j = EDGE_SAMPLES - 1; j >= 0; j--) step(filter, state, lane, tail[j]!);
}

/** The state after the same value for ever. */
function settle(state: Float64Array, lane: number, value: number): void {
  const at = lane * LANE_STATE;
  state[at] = value;
  state[at + 1] = 2 * value;
  state[at + 2] = value;
  state[at + 3] = value;
}

/** One sample of one lane: gain (x[i] + 2 x[i-1] + x[i-2]) - a2 y[i-2] - a1 y[i-1]. */
function step(filter: LowPass, state: Float64Array, lane: number, x: number): number {
  const at = lane * LANE_STATE;
  const pair = x + state[at]!;
  const y = filter.b0 * (pair + state[at + 1]!) - filter.a2 * state[at + 3]! - filter.a1 * state[at + 2]!;
  state[at] = x;
  state[at + 1] = pair;
  state[at + 3] = state[at + 2]!;
  state[at + 2] = y;
  return y;
}

/**
 * The hot loop: `step` of two lanes over all samples, state in local variables. The product with the last result comes
 * last, since that is what the next sample waits for.
 */
function forwardTwo(
  inA: Samples,
  inB: Samples,
  outA: Column,
  outB: Column,
  { b0, a1, a2 }: LowPass,
  state: Float64Array,
): void {
  let lastA = state[0]!;
  let pairA = state[1]!;
  let yA = state[2]!;
  let olderA = state[3]!;
  let lastB = state[4]!;
  let pairB = state[5]!;
  let yB = state[6]!;
  let olderB = state[7]!;
  const n = inA.length;
  for (let i = 0; i < n; i++) {
    const xA = inA[i]!;
    const xB = inB[i]!;
    const sumA = xA + lastA;
    const sumB = xB + lastB;
    const nextA = b0 * (sumA + pairA) - a2 * olderA - a1 * yA;
    const nextB = b0 * (sumB + pairB) - a2 * olderB - a1 * yB;
    lastA = xA;
    lastB = xB;
    pairA = sumA;
    pairB = sumB;
    olderA = yA;
    olderB = yB;
    yA = nextA;
    yB = nextB;
    outA[i] = nextA;
    outB[i] = nextB;
  }
  state.set([lastA, pairA, yA, olderA, lastB, pairB, yB, olderB]);
}

/**
 * `forwardTwo` from the last sample to the first, in place; both columns are read before one is written, so that they may be the same. Written out: one loop for both directions costs a seventh more
 * time (bench/chain.ts).
 */
function backTwo(a: Column, b: Column, { b0, a1, a2 }: LowPass, state: Float64Array): void {
  let lastA = state[0]!;
  let pairA = state[1]!;
  let yA = state[2]!;
  let olderA = state[3]!;
  let lastB = state[4]!;
  let pairB = state[5]!;
  let yB = state[6]!;
  let olderB = state[7]!;
  const n = a.length;
  for (let i = n - 1; i >= 0; i--) {
    const xA = a[i]!;
    const xB = b[i]!;
    const sumA = xA + lastA;
    const sumB = xB + lastB;
    const nextA = b0 * (sumA + pairA) - a2 * olderA - a1 * yA;
    const nextB = b0 * (sumB + pairB) - a2 * olderB - a1 * yB;
    lastA = xA;
    lastB = xB;
    pairA = sumA;
    pairB = sumB;
    olderA = yA;
    olderB = yB;
    yA = nextA;
    yB = nextB;
    a[i] = nextA;
    b[i] = nextB;
  }
}
