import type { Column, Where } from "@underfoot/domain";
import { c3dFindings, type Said } from "./c3d-findings.ts";
import type { C3dLayout } from "./c3d-layout.ts";
import { vaxReal } from "./c3d-numbers.ts";
import { type C3dParameters, countsOf, numbersOf, textsOf } from "./c3d-parameters.ts";

/** value = (raw - offset) * scale, one of each for every channel; GEN_SCALE is in the scale. */
export interface AnalogScaling {
  readonly offsets: readonly number[];
  readonly scales: readonly number[];
  readonly isUnsigned: boolean;
}

/** Bytes decoded at a time, so that a stretch stays in the processor's cache while its channels are taken apart. */
const STRETCH_BYTES = 32_768;

/** ANALOG:SCALE, OFFSET, GEN_SCALE and FORMAT, filled up with 1 and 0 where they are short. */
export function analogScaling(parameters: C3dParameters, layout: C3dLayout, where: Where, out: Said): AnalogScaling {
  const { channels } = layout;
  if (channels === 0) return { offsets: [], scales: [], isUnsigned: false };
  const isUnsigned = textsOf(parameters, "ANALOG:FORMAT")[0]?.toUpperCase() === "UNSIGNED";
  const general = numbersOf(parameters, "ANALOG:GEN_SCALE")?.[0] ?? 1;
  const isSound = Number.isFinite(general) && general !== 0;
  if (!isSound) out.say(c3dFindings.genScale(where, general));
  const scales = numbersOf(parameters, "ANALOG:SCALE") ?? [];
  const read = isUnsigned ? countsOf : numbersOf;
  const offsets = read(parameters, "ANALOG:OFFSET") ?? [];
  if (scales.length < channels) out.say(c3dFindings.analogScale(where, scales.length, channels));
  if (offsets.length < channels) out.say(c3dFindings.analogOffset(where, offsets.length, channels));
  const wrapped = (offset: number): number =>
    isUnsigned && !layout.isReal ? ((offset % 65_536) + 65_536) % 65_536 : offset;
  return {
    offsets: Array.from({ length: channels }, (_, c) => wrapped(offsets[c] ?? 0)),
    scales: Array.from({ length: channels }, (_, c) => (scales[c] ?? 1) * (isSound ? general : 1)),
    isUnsigned,
  };
}

interface Stretch {
  /** Byte of the channel's first sample in the stretch. */
  readonly at: number;
  readonly firstSample: number;
  readonly frames: number;
  readonly samplesPerFrame: number;
  readonly sampleBytes: number;
  readonly frameBytes: number;
}

type Decode = (view: DataView, stretch: Stretch, offset: number, scale: number, out: Column) => void;

/* One loop for each kind of number: a loop that asks for the kind at every value takes twice the time. */

const littleReals: Decode = (
  view,
  { at, firstSample, frames, samplesPerFrame, sampleBytes, frameBytes },
  offset,
  scale,
  out,
) => {
  let i = firstSample;
  for (let f = 0; f < frames; f++) {
    let from = at + f * frameBytes;
    for (let s = 0; s < samplesPerFrame; s++, from += sampleBytes)
      out[i++] = (view.getFloat32(from, true) - offset) * scale;
  }
};

const bigReals: Decode = (
  view,
  { at, firstSample, frames, samplesPerFrame, sampleBytes, frameBytes },
  offset,
  scale,
  out,
) => {
  let i = firstSample;
  for (let f = 0; f < frames; f++) {
    let from = at + f * frameBytes;
    for (let s = 0; s < samplesPerFrame; s++, from += sampleBytes)
      out[i++] = (view.getFloat32(from, false) - offset) * scale;
  }
};

const vaxReals: Decode = (
  view,
  { at, firstSample, frames, samplesPerFrame, sampleBytes, frameBytes },
  offset,
  scale,
  out,
) => {
  let i = firstSample;
  for (let f = 0; f < frames; f++) {
    let from = at + f * frameBytes;
    for (let s = 0; s < samplesPerFrame; s++, from += sampleBytes) out[i++] = (vaxReal(view, from) - offset) * scale;
  }
};

const integers =
  (isLittle: boolean, mask: number): Decode =>
  (view, { at, firstSample, frames, samplesPerFrame, sampleBytes, frameBytes }, offset, scale, out) => {
    let i = firstSample;
    for (let f = 0; f < frames; f++) {
      let from = at + f * frameBytes;
      // The mask keeps a signed number as it is (-1) or makes it unsigned (65535).
      for (let s = 0; s < samplesPerFrame; s++, from += sampleBytes) {
        out[i++] = ((view.getInt16(from, isLittle) & mask) - offset) * scale;
      }
    }
  };

function decoder({ isReal, processor }: C3dLayout, { isUnsigned }: AnalogScaling): Decode {
  if (!isReal) return integers(processor !== "mips", isUnsigned ? 65_535 : -1);
  if (processor === "dec") return vaxReals;
  return processor === "mips" ? bigReals : littleReals;
}

/** Turns what is no number into NaN. Returns how many there were. */
function clean(column: Column): number {
  let total = 0;
  for (let i = 0; i < column.length; i++) total += column[i]!;
  if (Number.isFinite(total)) return 0;
  let count = 0;
  for (let i = 0; i < column.length; i++) {
    if (!Number.isFinite(column[i]!)) {
      column[i] = Number.NaN;
      count++;
    }
  }
  return count;
}

/**
 * The analog channels, one column each, in the units of ANALOG:UNITS: (raw - OFFSET) * SCALE * GEN_SCALE in 64 bits.
 *
 * Eight bytes a value and nothing else is allocated: at most four times a file of 16-bit integers, twice one of reals.
 * What is no finite number becomes NaN and is counted in a finding.
 */
export function analogColumns(
  view: DataView,
  layout: C3dLayout,
  scaling: AnalogScaling,
  where: Where,
  out: Said,
): Column[] {
  const { channels, samplesPerFrame, frames, frameBytes, points, isReal, dataAt } = layout;
  const width = isReal ? 4 : 2;
  const columns = Array.from({ length: channels }, (): Column => new Float64Array(frames * samplesPerFrame));
  const decode = decoder(layout, scaling);
  const step = Math.max(1, Math.floor(STRETCH_BYTES / frameBytes));
  const analogAt = dataAt + 4 * points * width;
  for (let frame = 0; frame < frames; frame += step) {
    const stretch = {
      at: 0,
      firstSample: frame * samplesPerFrame,
      frames: Math.min(step, frames - frame),
      samplesPerFrame,
      sampleBytes: channels * width,
      frameBytes,
    };
    for (let c = 0; c < channels; c++) {
      stretch.at = analogAt + frame * frameBytes + c * width;
      decode(view, stretch, scaling.offsets[c]!, scaling.scales[c]!, columns[c]!);
    }
  }
  const missing = columns.map(clean);
  const touched = missing.filter((count) => count > 0).length;
  if (touched > 0)
    out.say(
      c3dFindings.analogNotFinite(
        where,
        missing.reduce((all, count) => all + count, 0),
        touched,
      ),
    );
  return columns;
}
