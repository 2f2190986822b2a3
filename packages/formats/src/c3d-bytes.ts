import { type Samples, VERSION, type Vector } from "@underfoot/domain";
import type { C3dContent, C3dPlate } from "./c3d-content.ts";
import { eventGroups, headerEvents } from "./c3d-event-bytes.ts";
import { type C3dGroup, integers, parameterBytes, reals, texts } from "./c3d-parameter-bytes.ts";

interface OutChannel {
  readonly label: string;
  readonly unit: string;
  readonly description: string;
  readonly values: Samples;
  /** File units per unit of `values`. */
  readonly factor: number;
  readonly fullScale: number | undefined;
}

const BLOCK = 512;
const LARGEST_WORD = 65535;
const MM_PER_M = 1000;
/** Just below the surface, so that readers which test the sign of the third number do nothing. */
const SURFACE_ORIGIN_M: Vector = { x: 0, y: 0, z: -1e-6 };
const NAMES: Readonly<Record<1 | 2 | 3 | 4, readonly string[]>> = {
  1: ["Fx", "Fy", "Fz", "Px", "Py", "Mz"],
  2: ["Fx", "Fy", "Fz", "Mx", "My", "Mz"],
  3: ["Fx12", "Fx34", "Fy14", "Fy23", "Fz1", "Fz2", "Fz3", "Fz4"],
  4: ["S1", "S2", "S3", "S4", "S5", "S6"],
};

function unitOf(name: string, plate: C3dPlate): { unit: string; factor: number } {
  if (plate.type === 4) return { unit: plate.unit ?? "V", factor: 1 };
  if (name.startsWith("M")) return { unit: "Nmm", factor: MM_PER_M };
  if (name.startsWith("P")) return { unit: "mm", factor: MM_PER_M };
  return { unit: "N", factor: 1 };
}

function plateChannels(plate: C3dPlate, k: number): OutChannel[] {
  const names = NAMES[plate.type ?? 2];
  if (plate.columns.length !== names.length) {
    throw new RangeError(
      `plate ${k} of type ${plate.type ?? 2} needs ${names.length} columns, got ${plate.columns.length}`,
    );
  }
  return names.map((name, c) => ({
    label: plate.type === 3 ? `${name} p${k}` : `${name}${k}`,
    ...unitOf(name, plate),
    description: `plate ${k}`,
    values: plate.columns[c] as Samples,
    fullScale: plate.fullScale?.[c],
  }));
}

/** 1 where any column of the plate is missing; undefined where none is. */
function gapColumn(plate: C3dPlate): Samples | undefined {
  const length = plate.columns[0]?.length ?? 0;
  let gap: Float64Array | undefined;
  for (const column of plate.columns) {
    for (let i = 0; i < length; i++) {
      if (Number.isNaN(column[i]!)) {
        gap ??= new Float64Array(length);
        gap[i] = 1;
      }
    }
  }
  return gap;
}

/** One channel `gap` where all plates miss the same samples, else `gapK` for each plate that misses some. */
function gapChannels(plates: readonly C3dPlate[]): OutChannel[] {
  const gaps = plates.map(gapColumn);
  const shared = gaps[0];
  const isShared = shared !== undefined && gaps.every((gap) => gap?.every((value, i) => value === shared[i]));
  return gaps.flatMap((values, k) => {
    if (values === undefined || (isShared && k > 0)) return [];
    const label = isShared ? "gap" : `gap${k + 1}`;
    return [{ label, unit: "", description: "1 where no sample came", values, factor: 1, fullScale: 1 }];
  });
}

function channelsOf(content: C3dContent): OutChannel[] {
  const plates = content.plates.flatMap((plate, k) => plateChannels(plate, k + 1));
  const extras = (content.extras ?? []).map(({ label, unit, values, fullScale }) => ({
    label,
    unit,
    description: "",
    values,
    factor: 1,
    fullScale,
  }));
  return [...plates, ...extras, ...gapChannels(content.plates)];
}

/** Scale of one 16-bit channel: file units per count, from the converter's end or the largest value. */
function integerScale(channel: OutChannel): number {
  let largest = channel.fullScale ?? 0;
  if (channel.fullScale === undefined) {
    for (let i = 0; i < channel.values.length; i++) largest = Math.max(largest, Math.abs(channel.values[i]!) || 0);
  }
  return Math.fround((largest === 0 ? 1 : largest * channel.factor) / 32767);
}

