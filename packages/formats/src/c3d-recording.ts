import type { Recording, Where } from "@underfoot/domain";
import { analogColumns, analogScaling } from "./c3d-analog.ts";
import { channelsFrom, restoreGaps } from "./c3d-channels.ts";
import { eventsFrom } from "./c3d-events.ts";
import { c3dFindings, type Said, said } from "./c3d-findings.ts";
import { headerFrom, likelyProcessor } from "./c3d-header.ts";
import { type C3dLayout, layoutFrom } from "./c3d-layout.ts";
import { type NumberReader, numberReader, PROCESSOR_FROM_BYTE } from "./c3d-numbers.ts";
import { type C3dParameters, countOf, numbersOf, parametersFrom, textsOf } from "./c3d-parameters.ts";
import { lengthToMFrom } from "./c3d-plate-place.ts";
import { platesFrom } from "./c3d-plates.ts";
import { plausibleLoads } from "./c3d-plausible.ts";
import { markerTrails } from "./c3d-points.ts";
import { c3dFaults } from "./faults.ts";

export interface C3dOptions {
  /** Marker points take 24 bytes a point and frame and are needed only to be shown. */
  readonly markers?: "left-out" | "read";
}

const BLOCK = 512;
const KEY = 0x50;

interface Opened {
  readonly numbers: NumberReader;
  readonly parameterAt: number;
}

/** Checks the first block and finds in which numbers the file is written. */
export function opened(bytes: Uint8Array, where: Where, out: Said): Opened {
  if (bytes.length === 0) throw c3dFaults.empty(where);
  if (bytes.length > 1 && bytes[1] !== KEY) throw c3dFaults.notC3d(where, bytes[1] as number);
  if (bytes.length < BLOCK) throw c3dFaults.shortHeader(where, bytes.length);
  const block = bytes[0] as number;
  const parameterAt = (block - 1) * BLOCK;
  if (block < 2 || parameterAt + 4 > bytes.length) {
    throw c3dFaults.paramBlockOutside(where, block, Math.ceil(bytes.length / BLOCK));
  }
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const byte = bytes[parameterAt + 3] as number;
  const known = PROCESSOR_FROM_BYTE[byte];
  if (known !== undefined) return { numbers: numberReader(view, known), parameterAt };
  const likely = likelyProcessor(view);
  if (likely === undefined) throw c3dFaults.processor(where, byte);
  out.guess(c3dFindings.processor(where, byte, likely));
  return { numbers: numberReader(view, likely), parameterAt };
}

/** The facts of the group UNDERFOOT, as they stand. */
function ownFacts(parameters: C3dParameters): Record<string, string | number> {
  const facts: Record<string, string | number> = {};
  for (const [key, name] of [
    ["shot", "SHOT"],
    ["player", "PSEUDONYM"],
    ["handed", "HANDED"],
    ["axes", "AXES"],
  ] as const) {
    const [text] = textsOf(parameters, `UNDERFOOT:${name}`);
    if (text) facts[key] = text;
  }
  for (const [key, name] of [
    ["pitchDeg", "PITCH"],
    ["rollDeg", "ROLL"],
  ] as const) {
    const number = numbersOf(parameters, `UNDERFOOT:${name}`)?.[0];
    if (number !== undefined) facts[key] = number;
  }
  const [x, y, z] = numbersOf(parameters, "UNDERFOOT:TARGET") ?? [];
  if (x !== undefined && y !== undefined && z !== undefined)
    Object.assign(facts, { targetX: x, targetY: y, targetZ: z });
  return facts;
}

function aboutFile(parameters: C3dParameters, layout: C3dLayout): Recording["about"] {
  return {
    processor: layout.processor,
    numbers: layout.isReal ? "real" : "integer",
    frames: layout.frames,
    framesAnnounced: layout.framesAnnounced,
    firstFrame: layout.firstFrame,
    pointRateHz: layout.frameRateHz,
    points: layout.points,
    pointUnits: textsOf(parameters, "POINT:UNITS")[0] ?? "",
    channels: layout.channels,
    samplesPerFrame: layout.samplesPerFrame,
    ...ownFacts(parameters),
  };
}

/**
 * A C3D file as a recording: channels in the file's physical units, plates, events, what had to be guessed.
 *
 * Reads Intel, DEC and MIPS numbers, integers and reals. No length, count or pointer of the file is trusted: each is
 * checked against the bytes that are there, and what was wrong is told in `findings`, what was guessed also in `guesses`.
 * Memory beside the file itself: eight bytes an analog value (at most 4 times the file), and 24 a point if markers are read.
 * Texts that may name a person (subjects, descriptions, groups of other programs) are not read.
 *
 * @param bytes  the whole file; kept by nobody, not changed
 * @param where  the file's name, put into findings and errors
 * @throws UnderfootError `empty`, `not-c3d`, `short-header`, `param-block-outside`, `processor`, `data-block`, `no-data`,
 *         `frames`, `truncated` (not one whole frame); nothing else, whatever the bytes
 * Source: The C3D File Format User Guide and the pages of c3d.org.
 */
export function recordingFromC3d(
  bytes: Uint8Array,
  where: Where = {},
  { markers = "left-out" }: C3dOptions = {},
): Recording {
  const out = said();
  const { numbers, parameterAt } = opened(bytes, where, out);
  const header = headerFrom(numbers);
  const dataAt = (header.dataBlock - 1) * BLOCK;
  const parameters = parametersFrom(numbers, bytes, { at: parameterAt, dataAt, where }, out);
  const layout = layoutFrom(header, parameters, { size: bytes.length, where }, out);
  const scaling = analogScaling(parameters, layout, where, out);
  const isOwn = parameters.byName.has("UNDERFOOT:SAMPLES");
  const present = layout.frames * layout.samplesPerFrame;
  const kept = isOwn
    ? Math.min(present, Math.max(0, Math.floor(countOf(parameters, "UNDERFOOT:SAMPLES") ?? present)))
    : present;
  const columns = analogColumns(numbers.view, layout, scaling, where, out).map((column) =>
    kept < column.length ? column.subarray(0, kept) : column,
  );
  if (isOwn) restoreGaps(columns, parameters);
  if (layout.channels === 0) out.say(c3dFindings.noAnalog(where));
  const channels = channelsFrom(columns, parameters, { layout, scaling, isOwn, where }, out);
  const plates = layout.channels === 0 ? [] : platesFrom(parameters, { layout, channels, where }, out);
  plausibleLoads(channels, plates, kept, where, out);
  return {
    format: "c3d",
    rateHz: layout.analogRateHz,
    sampleCount: kept,
    channels,
    plates,
    events: eventsFrom(numbers, bytes, parameters, layout, where, out),
    markers:
      markers === "read" ? markerTrails(numbers, parameters, layout, lengthToMFrom(parameters, where, said())) : [],
    about: aboutFile(parameters, layout),
    findings: out.findings,
    guesses: out.guesses,
  };
}
