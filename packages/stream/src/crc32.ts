/** The polynomial of RFC 1952, bits reflected. */
const POLYNOMIAL = 0xedb88320;

const TABLE: Uint32Array = Uint32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte;
  for (let bit = 0; bit < 8; bit++) rest = (rest & 1) === 1 ? (rest >>> 1) ^ POLYNOMIAL : rest >>> 1;
  return rest;
});

/**
 * CRC-32 of RFC 1952, section 8: polynomial 0xEDB88320 reflected, start and final XOR 0xFFFFFFFF.
 *
 * @param bytes   what is summed
 * @param before  the CRC of the bytes before these, so that parts can be summed one after the other; 0 at the start
 * @returns       0 to 2^32 - 1
 *
 * @example crc32(new TextEncoder().encode("123456789")) // 0xcbf43926
 */
export function crc32(bytes: Uint8Array, before = 0): number {
  let rest = ~before;
  for (let i = 0; i < bytes.length; i++) rest = (rest >>> 8) ^ (TABLE[(rest ^ (bytes[i] ?? 0)) & 0xff] ?? 0);
  return ~rest >>> 0;
}