function framing(content: C3dContent, sampleCount: number): { samplesPerFrame: number; frames: number } {
  let samplesPerFrame = content.samplesPerFrame ?? 1;
  if (content.samplesPerFrame === undefined) {
    while (sampleCount / samplesPerFrame > LARGEST_WORD) samplesPerFrame *= 2;
  }
  return { samplesPerFrame, frames: Math.ceil(sampleCount / samplesPerFrame) };
}

function plateGroup(plates: readonly C3dPlate[]): C3dGroup {
  const widest = Math.max(6, ...plates.map((plate) => plate.columns.length));
  let next = 1;
  const channel = plates.flatMap((plate) =>
    Array.from({ length: widest }, (_, c) => (c < plate.columns.length ? next++ : 0)),
  );
  const corners = plates.flatMap((plate) =>
    plate.cornersM.flatMap(({ x, y, z }) => [x, y, z].map((m) => m * MM_PER_M)),
  );
  const origin = plates.flatMap(({ originM: { x, y, z } = SURFACE_ORIGIN_M }) => [x, y, z].map((m) => m * MM_PER_M));
  const matrix = plates.flatMap((plate) =>
    Array.from({ length: 36 }, (_, i) => {
      const row = i % 6;
      return (plate.matrix?.[row]?.[Math.floor(i / 6)] ?? 0) * (row < 3 ? 1 : MM_PER_M);
    }),
  );
  const hasMatrix = plates.some((plate) => plate.matrix !== undefined);
  return {
    name: "FORCE_PLATFORM",
    parameters: [
      ["USED", integers([plates.length])],
      [
        "TYPE",
        integers(
          plates.map((plate) => plate.type ?? 2),
          [plates.length],
        ),
      ],
      ["ZERO", integers([0, 0])],
      ["CORNERS", reals(corners, [3, 4, plates.length])],
      ["ORIGIN", reals(origin, [3, plates.length])],
      ["CHANNEL", integers(channel, [widest, plates.length])],
      ...(hasMatrix ? ([["CAL_MATRIX", reals(matrix, [6, 6, plates.length])]] as const) : []),
    ],
  };
}

function factsGroup({ facts = {} }: C3dContent, sampleCount: number): C3dGroup {
  const { shot, pseudonym, handed, pitchDeg, rollDeg, target } = facts;
  return {
    name: "UNDERFOOT",
    parameters: [
      ["SAMPLES", reals([sampleCount]), "samples of each channel"],
      ["AXES", texts(["turf"])],
      ...(shot === undefined ? [] : ([["SHOT", texts([shot])]] as const)),
      ...(pseudonym === undefined ? [] : ([["PSEUDONYM", texts([pseudonym])]] as const)),
      ...(handed === undefined ? [] : ([["HANDED", texts([handed])]] as const)),
      ...(pitchDeg === undefined ? [] : ([["PITCH", reals([pitchDeg]), "degrees, + rises to the target"]] as const)),
      ...(rollDeg === undefined ? [] : ([["ROLL", reals([rollDeg]), "degrees, + rises to the ball"]] as const)),
      ...(target === undefined ? [] : ([["TARGET", reals([target.x, target.y, target.z])]] as const)),
    ],
  };
}

/** FRAMES, and the two words of a trial field: low word first. */
const trialField = (frame: number): number[] => [frame & 0xffff, Math.floor(frame / 65536)];

interface Layout {
  readonly channels: readonly OutChannel[];
  readonly scales: readonly number[];
  readonly sampleCount: number;
  readonly samplesPerFrame: number;
  readonly frames: number;
  readonly isReal: boolean;
}

function groupsOf(content: C3dContent, layout: Layout, dataBlock: number): C3dGroup[] {
  const { channels, scales, samplesPerFrame, frames, isReal, sampleCount } = layout;
  const frameRateHz = content.rateHz / samplesPerFrame;
  return [
    {
      name: "POINT",
      parameters: [
        ["USED", integers([0])],
        ["SCALE", reals([isReal ? -1 : 1])],
        ["RATE", reals([frameRateHz])],
        ["DATA_START", integers([dataBlock])],
        ["FRAMES", integers([Math.min(frames, LARGEST_WORD)])],
        ["UNITS", texts(["mm"])],
        ["LABELS", texts([])],
        ["DESCRIPTIONS", texts([])],
      ],
    },
    {
      name: "ANALOG",
      parameters: [
        ["USED", integers([channels.length])],
        ["RATE", reals([content.rateHz])],
        ["GEN_SCALE", reals([1])],
        ["SCALE", reals(scales, [channels.length])],
        [
          "OFFSET",
          integers(
            channels.map(() => 0),
            [channels.length],
          ),
        ],
        ["UNITS", texts(channels.map(({ unit }) => unit))],
        ["LABELS", texts(channels.map(({ label }) => label))],
        ["DESCRIPTIONS", texts(channels.map(({ description }) => description))],
        ["FORMAT", texts(["SIGNED"])],
        ["BITS", integers([16])],
      ],
    },
    ...(content.plates.length === 0 ? [] : [plateGroup(content.plates)]),
    ...eventGroups(content.events ?? []),
    {
      name: "TRIAL",
      parameters: [
        ["ACTUAL_START_FIELD", integers(trialField(1))],
        ["ACTUAL_END_FIELD", integers(trialField(frames))],
      ],
    },
    {
      name: "MANUFACTURER",
      parameters: [
        ["SOFTWARE", texts(["Underfoot"])],
        ["VERSION_LABEL", texts([VERSION])],
      ],
    },
    factsGroup(content, sampleCount),
  ];
}

