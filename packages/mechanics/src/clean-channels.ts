import type { Column, Finding, PlateDescription, Recording } from "@underfoot/domain";
import { bridgedGaps, type Despiked, withoutSpikes } from "@underfoot/signal";
import { plateFindings } from "./faults.ts";
import { markSaturated } from "./saturation.ts";

/** Longest gap that is filled, s (formats: live stream, receiver). */
const LONGEST_BRIDGE_S = 0.005;

/** A spike stands out from the channel's noise by this many sd; mean change between samples of white noise to its sd: sqrt(pi) / 2. */
const SPIKE_SD = 6;
const CHANGE_TO_SD = Math.sqrt(Math.PI) / 2;

/** A plate's channels ready for calibration. */
export interface CleanChannels {
  /** Own copies, in the units of the recording; n samples each, NaN where missing. */
  readonly columns: Column[];
  readonly isSaturated: Uint8Array;
  /** Samples that were filled in at least one channel. */
  readonly bridgedCount: number;
  readonly findings: readonly Finding[];
}

/**
 * Copies of a plate's channels without single spikes (Hampel identifier, counted in a finding) and with gaps of up to 5 ms filled by a cubic; what is longer stays NaN. A channel of role
 * `gap` marks samples that the writer made up: they are missing. A channel that the plate lacks (-1) is 0 throughout.
 *
 * @param isRepaired  false: only what is missing is marked, spikes and gaps stay
 * @param untouched   positions in `plate.channels` whose jumps are no spikes (CoP of an unloaded plate of type 1)
 */
export function cleanChannels(
  recording: Recording,
  plate: PlateDescription,
  { isRepaired, untouched }: { readonly isRepaired: boolean; readonly untouched: readonly number[] },
): CleanChannels {
  const { sampleCount, rateHz, channels } = recording;
  const isSaturated = new Uint8Array(sampleCount);
  const isBridged = new Uint8Array(sampleCount);
  const isMissing = gapMarks(recording);
  const maxSamples = Math.floor(LONGEST_BRIDGE_S * rateHz + 1e-9);
  const findings: Finding[] = [];
  let missing = 0;
  let replaced = 0;
  let left = 0;
  let firstMissing = 0;
  const columns = plate.channels.map((at, c) => {
    const channel = channels[at];
    if (channel === undefined) return new Float64Array(sampleCount);
    markSaturated(channel, isSaturated);
    const raw = Float64Array.from(channel.values);
    const holes = punchHoles(raw, isMissing);
    const calm = !isRepaired || untouched.includes(c) ? undefined : withoutSpikes(raw);
    if (calm !== undefined && calm.replacedCount > 0) replaced += spikesKept(raw, calm);
    left += calm?.leftCount ?? 0;
    const values = calm?.values ?? raw;
    if (holes === 0 || !isRepaired) return values;
    const bridged = bridgedGaps(values, { maxSamples });
    for (let i = 0; i < sampleCount; i++) if (bridged.isBridged[i] === 1) isBridged[i] = 1;
    if (holes - bridged.count > missing) {
      missing = holes - bridged.count;
      firstMissing = bridged.values.findIndex(Number.isNaN);
    }
    return bridged.values;
  });
  const bridgedCount = countOnes(isBridged);
  if (bridgedCount > 0) findings.push(plateFindings.bridged(plate.index, bridgedCount));
  if (replaced > 0) findings.push(plateFindings.spikes(plate.index, replaced));
  if (left > 0) findings.push(plateFindings.spikesLeft(plate.index, left));
  if (missing > 0) findings.push(plateFindings.gaps(plate.index, missing, firstMissing / rateHz));
  const saturated = countOnes(isSaturated);
  if (saturated > 0) {
    const last = isSaturated.lastIndexOf(1);
    findings.push(plateFindings.saturated(plate.index, saturated, isSaturated.indexOf(1) / rateHz, last / rateHz));
  }
  return { columns, isSaturated, bridgedCount, findings };
}

/**
 * Puts back what was no spike but noise: among 11 samples of plain noise the MAD is now and then small, so that about one
 * sample in 500 is called out. A spike also stands out from the channel's usual change between samples. Gives how many
 * replacements stand.
 */
function spikesKept(raw: Column, { values, isReplaced }: Despiked): number {
  let change = 0;
  let count = 0;
  for (let i = 1; i < raw.length; i++) {
    const step = Math.abs(raw[i]! - raw[i - 1]!);
    if (Number.isNaN(step) || isReplaced[i] === 1 || isReplaced[i - 1] === 1) continue;
    change += step;
    count++;
  }
  const least = (SPIKE_SD * CHANGE_TO_SD * change) / count;
  let kept = 0;
  for (let i = 0; i < raw.length; i++) {
    if (isReplaced[i] === 0) continue;
    if (Math.abs(raw[i]! - values[i]!) > least) kept++;
    else values[i] = raw[i]!;
  }
  return kept;
}

function gapMarks(recording: Recording): Uint8Array | undefined {
  const gap = recording.channels.find((channel) => channel.role === "gap");
  if (gap === undefined) return undefined;
  return Uint8Array.from(gap.values, (value) => (value >= 0.5 ? 1 : 0));
}

/** NaN where marked missing or not finite; gives how many samples are missing. */
function punchHoles(column: Column, isMissing: Uint8Array | undefined): number {
  let holes = 0;
  for (let i = 0; i < column.length; i++) {
    if (Number.isFinite(column[i]!) && isMissing?.[i] !== 1) continue;
    column[i] = Number.NaN;
    holes++;
  }
  return holes;
}

function countOnes(marks: Uint8Array): number {
  let count = 0;
  for (let i = 0; i < marks.length; i++) count += marks[i]!;
  return count;
}
