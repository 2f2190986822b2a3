import { describe, expect, test } from "vitest";
import { numberReader, vaxReal } from "./c3d-numbers.ts";
import { fixedText } from "./c3d-text.ts";
import { lengthUnitM, momentUnitNm } from "./c3d-units.ts";

const view = (...bytes: number[]): DataView => new DataView(Uint8Array.from(bytes).buffer);

describe("DEC reals", () => {
  // VAX F_floating: sign, 8 bits of exponent (excess 128), 24-bit fraction 0.1f; the word with the sign comes first.
  // Encodings from the VAX Architecture Reference Manual, from memory.
  test.each([
    [[0x80, 0x40, 0, 0], 1],
    [[0x80, 0xc0, 0, 0], -1],
    [[0x00, 0x41, 0, 0], 2],
    [[0x20, 0x41, 0, 0], 2.5],
    [[0x49, 0x41, 0xd0, 0x0f], 3.14159012],
    [[0x00, 0x00, 0, 0], 0],
    [[0xff, 0x7f, 0xff, 0xff], 2 ** 127 * (1 - 2 ** -24)],
    [[0x80, 0x00, 0, 0], 2 ** -128],
  ])("%j is %d", (bytes, wanted) => {
    const value = vaxReal(view(...bytes), 0);
    expect(Math.abs(value - wanted)).toBeLessThanOrEqual(1e-8 * Math.abs(wanted));
  });

  test("a set sign with exponent 0 is no number", () => expect(vaxReal(view(0, 0x80, 0, 0), 0)).toBeNaN());

  test("words are little endian for Intel and DEC, big endian for MIPS", () => {
    expect(numberReader(view(1, 2), "intel").uint16(0)).toBe(0x0201);
    expect(numberReader(view(1, 2), "dec").uint16(0)).toBe(0x0201);
    expect(numberReader(view(1, 2), "mips").uint16(0)).toBe(0x0102);
    expect(numberReader(view(0x3f, 0x80, 0, 0), "mips").real(0)).toBe(1);
  });
});

describe("texts and units", () => {
  test("cut at 0, UTF-8 where valid, else Latin-1, blanks at the end dropped", () => {
    expect(fixedText(Uint8Array.from([0x46, 0x7a, 0x20, 0x20]))).toBe("Fz");
    expect(fixedText(Uint8Array.from([0x46, 0x7a, 0, 0x41]))).toBe("Fz");
    expect(fixedText(Uint8Array.from([0xc3, 0xa9]))).toBe("é");
    expect(fixedText(Uint8Array.from([0xe9, 0x41]))).toBe("éA");
    expect(fixedText(Uint8Array.from([0xf0, 0x9f, 0x8f, 0x8c]))).toBe("🏌");
    // Overlong, cut, surrogate: not UTF-8, so each byte is a Latin-1 letter.
    for (const bytes of [
      [0xc0, 0x80 + 0x41],
      [0xe2, 0x82],
      [0xed, 0xa0, 0x80],
    ]) {
      expect(fixedText(Uint8Array.from(bytes))).toHaveLength(bytes.length);
    }
  });

  test.each([
    ["Nm", 1],
    ["N-m", 1],
    ["N.m", 1],
    ["Nmm", 1e-3],
    ["N-mm", 1e-3],
    ["ntmm", 1e-3],
    ["V", undefined],
    ["N", undefined],
    ["", undefined],
  ])("moment unit %s", (written, wanted) => expect(momentUnitNm(written)).toBe(wanted));

  test.each([
    ["mm", 1e-3],
    ["m", 1],
    ["mete", 1],
    ["cm", 1e-2],
    ["in", 0.0254],
    ["furlong", undefined],
  ])("length unit %s", (written, wanted) => expect(lengthUnitM(written)).toBe(wanted));
});
