import { assert, double, integer, property, stringMatching } from "fast-check";
import { describe, expect, it } from "vitest";
import { type NumberStyle, numberFromBytes, numberFromText } from "./text-number.ts";

const PLAIN: NumberStyle = { decimal: ".", thousands: "" };
const read = (text: string, style = PLAIN): number => {
  const bytes = new TextEncoder().encode(text);
  return numberFromBytes(bytes, 0, bytes.length, style);
};

// The outside judge is Number(), whose rounding ECMA-262 prescribes.
describe("numberFromBytes", () => {
  it("is Number() for every double as it prints", () => {
    assert(
      property(double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(Object.is(read(`${value}`), value === 0 ? 0 : value)).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });

  it("is Number() for any digits, point and exponent, bit for bit", () => {
    assert(
      property(stringMatching(/^[+-]?\d{0,24}(\.\d{0,24})?([eE][+-]?\d{1,3})?$/), (text) => {
        const mantissa = text.replace(/[eE].*/, "");
        const expected = /\d/.test(mantissa) ? Number(text) : Number.NaN;
        expect(read(text)).toBe(Number.isFinite(expected) ? expected : Number.NaN);
        if (expected === 0) expect(Object.is(read(text), Number(text))).toBe(true);
      }),
      { numRuns: 5000 },
    );
  });

  it("is Number() for fixed decimals, with a comma too", () => {
    assert(
      property(double({ noNaN: true, min: -1e6, max: 1e6 }), integer({ min: 0, max: 17 }), (value, places) => {
        const text = value.toFixed(places);
        expect(read(text)).toBe(Number(text));
        expect(read(text.replace(".", ","), { decimal: ",", thousands: "" })).toBe(Number(text));
      }),
      { numRuns: 2000 },
    );
  });

  it.each(["", "-", "+", ".", "1e", "e5", "0x10", "Infinity", "NaN", "1 2", "1..2", "1,5", "--1", "1e999", "１"])(
    "takes %j for no number",
    (text) => {
      expect(read(text)).toBeNaN();
    },
  );

  it.each([
    ["1,234.5", { decimal: ".", thousands: "," }, 1234.5],
    ["-1.234.567,25", { decimal: ",", thousands: "." }, -1234567.25],
    ["1,234", { decimal: ".", thousands: "," }, 1234],
    ["12.5", { decimal: ".", thousands: "," }, 12.5],
    ["999,5e1", { decimal: ",", thousands: "." }, 9995],
  ] as const)("reads %s in the style %j", (text, style, value) => {
    expect(numberFromText(text, style)).toBe(value);
    expect(read(text, style)).toBe(value);
  });

  it.each([
    ["1,23.5", { decimal: ".", thousands: "," }],
    ["1234,567.5", { decimal: ".", thousands: "," }],
    ["1.5", { decimal: ",", thousands: "" }],
  ] as const)("does not bend %s to the style %j", (text, style) => {
    expect(numberFromText(text, style)).toBeNaN();
  });
});
