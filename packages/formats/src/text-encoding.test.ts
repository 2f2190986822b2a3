import { assert, property, string, uint8Array } from "fast-check";
import { describe, expect, it } from "vitest";
import { decodedText, textSource } from "./text-encoding.ts";

const decoded = (bytes: Uint8Array): { text: string; encoding: string } => {
  const source = textSource(bytes);
  return { text: decodedText(source, 0, source.bytes.length), encoding: source.encoding.value };
};
const utf16 = (text: string, isLittle: boolean): Uint8Array => {
  const bytes = new Uint8Array(2 + 2 * text.length);
  const view = new DataView(bytes.buffer);
  view.setUint16(0, 0xfeff, isLittle);
  for (let i = 0; i < text.length; i++) view.setUint16(2 + 2 * i, text.charCodeAt(i), isLittle);
  return bytes;
};

// The outside judge is the platform's own TextDecoder (WHATWG Encoding Standard).
describe("textSource and decodedText", () => {
  it("take exactly the valid UTF-8 for UTF-8, and read it like TextDecoder", () => {
    assert(
      property(uint8Array({ maxLength: 12, min: 0x70 }), (bytes) => {
        const hasMark = bytes.length > 1 && bytes[0]! >= 0xfe && bytes[1]! >= 0xfe;
        if (hasMark) return;
        let judged: string | undefined;
        try {
          judged = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
        } catch (error) {
          expect(error).toBeInstanceOf(TypeError);
        }
        const expected = judged ?? new TextDecoder("windows-1252").decode(bytes);
        expect(decoded(bytes)).toEqual({ text: expected, encoding: judged === undefined ? "windows-1252" : "utf-8" });
      }),
      { numRuns: 5000 },
    );
  });

  it("read any text in UTF-8 and UTF-16 with a byte order mark", () => {
    assert(
      property(string({ unit: "binary" }), (text) => {
        if (text.startsWith("\uFEFF")) return;
        expect(decoded(new TextEncoder().encode(`\uFEFF${text}`))).toEqual({ text, encoding: "utf-8" });
        expect(decoded(utf16(text, true))).toEqual({ text, encoding: "utf-16le" });
        expect(decoded(utf16(text, false))).toEqual({ text, encoding: "utf-16be" });
      }),
    );
  });

  it("read every byte of Windows-1252 like TextDecoder", () => {
    const bytes = Uint8Array.from({ length: 256 }, (_, k) => k);
    expect(decoded(bytes).text).toBe(new TextDecoder("windows-1252").decode(bytes));
  });

  it("put U+FFFD for half a surrogate pair and drop an odd last byte", () => {
    expect(decoded(utf16("a\uD800b\uDC00", true)).text).toBe("a\uFFFDb\uFFFD");
    expect(decoded(Uint8Array.of(0xff, 0xfe, 0x61, 0, 0x62)).text).toBe("a");
  });

  it("follow the encoding that a mapping says", () => {
    const source = textSource(Uint8Array.of(0xc3, 0xa9), "windows-1252");
    expect(decodedText(source, 0, 2)).toBe("Ã©");
    expect(source.encoding.confidence).toBe(1);
  });
});
