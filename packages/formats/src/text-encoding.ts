import type { Guess } from "./text-guess.ts";

export type TextEncoding = "utf-8" | "windows-1252" | "utf-16le" | "utf-16be";

/** Text as bytes in which every delimiter, digit and line end is one byte below 0x80. */
export interface TextSource {
  readonly bytes: Uint8Array;
  /** How to read the bytes from 0x80 on: UTF-16 has been turned into UTF-8. */
  readonly reading: "utf-8" | "windows-1252";
  readonly encoding: Guess<TextEncoding>;
}

/** Windows-1252, 0x80..0x9F (Unicode's mapping table CP1252, undefined ones as in the WHATWG Encoding Standard; from memory). */
const WINDOWS_1252 =
  "\u20AC\u0081\u201A\u0192\u201E\u2026\u2020\u2021\u02C6\u2030\u0160\u2039\u0152\u008D\u017D\u008F" +
  "\u0090\u2018\u2019\u201C\u201D\u2022\u2013\u2014\u02DC\u2122\u0161\u203A\u0153\u009D\u017E\u0178";

/** The byte order mark decides; else UTF-8 if the bytes are valid UTF-8; else Windows-1252. Nothing is copied but UTF-16. */
export function textSource(bytes: Uint8Array, asked?: TextEncoding): TextSource {
  const [b0, b1, b2] = bytes;
  const mark = ((): TextEncoding | undefined => {
    if (b0 === 0xef && b1 === 0xbb && b2 === 0xbf) return "utf-8";
    if (b0 === 0xff && b1 === 0xfe) return "utf-16le";
    return b0 === 0xfe && b1 === 0xff ? "utf-16be" : undefined;
  })();
  const encoding = ((): Guess<TextEncoding> => {
    if (asked !== undefined) return { value: asked, confidence: 1, reason: "said in the column mapping" };
    if (mark !== undefined) return { value: mark, confidence: 1, reason: "the file begins with its byte order mark" };
    if (isUtf8(bytes)) return { value: "utf-8", confidence: 0.99, reason: "every byte is valid UTF-8" };
    return { value: "windows-1252", confidence: 0.7, reason: "some bytes are not valid UTF-8" };
  })();
  const { value } = encoding;
  const body = bytes.subarray(mark === undefined || mark !== value ? 0 : value === "utf-8" ? 3 : 2);
  if (value === "utf-8" || value === "windows-1252") return { bytes: body, reading: value, encoding };
  return { bytes: utf8FromUtf16(body, value === "utf-16le" ? 0 : 1), reading: "utf-8", encoding };
}

/** The text of bytes [from, end). What is not valid UTF-8 becomes U+FFFD. */
export function decodedText({ bytes, reading }: TextSource, from: number, end: number): string {
  let text = "";
  for (let i = from; i < end; ) {
    const byte = bytes[i] ?? 0;
    if (byte < 0x80) {
      text += String.fromCharCode(byte);
      i++;
    } else if (reading === "windows-1252") {
      text += byte < 0xa0 ? (WINDOWS_1252[byte - 0x80] ?? "") : String.fromCharCode(byte);
      i++;
    } else {
      const length = utf8Length(bytes, i, end);
      text += length === 0 ? "\uFFFD" : String.fromCodePoint(codePoint(bytes, i, length));
      i += Math.max(1, length);
    }
  }
  return text;
}

function isUtf8(bytes: Uint8Array): boolean {
  for (let i = 0; i < bytes.length; ) {
    if (bytes[i]! < 0x80) {
      i++;
      continue;
    }
    const length = utf8Length(bytes, i, bytes.length);
    if (length === 0) return false;
    i += length;
  }
  return true;
}

/** Bytes of the sequence that begins at i with a byte of 0x80 or more, 2 to 4; 0 where it is not valid (RFC 3629, section 4). */
function utf8Length(bytes: Uint8Array, i: number, end: number): number {
  const lead = bytes[i] ?? 0;
  const length = lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : 2;
  if (lead < 0xc2 || lead > 0xf4 || i + length > end) return 0;
  const second = bytes[i + 1] ?? 0;
  // Overlong forms, surrogates and what lies beyond U+10FFFF show in the second byte.
  const least = lead === 0xe0 ? 0xa0 : lead === 0xf0 ? 0x90 : 0x80;
  const most = lead === 0xed ? 0x9f : lead === 0xf4 ? 0x8f : 0xbf;
  if (second < least || second > most) return 0;
  for (let k = 2; k < length; k++) if (((bytes[i + k] ?? 0) & 0xc0) !== 0x80) return 0;
  return length;
}

function codePoint(bytes: Uint8Array, i: number, length: number): number {
  let point = (bytes[i] ?? 0) & (0x7f >> length);
  for (let k = 1; k < length; k++) point = (point << 6) | ((bytes[i + k] ?? 0) & 0x3f);
  return point;
}

/** UTF-16 as UTF-8; half a surrogate pair becomes U+FFFD; an odd last byte is dropped. `low` is the place of the low byte. */
function utf8FromUtf16(bytes: Uint8Array, low: 0 | 1): Uint8Array {
  const unitAt = (i: number): number => (bytes[i + low] ?? 0) | ((bytes[i + 1 - low] ?? 0) << 8);
  const walk = (put: (point: number) => void): void => {
    for (let i = 0; i + 1 < bytes.length; i += 2) {
      const first = unitAt(i);
      const next = i + 3 < bytes.length ? unitAt(i + 2) : 0;
      if (first >= 0xd800 && first < 0xdc00 && next >= 0xdc00 && next < 0xe000) {
        put(0x10000 + ((first - 0xd800) << 10) + (next - 0xdc00));
        i += 2;
      } else {
        put(first >= 0xd800 && first < 0xe000 ? 0xfffd : first);
      }
    }
  };
  let size = 0;
  walk((point) => {
    size += point < 0x80 ? 1 : point < 0x800 ? 2 : point < 0x10000 ? 3 : 4;
  });
  const out = new Uint8Array(size);
  let at = 0;
  walk((point) => {
    if (point < 0x80) {
      out[at++] = point;
      return;
    }
    const tail = point < 0x800 ? 1 : point < 0x10000 ? 2 : 3;
    out[at++] = ([0xc0, 0xe0, 0xf0][tail - 1] ?? 0) | (point >> (6 * tail));
    for (let k = tail - 1; k >= 0; k--) out[at++] = 0x80 | ((point >> (6 * k)) & 0x3f);
  });
  return out;
}
