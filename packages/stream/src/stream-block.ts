import { crc32 } from "./crc32.ts";
import { streamFaults } from "./stream-faults.ts";

/** How a sample is stored: int16, int32 or float32, little endian. */
export const SAMPLE_FORMATS = ["i16", "i32", "f32"] as const;
export type SampleFormat = (typeof SAMPLE_FORMATS)[number];

const SAMPLE_BYTES: Readonly<Record<SampleFormat, number>> = { i16: 2, i32: 4, f32: 4 };
const HEADER_BYTES = 40;
const CRC_AT = 36;
/** "UFB1" as a little-endian number. */
const MAGIC = 0x31424655;
const MOST_BLOCK_BYTES = 65536;
const MOST_CHANNELS = 64;
const TWO_32 = 2 ** 32;

/** Some samples of one stream, as they travel: the raw numbers of the device. */
export interface StreamBlock {
  readonly streamId: number;
  /** +1 a block; after 2^32 - 1 comes 0. */
  readonly sequence: number;
  /** Index of the first sample since the stream began; samples that were lost are counted. */
  readonly firstSample: number;
  /** Device clock of the first sample. */
  readonly ticks: bigint;
  readonly sampleCount: number;
  readonly channelCount: number;
  readonly format: SampleFormat;
  /** False: `ticks` says nothing. */
  readonly isClockValid: boolean;
  /** The device lost samples before this block. */
  readonly hasLostBefore: boolean;
  readonly isClockSetAnew: boolean;
  readonly isResent: boolean;
  /** sampleCount x channelCount numbers in `format`, channels within a sample. */
  readonly payload: Uint8Array;
}

const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
const crcOfBlock = (bytes: Uint8Array): number => crc32(bytes.subarray(HEADER_BYTES), crc32(bytes.subarray(0, CRC_AT)));
const isWhole = (value: number, below: number): boolean => Number.isSafeInteger(value) && value >= 0 && value < below;

/**
 * One block from its bytes. The payload is a view of `bytes`, not a copy: whoever keeps it must not write over them.
 * A header longer than 40 bytes is skipped over; bits of the flags that version 1 does not know are ignored.
 *
 * @throws UnderfootError `stream-length stream-magic stream-header stream-format stream-channels stream-samples stream-crc
 *   stream-number`, and nothing else, whatever the bytes
 */
export function blockFromBytes(bytes: Uint8Array): StreamBlock {
  if (bytes.length < HEADER_BYTES || bytes.length > MOST_BLOCK_BYTES) {
    throw streamFaults.length(bytes.length, `${HEADER_BYTES} to ${MOST_BLOCK_BYTES}`);
  }
  const view = viewOf(bytes);
  if (view.getUint32(0, true) !== MAGIC) throw streamFaults.magic();
  const headerBytes = view.getUint8(4);
  if (headerBytes < HEADER_BYTES) throw streamFaults.header(headerBytes);
  const format = SAMPLE_FORMATS[view.getUint8(6) - 1];
  if (format === undefined) throw streamFaults.format(view.getUint8(6));
  const channelCount = view.getUint8(7);
  if (channelCount < 1 || channelCount > MOST_CHANNELS) throw streamFaults.channels(channelCount);
  const sampleCount = view.getUint16(32, true);
  if (sampleCount < 1) throw streamFaults.samples(sampleCount);
  const expected = headerBytes + sampleCount * channelCount * SAMPLE_BYTES[format];
  if (bytes.length !== expected) throw streamFaults.length(bytes.length, `${expected} from its header`);
  const written = view.getUint32(CRC_AT, true);
  const found = crcOfBlock(bytes);
  if (written !== found) throw streamFaults.crc(written, found);
  const first = view.getBigUint64(16, true);
  if (first > BigInt(Number.MAX_SAFE_INTEGER - sampleCount)) throw streamFaults.number("a first sample of", first);
  const flags = view.getUint8(5);
  return {
    streamId: view.getUint32(8, true),
    sequence: view.getUint32(12, true),
    firstSample: Number(first),
    ticks: view.getBigUint64(24, true),
    sampleCount,
    channelCount,
    format,
    isClockValid: (flags & 1) !== 0,
    hasLostBefore: (flags & 2) !== 0,
    isClockSetAnew: (flags & 4) !== 0,
    isResent: (flags & 8) !== 0,
    payload: bytes.subarray(headerBytes),
  };
}

