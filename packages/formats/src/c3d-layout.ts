import type { Where } from "@underfoot/domain";
import { c3dFindings, type Said } from "./c3d-findings.ts";
import type { C3dHeader } from "./c3d-header.ts";
import type { Processor } from "./c3d-numbers.ts";
import { type C3dParameters, countOf, countsOf, numbersOf } from "./c3d-parameters.ts";
import { c3dFaults } from "./faults.ts";

/** Where each number of the data section lies: what is believed after header, parameters and file size were compared. */
export interface C3dLayout {
  readonly processor: Processor;
  readonly isReal: boolean;
  readonly pointScale: number;
  readonly points: number;
  readonly channels: number;
  readonly samplesPerFrame: number;
  /** Whole frames that are there. */
  readonly frames: number;
  readonly framesAnnounced: number;
  readonly firstFrame: number;
  readonly frameRateHz: number;
  readonly analogRateHz: number;
  readonly dataAt: number;
  readonly frameBytes: number;
}

const BLOCK = 512;
const SATURATED = 65_535;
/** Two rates agree when they differ by less: 32-bit reals hold 7 digits, and rates are often typed with fewer. */
const RATE_TOLERANCE = 1e-3;

const isRate = (rateHz: number | undefined): rateHz is number =>
  rateHz !== undefined && Number.isFinite(rateHz) && rateHz > 0;
const isNear = (a: number, b: number): boolean => Math.abs(a - b) <= RATE_TOLERANCE * Math.abs(b);

/** A trial field: two unsigned words, low first, or one number. */
function trialField(parameters: C3dParameters, name: string): number | undefined {
  const words = countsOf(parameters, `TRIAL:${name}`);
  if (words === undefined || words.length === 0) return undefined;
  const field = (words[0] as number) + 65_536 * (words[1] ?? 0);
  return Number.isFinite(field) ? field : undefined;
}

function isRealOf(header: C3dHeader, parameters: C3dParameters, where: Where, out: Said): boolean {
  const written = numbersOf(parameters, "POINT:SCALE")?.[0];
  if (!Number.isFinite(header.scale) || header.scale === 0) return written !== undefined && written < 0;
  if (written !== undefined && written * header.scale < 0)
    out.guess(c3dFindings.scaleSign(where, header.scale, written));
  return header.scale < 0;
}

function pointScaleOf(header: C3dHeader, parameters: C3dParameters): number {
  const candidates = [header.scale, numbersOf(parameters, "POINT:SCALE")?.[0] ?? 1].map(Math.abs);
  return candidates.find((scale) => Number.isFinite(scale) && scale > 0) ?? 1;
}

function frameRateOf(header: C3dHeader, parameters: C3dParameters, where: Where, out: Said): number {
  const written = numbersOf(parameters, "POINT:RATE")?.[0];
  if (isRate(written)) {
    if (isRate(header.rateHz) && !isNear(written, header.rateHz))
      out.guess(c3dFindings.rate(where, written, header.rateHz));
    return written;
  }
  if (isRate(header.rateHz)) return header.rateHz;
  out.say(c3dFindings.noRate(where));
  return Number.NaN;
}

/** Frames as announced, by the first source that settles it; undefined where none does. */
function announcedFrames(header: C3dHeader, parameters: C3dParameters, where: Where, out: Said): number | undefined {
  const written = countOf(parameters, "POINT:FRAMES");
  const long = countOf(parameters, "POINT:LONG_FRAMES");
  const start = trialField(parameters, "ACTUAL_START_FIELD");
  const end = trialField(parameters, "ACTUAL_END_FIELD");
  const trial = start !== undefined && end !== undefined ? end - start + 1 : undefined;
  const span = header.lastFrame - header.firstFrame + 1;
  const isWhole = (frames: number | undefined): frames is number => frames !== undefined && frames >= 1;
  const sources = [
    written === SATURATED ? undefined : written,
    long,
    trial,
    header.lastFrame >= SATURATED || header.lastFrame < header.firstFrame ? undefined : span,
  ];
  const taken = sources.find(isWhole);
  if (taken === undefined) return undefined;
  const frames = Math.floor(taken);
  if (isWhole(trial) && trial !== frames) out.say(c3dFindings.framesTrial(where, trial, frames));
  if (isWhole(sources[3]) && sources[3] !== frames) {
    out.say(c3dFindings.frames(where, `${frames} and, by the header, ${sources[3]}`, frames));
  }
  return frames;
}

interface Sizes {
  readonly points: number;
  readonly channels: number;
  readonly width: number;
  readonly available: number;
  readonly frames: number | undefined;
}

const bytesPerFrame = ({ points, channels, width }: Sizes, samplesPerFrame: number): number =>
  width * (4 * points + channels * samplesPerFrame);

/** Do the announced frames fill the data to within one block? */
function fills(sizes: Sizes, samplesPerFrame: number): boolean {
  const left = sizes.available - (sizes.frames ?? 0) * bytesPerFrame(sizes, samplesPerFrame);
  return left >= 0 && left < BLOCK;
}

