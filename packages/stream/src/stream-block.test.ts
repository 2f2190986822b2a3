import { crc32 as zlibCrc32 } from "node:zlib";
import { UnderfootError } from "@underfoot/domain";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { blockBytes, blockFromBytes, blockPayload, blockValues, crc32, SAMPLE_FORMATS } from "./index.ts";

/** The example of docs/formats/stream.md, byte for byte. */
const EXAMPLE = Uint8Array.from(
  `55 46 42 31 28 01 01 03 4d 3c 2b 1a 07 00 00 00
   b0 36 00 00 00 00 00 00 e0 67 35 00 00 00 00 00
   02 00 00 00 ad c0 a9 68 0c 00 fb ff b6 1c 0d 00
   fa ff c1 1c`
    .split(/\s+/)
    .map((byte) => Number.parseInt(byte, 16)),
);
const codeOf = (run: () => unknown): string => {
  try {
    run();
  } catch (fault) {
    if (fault instanceof UnderfootError) return fault.code;
    throw fault;
  }
  return "";
};
const changed = (at: number, byte: number): Uint8Array => EXAMPLE.with(at, byte);

describe("the checksum", () => {
  test("of 123456789 is 0xCBF43926, the published check value of the CRC-32 of RFC 1952", () => {
    expect(crc32(new TextEncoder().encode("123456789"))).toBe(0xcbf43926);
  });

  test("is zlib's, whole and in two parts", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), fc.nat(300), (bytes, cut) => {
        expect(crc32(bytes)).toBe(zlibCrc32(bytes));
        expect(crc32(bytes.subarray(cut), crc32(bytes.subarray(0, cut)))).toBe(zlibCrc32(bytes));
      }),
    );
  });
});

describe("a block", () => {
  test("of the documented example is read", () => {
    const block = blockFromBytes(EXAMPLE);
    expect(EXAMPLE.length).toBe(52);
    expect(block).toMatchObject({
      streamId: 0x1a2b3c4d,
      sequence: 7,
      firstSample: 14000,
      ticks: 3500000n,
      sampleCount: 2,
      channelCount: 3,
      format: "i16",
      isClockValid: true,
      hasLostBefore: false,
      isClockSetAnew: false,
      isResent: false,
    });
    expect([...blockValues(block)]).toEqual([12, -5, 7350, 13, -6, 7361]);
    expect(new DataView(EXAMPLE.buffer).getUint32(36, true)).toBe(0x68a9c0ad);
  });

  test("of the documented example is written to the same bytes", () => {
    const payload = blockPayload([12, -5, 7350, 13, -6, 7361], "i16");
    expect(blockBytes({ ...blockFromBytes(EXAMPLE), payload })).toEqual(EXAMPLE);
  });

  test("goes there and back with every field", () => {
    const block = fc
      .record({
        format: fc.constantFrom(...SAMPLE_FORMATS),
        channelCount: fc.integer({ min: 1, max: 64 }),
        sampleCount: fc.integer({ min: 1, max: 40 }),
        streamId: fc.nat(2 ** 32 - 1),
        sequence: fc.nat(2 ** 32 - 1),
        firstSample: fc.maxSafeNat().map((one) => Math.max(0, one - 50)),
        ticks: fc.bigInt({ min: 0n, max: (1n << 64n) - 1n }),
        isClockValid: fc.boolean(),
        hasLostBefore: fc.boolean(),
        isClockSetAnew: fc.boolean(),
        isResent: fc.boolean(),
        seed: fc.integer({ min: -32768, max: 32767 }),
      })
      .map(({ seed, ...facts }) => ({
        ...facts,
        payload: blockPayload(new Array(facts.channelCount * facts.sampleCount).fill(seed), facts.format),
      }));
    fc.assert(
      fc.property(block, (one) => {
        expect(blockFromBytes(blockBytes(one))).toEqual(one);
        expect([...blockPayload(blockValues(one), one.format)]).toEqual([...one.payload]);
      }),
    );
  });

  test("with a longer header is read past what is not known", () => {
    const long = new Uint8Array(56);
    long.set(EXAMPLE.subarray(0, 40));
    long.set([9, 9, 9, 9], 40);
    long.set(EXAMPLE.subarray(40), 44);
    long[4] = 44;
    new DataView(long.buffer).setUint32(36, crc32(long.subarray(40), crc32(long.subarray(0, 36))), true);
    expect([...blockValues(blockFromBytes(long))]).toEqual([12, -5, 7350, 13, -6, 7361]);
  });

  test.each([
    ["stream-magic", changed(0, 0x56)],
    ["stream-header", changed(4, 39)],
    ["stream-length", changed(4, 41)],
    ["stream-format", changed(6, 4)],
    ["stream-format", changed(6, 0)],
    ["stream-channels", changed(7, 0)],
    ["stream-channels", changed(7, 65)],
    ["stream-samples", changed(32, 0)],
    ["stream-length", changed(33, 0xff)],
    ["stream-crc", changed(44, 0)],
    ["stream-crc", changed(36, 0)],
    ["stream-length", EXAMPLE.subarray(0, 51)],
    ["stream-length", new Uint8Array(0)],
    ["stream-length", new Uint8Array(65537)],
  ])("that is wrong is refused as %s", (code, bytes) => {
    expect(codeOf(() => blockFromBytes(bytes))).toBe(code);
  });

  test("whose sample count no number holds is refused though its checksum fits", () => {
    const far = changed(23, 0xff);
    new DataView(far.buffer).setUint32(36, crc32(far.subarray(40), crc32(far.subarray(0, 36))), true);
    expect(codeOf(() => blockFromBytes(far))).toBe("stream-number");
  });

  test("any flipped bit is noticed, and any bytes give a block or a coded fault", () => {
    for (let bit = 0; bit < EXAMPLE.length * 8; bit++) {
      const at = bit >> 3;
      expect(codeOf(() => blockFromBytes(changed(at, (EXAMPLE[at] ?? 0) ^ (1 << (bit & 7)))))).toMatch(/^stream-/);
    }
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 80 }), fc.nat(52), (bytes, kept) => {
        const mixed = Uint8Array.from([...EXAMPLE.subarray(0, kept), ...bytes]);
        codeOf(() => blockFromBytes(mixed));
      }),
    );
  });

  test("that cannot be is not written", () => {
    const block = blockFromBytes(EXAMPLE);
    expect(codeOf(() => blockBytes({ ...block, sampleCount: 3 }))).toBe("stream-length");
    expect(codeOf(() => blockBytes({ ...block, channelCount: 0 }))).toBe("stream-channels");
    expect(codeOf(() => blockBytes({ ...block, sequence: 2 ** 32 }))).toBe("stream-number");
    expect(codeOf(() => blockPayload([40000], "i16"))).toBe("stream-number");
  });
});