function refuseImpossible(block: StreamBlock): void {
  const { sampleCount, channelCount, format, payload, firstSample, ticks } = block;
  if (!isWhole(channelCount - 1, MOST_CHANNELS)) throw streamFaults.channels(channelCount);
  if (!isWhole(sampleCount - 1, 65535)) throw streamFaults.samples(sampleCount);
  const expected = sampleCount * channelCount * SAMPLE_BYTES[format];
  const bytes = HEADER_BYTES + payload.length;
  if (payload.length !== expected) throw streamFaults.length(bytes, `${HEADER_BYTES + expected}`);
  if (bytes > MOST_BLOCK_BYTES) throw streamFaults.length(bytes, `at most ${MOST_BLOCK_BYTES}`);
  if (!isWhole(block.streamId, TWO_32)) throw streamFaults.number("a stream id of", block.streamId);
  if (!isWhole(block.sequence, TWO_32)) throw streamFaults.number("a sequence of", block.sequence);
  if (!isWhole(firstSample, Number.MAX_SAFE_INTEGER - sampleCount + 1)) {
    throw streamFaults.number("a first sample of", firstSample);
  }
  if (ticks < 0n || ticks >= 1n << 64n) throw streamFaults.number("a device clock of", ticks);
}

/**
 * The bytes of one block, with a header of 40 bytes and its CRC.
 *
 * @throws UnderfootError with the code of what does not fit; nothing is cut to fit
 */
export function blockBytes(block: StreamBlock): Uint8Array {
  refuseImpossible(block);
  const bytes = new Uint8Array(HEADER_BYTES + block.payload.length);
  const view = viewOf(bytes);
  view.setUint32(0, MAGIC, true);
  view.setUint8(4, HEADER_BYTES);
  view.setUint8(
    5,
    Number(block.isClockValid) +
      2 * Number(block.hasLostBefore) +
      4 * Number(block.isClockSetAnew) +
      8 * Number(block.isResent),
  );
  view.setUint8(6, SAMPLE_FORMATS.indexOf(block.format) + 1);
  view.setUint8(7, block.channelCount);
  view.setUint32(8, block.streamId, true);
  view.setUint32(12, block.sequence, true);
  view.setBigUint64(16, BigInt(block.firstSample), true);
  view.setBigUint64(24, block.ticks, true);
  view.setUint16(32, block.sampleCount, true);
  bytes.set(block.payload, HEADER_BYTES);
  view.setUint32(CRC_AT, crcOfBlock(bytes), true);
  return bytes;
}

/**
 * The raw numbers of a block, channels within a sample: the i-th sample of channel c stands at i x channelCount + c.
 * A physical value is (raw - offset) x scale of its channel in `hello`. NaN and infinities of float32 stay as they are.
 */
export function blockValues({ payload, format }: StreamBlock): Float64Array {
  const view = viewOf(payload);
  const size = SAMPLE_BYTES[format];
  const values = new Float64Array(payload.length / size);
  for (let i = 0; i < values.length; i++) {
    const at = i * size;
    if (format === "i16") values[i] = view.getInt16(at, true);
    else if (format === "i32") values[i] = view.getInt32(at, true);
    else values[i] = view.getFloat32(at, true);
  }
  return values;
}

/**
 * The payload of a block from raw numbers, the other way of `blockValues`.
 *
 * @throws UnderfootError `stream-number` for a number that an integer format cannot hold exactly
 */
export function blockPayload(values: ArrayLike<number>, format: SampleFormat): Uint8Array {
  const size = SAMPLE_BYTES[format];
  const payload = new Uint8Array(values.length * size);
  const view = viewOf(payload);
  const half = 2 ** (8 * size - 1);
  for (let i = 0; i < values.length; i++) {
    const value = values[i] ?? Number.NaN;
    if (format === "f32") view.setFloat32(i * size, value, true);
    else if (!Number.isInteger(value) || value < -half || value >= half) {
      throw streamFaults.number("a sample of", value);
    } else if (format === "i16") view.setInt16(i * size, value, true);
    else view.setInt32(i * size, value, true);
  }
  return payload;
}