function samplesPerFrameOf(
  header: C3dHeader,
  sizes: Sizes,
  ratio: number | undefined,
  where: Where,
  out: Said,
): number {
  const { channels } = sizes;
  if (channels === 0) return 0;
  const written = header.samplesPerFrame;
  const isSettled = written >= 1 && written * channels === header.analogPerFrame;
  if (isSettled && (ratio === undefined || isNear(ratio, written))) return written;
  const candidates = [
    written,
    header.analogPerFrame / channels,
    ...(ratio === undefined ? [] : [Math.round(ratio)]),
  ].filter((candidate) => Number.isInteger(candidate) && candidate >= 1);
  const taken = candidates.find((candidate) => fills(sizes, candidate)) ?? candidates[0] ?? 1;
  if (candidates.some((candidate) => candidate !== taken) || !isSettled) {
    out.guess(c3dFindings.analogFrame(where, taken, [...new Set(candidates)].join(" and ") || "nothing"));
  }
  return taken;
}

function dataOffset(header: C3dHeader, parameters: C3dParameters, size: number, where: Where, out: Said): number {
  const isInside = (block: number | undefined): block is number =>
    block !== undefined && Number.isInteger(block) && block >= 2 && (block - 1) * BLOCK < size;
  if (isInside(header.dataBlock)) return (header.dataBlock - 1) * BLOCK;
  const written = countOf(parameters, "POINT:DATA_START");
  if (!isInside(written)) throw c3dFaults.dataBlock(where, header.dataBlock, Math.ceil(size / BLOCK));
  out.say(c3dFindings.dataStart(where, header.dataBlock, written));
  return (written - 1) * BLOCK;
}

function channelsOf(header: C3dHeader, parameters: C3dParameters, where: Where, out: Said): number {
  const written = countOf(parameters, "ANALOG:USED");
  const perSample = header.analogPerFrame / Math.max(1, header.samplesPerFrame);
  if (written === undefined || written < 0) return Math.floor(perSample);
  const isTold = written === perSample || written === header.analogPerFrame;
  if (!isTold) out.say(c3dFindings.analogUsed(where, written, perSample));
  return Math.floor(written);
}

function pointsOf(header: C3dHeader, parameters: C3dParameters, where: Where, out: Said): number {
  const written = countOf(parameters, "POINT:USED");
  if (written === undefined || written < 0) return header.points;
  if (written !== header.points) out.say(c3dFindings.points(where, written, header.points));
  return Math.floor(written);
}

function framesOf(
  sizes: Sizes,
  frameBytes: number,
  where: Where,
  out: Said,
): { frames: number; framesAnnounced: number } {
  const present = Math.floor(sizes.available / frameBytes);
  const framesAnnounced = sizes.frames ?? present;
  if (present < 1 && sizes.frames === undefined) throw c3dFaults.frames(where);
  if (present < 1) throw c3dFaults.truncated(where, framesAnnounced, sizes.available, frameBytes);
  if (sizes.frames === undefined) out.guess(c3dFindings.framesCounted(where, present));
  if (present < framesAnnounced) out.say(c3dFindings.truncated(where, framesAnnounced, present));
  const frames = Math.min(present, framesAnnounced);
  const left = sizes.available - frames * frameBytes;
  if (left >= BLOCK && present > framesAnnounced) out.say(c3dFindings.trailing(where, left));
  return { frames, framesAnnounced };
}

/**
 * What to believe where header, parameters and the file's own size disagree.
 *
 * Nothing is allocated by a number of the file: frames are counted against the bytes that are there.
 * Throws `data-block`, `no-data`, `frames`, `truncated` (not one whole frame).
 */
export function layoutFrom(
  header: C3dHeader,
  parameters: C3dParameters,
  { size, where }: { readonly size: number; readonly where: Where },
  out: Said,
): C3dLayout {
  const isReal = isRealOf(header, parameters, where, out);
  const points = pointsOf(header, parameters, where, out);
  const channels = channelsOf(header, parameters, where, out);
  if (points === 0 && channels === 0) throw c3dFaults.noData(where);
  const dataAt = dataOffset(header, parameters, size, where, out);
  const frameRateHz = frameRateOf(header, parameters, where, out);
  const analogRateHz = numbersOf(parameters, "ANALOG:RATE")?.[0];
  const ratio = isRate(analogRateHz) && isRate(frameRateHz) ? analogRateHz / frameRateHz : undefined;
  const announced = announcedFrames(header, parameters, where, out);
  const sizes: Sizes = { points, channels, width: isReal ? 4 : 2, available: size - dataAt, frames: announced };
  const samplesPerFrame = samplesPerFrameOf(header, sizes, ratio, where, out);
  const frameBytes = bytesPerFrame(sizes, samplesPerFrame);
  const product = frameRateHz * samplesPerFrame;
  // A frame rate such as 1000/3 is rounded to 32 bits; the analog rate, where it says the same, is not.
  const isSame = isRate(analogRateHz) && Math.abs(analogRateHz - product) < 1e-6 * product;
  return {
    processor: parameters.numbers.processor,
    isReal,
    pointScale: pointScaleOf(header, parameters),
    points,
    channels,
    samplesPerFrame,
    ...framesOf(sizes, frameBytes, where, out),
    firstFrame: trialField(parameters, "ACTUAL_START_FIELD") ?? header.firstFrame,
    frameRateHz,
    analogRateHz: channels === 0 ? frameRateHz : isSame ? analogRateHz : product,
    dataAt,
    frameBytes,
  };
}