function writeHeader(view: DataView, content: C3dContent, layout: Layout, dataBlock: number): void {
  const { channels, samplesPerFrame, frames, isReal } = layout;
  view.setUint8(0, 2);
  view.setUint8(1, 0x50);
  view.setUint16(4, channels.length * samplesPerFrame, true);
  view.setUint16(6, 1, true);
  view.setUint16(8, Math.min(frames, LARGEST_WORD), true);
  view.setFloat32(12, isReal ? -1 : 1, true);
  view.setUint16(16, dataBlock, true);
  view.setUint16(18, samplesPerFrame, true);
  view.setFloat32(20, content.rateHz / samplesPerFrame, true);
  headerEvents(view, content.events ?? []);
}

/** Samples in time order, all channels of a sample together. A missing value repeats the last one; the channel `gap` tells. */
function writeSamples(view: DataView, dataAt: number, layout: Layout): void {
  const { channels, scales, samplesPerFrame, frames, isReal, sampleCount } = layout;
  const width = isReal ? 4 : 2;
  const stride = channels.length * width;
  channels.forEach((channel, c) => {
    const perUnit = isReal ? channel.factor : channel.factor / scales[c]!;
    let at = dataAt + c * width;
    let last = 0;
    for (let i = 0; i < frames * samplesPerFrame; i++) {
      const value = i < sampleCount ? channel.values[i]! : Number.NaN;
      if (!Number.isNaN(value)) last = value * perUnit;
      if (isReal) view.setFloat32(at, last, true);
      else view.setInt16(at, Math.max(-32768, Math.min(32767, Math.round(last))), true);
      at += stride;
    }
  });
}

/**
 * A recording as a C3D file: Intel numbers, parameters from block 2, no points, at the end whole blocks.
 *
 * Real numbers are 32 bit: what is read back is within 6e-8 relative of what was given. In 16-bit files each channel is
 * rounded to its full scale / 32767 and cut at it. Lengths are written in mm and moments in N mm (C3D's rule: force
 * times POINT:UNITS). Missing samples repeat the last value and a channel `gap` (or `gapK`, of plate K) is 1 there.
 *
 * Throws a RangeError where columns differ in length or do not fit the plate's type, and where the format's limits
 * (255 channels, 65535 values a frame) are passed.
 * Source: The C3D File Format User Guide (c3d.org), header, parameter and data sections.
 */
export function c3dBytes(content: C3dContent): Uint8Array<ArrayBuffer> {
  const channels = channelsOf(content);
  const sampleCount = channels[0]?.values.length ?? 0;
  for (const { label, values } of channels) {
    if (values.length !== sampleCount)
      throw new RangeError(`channel ${label} has ${values.length} samples, not ${sampleCount}`);
  }
  if (sampleCount === 0) throw new RangeError("there is no sample to write");
  const isReal = content.numbers !== "integer";
  const scales = channels.map((channel) => (isReal ? 1 : integerScale(channel)));
  const layout: Layout = { channels, scales, sampleCount, isReal, ...framing(content, sampleCount) };
  const dataBlock = 2 + parameterBytes(groupsOf(content, layout, 0)).length / BLOCK;
  const parameters = parameterBytes(groupsOf(content, layout, dataBlock));
  const dataLength = layout.frames * layout.samplesPerFrame * channels.length * (isReal ? 4 : 2);
  const dataAt = (dataBlock - 1) * BLOCK;
  const bytes = new Uint8Array(dataAt + Math.ceil(dataLength / BLOCK) * BLOCK);
  const view = new DataView(bytes.buffer);
  writeHeader(view, content, layout, dataBlock);
  bytes.set(parameters, BLOCK);
  writeSamples(view, dataAt, layout);
  return bytes;
}
