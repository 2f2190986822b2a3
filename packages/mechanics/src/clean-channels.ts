import type { Column, Finding, PlateDescription, Recording } from "@underfoot/domain";
import { bridgedGaps } from "@underfoot/signal";
import { calmed } from "./calmed.ts";
import { plateFindings } from "./faults.ts";
import { markSaturated } from "./saturation.ts";

/** Longest gap that is filled, s (formats: live stream, receiver). */
const LONGEST_BRIDGE_S = 0.005;

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
 * `gap` (`gapK` of plate K alone) marks samples that the writer made up: they are missing. A channel that the plate lacks (-1) is 0 throughout.
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
  const isMissing = gapMarks(recording, plate);
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
    const calm = isRepaired && !untouched.includes(c) ? calmed(raw) : { values: raw, replacedCount: 0, leftCount: 0 };
    replaced += calm.replacedCount;
    left += calm.leftCount;
    const { values } = calm;
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

/** A gap channel that concerns one plate alone carries the plate's number: gap2. */
const GAP_OF_PLATE = /^gap(\d+)$/i;

/** 1 where a gap channel of this plate, or of all, marks a sample as made up. */
function gapMarks({ channels, sampleCount }: Recording, plate: PlateDescription): Uint8Array | undefined {
  const gaps = channels.filter(({ role, label }) => {
    const number = GAP_OF_PLATE.exec(label.trim())?.[1];
    return role === "gap" && (number === undefined || Number(number) === plate.index);
  });
  if (gaps.length === 0) return undefined;
  const marks = new Uint8Array(sampleCount);
  for (const { values } of gaps) for (let i = 0; i < sampleCount; i++) if (values[i]! >= 0.5) marks[i] = 1;
  return marks;
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
