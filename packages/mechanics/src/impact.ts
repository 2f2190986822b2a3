import type { Channel, Samples } from "@underfoot/domain";
import { butterworthLowPass, zeroPhase } from "@underfoot/signal";

/** A trigger's step must stand out from its usual change between samples by this factor (ours). */
const TRIGGER_TIMES_NOISE = 20;
/** A sound's energy must jump by this factor over the running median (mechanics, events) ... */
const SOUND_TIMES_MEDIAN = 8;
/** ... reach this share of the channel's loudest millisecond, which itself must stand out by this factor (ours). */
const SOUND_SHARE_OF_LOUDEST = 0.1;
const SOUND_LOUDEST_TIMES_MEDIAN = 64;
const SOUND_BLOCK_S = 0.001;
const SOUND_MEDIAN_S = 0.5;
const SOUND_BAND_HZ = 1000;

/** An impact read off a signal channel. */
export interface SignalImpact {
  readonly timeS: number;
  readonly sigmaMs: number;
}

/** After an impact nothing is another one for this long, s: a trigger that bounces, the echo of a strike (ours). */
const DEAD_TIME_S = 1;

/**
 * Impact from a trigger: the first rising edge through half its step, straight between the two samples around it;
 * sigma half a sample. Undefined where the channel holds no step.
 */
export function triggerImpact(channel: Pick<Channel, "values">, rateHz: number): SignalImpact | undefined {
  return triggerImpacts(channel, rateHz).next().value;
}

/** Every impact of a trigger, as `triggerImpact` finds the first: half the step is that of the whole channel. */
export function* triggerImpacts(
  { values }: Pick<Channel, "values">,
  rateHz: number,
): Generator<SignalImpact, undefined> {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    if (values[i]! < low) low = values[i]!;
    if (values[i]! > high) high = values[i]!;
  }
  if (!(high - low > TRIGGER_TIMES_NOISE * medianChange(values))) return;
  const half = (low + high) / 2;
  let deadUntilS = Number.NEGATIVE_INFINITY;
  for (let i = 1; i < values.length; i++) {
    const before = values[i - 1]!;
    const now = values[i]!;
    if (!(before < half && now >= half)) continue;
    const timeS = (i - 1 + (half - before) / (now - before)) / rateHz;
    if (timeS >= deadUntilS) yield { timeS, sigmaMs: 500 / rateHz };
    deadUntilS = timeS + DEAD_TIME_S;
  }
}

function medianChange(values: Samples): number {
  const changes = new Float64Array(Math.max(0, values.length - 1));
  for (let i = 0; i < changes.length; i++) changes[i] = Math.abs(values[i + 1]! - values[i]!);
  return medianOf(changes);
}

/** Median of finite numbers; 0 for none. */
function medianOf(values: Float64Array): number {
  const sorted = values.filter(Number.isFinite).sort();
  return sorted.length === 0 ? 0 : sorted[sorted.length >> 1]!;
}

/**
 * Impact from sound: the first millisecond whose energy (1 kHz and up, or what the channel's rate leaves) is 8 times the
 * median of the half second before and a tenth of the loudest millisecond; sigma 1 ms. The way of the sound from the ball,
 * 2.9 ms a metre, is taken off with `distanceM`. Undefined where nothing stands out.
 */
export function soundImpact(
  channel: Pick<Channel, "values">,
  rateHz: number,
  options: SoundOptions = {},
): SignalImpact | undefined {
  return soundImpacts(channel, rateHz, options).next().value;
}

export interface SoundOptions {
  /** From the ball to the microphone. */
  readonly distanceM?: number;
  readonly soundMPerS?: number;
}

/** Every impact that is heard, as `soundImpact` finds the first: a tenth of the loudest millisecond of the whole channel. */
export function* soundImpacts(
  { values }: Pick<Channel, "values">,
  rateHz: number,
  { distanceM = 0, soundMPerS = 343 }: SoundOptions = {},
): Generator<SignalImpact, undefined> {
  const high = highPassed(values, rateHz);
  const block = Math.max(1, Math.round(SOUND_BLOCK_S * rateHz));
  const energies = new Float64Array(Math.floor(high.length / block));
  let loudest = 0;
  for (let b = 0; b < energies.length; b++) {
    let energy = 0;
    for (let i = b * block; i < (b + 1) * block; i++) energy += high[i]! * high[i]!;
    energies[b] = energy;
    if (energy > loudest) loudest = energy;
  }
  const usual = medianOf(energies);
  if (!(loudest > SOUND_LOUDEST_TIMES_MEDIAN * usual)) return;
  const span = Math.round((SOUND_MEDIAN_S * rateHz) / block);
  let deadUntil = 0;
  for (let b = 1; b < energies.length; b++) {
    if (!(energies[b]! >= SOUND_SHARE_OF_LOUDEST * loudest) || b * block < deadUntil) continue;
    const before = medianOf(energies.subarray(Math.max(0, b - span), b));
    if (energies[b]! < SOUND_TIMES_MEDIAN * before) continue;
    const quietest = Math.sqrt((SOUND_TIMES_MEDIAN * before) / block);
    let i = b * block;
    while (i < (b + 1) * block - 1 && Math.abs(high[i]!) <= quietest) i++;
    deadUntil = i + DEAD_TIME_S * rateHz;
    yield { timeS: i / rateHz - distanceM / soundMPerS, sigmaMs: 1 };
  }
}

/** What is above 1 kHz, or above a quarter of the rate's half where the rate is low. */
function highPassed(values: Samples, rateHz: number): Float64Array {
  const cutoffHz = Math.min(SOUND_BAND_HZ, rateHz / 8);
  const low = zeroPhase(values, butterworthLowPass({ cutoffHz, rateHz }));
  const high = new Float64Array(values.length);
  for (let i = 0; i < high.length; i++) high[i] = values[i]! - low[i]!;
  return high;
}

/** The sample of the largest value; -1 where there is none. */
export function largestSample(values: Samples): number {
  let at = -1;
  let largest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    if (values[i]! > largest) {
      largest = values[i]!;
      at = i;
    }
  }
  return at;
}
