import { describe, expect, test } from "vitest";
import {
  asRatio,
  inBodyWeights,
  inCentimetres,
  inDegrees,
  inMetresPerSecond,
  inMillimetres,
  inMilliseconds,
  inNewtonMetres,
  inNewtons,
  inNewtonsPerSecond,
  inPercent,
  roundedNewtons,
} from "./numbers.ts";

describe("uncertainty to one figure, value to match", () => {
  test.each([
    [inNewtons(134.6, 2.4), "135 N", "±2"],
    [inNewtons(134.6, 23), "130 N", "±20"],
    [inNewtons(135, 0.96), "135 N", "±1"],
    [inNewtons(134.56, 0.04), "134.6 N", "±0.1"],
    [inPercent(83.02, 0.9), "83.0 %", "±0.9"],
    [inMetresPerSecond(0.2312, 0.018), "0.23 m/s", "±0.02"],
    [inBodyWeights(1.2, 0.01), "1.20 BW", "±0.01"],
    [inMilliseconds(-62.4, 4), "−62 ms", "±4"],
    [inMilliseconds(62.5, 4), "63 ms", "±4"],
    [inMilliseconds(-62.5, 4), "−63 ms", "±4"],
    [inMilliseconds(-84, 60), "−80 ms", "±60"],
    [inCentimetres(0.028, 0.002), "2.8 cm", "±0.2"],
    [inMillimetres(0.0284, 0.002), "28 mm", "±2"],
    [inNewtonsPerSecond(8423, 300), "8400 N/s", "±300"],
    [inNewtonMetres(-12.34, 0.5), "−12.3 N m", "±0.5"],
    [asRatio(0.553, 0.02), "0.55", "±0.02"],
  ])("%s", (written, text, plusMinus) => {
    expect([written.text, written.plusMinus]).toEqual([text, plusMinus]);
  });

  test("the GUM's example of rounding (JCGM 100:2008, 7.2.6, typed from memory), one figure instead of two", () => {
    // y = 10.05762, u = 0.027: the GUM writes 10.058 with 27; one figure makes 10.06 with 3.
    const { text, plusMinus } = inMetresPerSecond(10.05762, 0.027);
    expect([text, plusMinus]).toEqual(["10.06 m/s", "±0.03"]);
  });
});

test("without an uncertainty each kind has its own decimals", () => {
  expect([inNewtons(134.6).text, inBodyWeights(0.994).text, inPercent(63.5).text]).toEqual([
    "135 N",
    "0.99 BW",
    "64 %",
  ]);
  expect(inNewtons(1, Number.NaN).plusMinus).toBeUndefined();
  expect(inNewtons(1, 0).plusMinus).toBeUndefined();
});

test("minus is a minus sign and nothing is minus zero", () => {
  expect(inNewtons(-3).text).toBe("−3 N");
  expect(inNewtons(-0.3).text).toBe("0 N");
  expect(inNewtons(-4, 20).text).toBe("0 N");
});

test("a space stands before every unit but the degree sign (SI brochure, 9th edition, 5.4.3)", () => {
  expect(inPercent(83).text).toBe("83 %");
  expect(inDegrees(5, 0.2).text).toBe("5.0°");
});

test("a saturated peak reads at least", () => {
  expect(inNewtons(1500, 8, { isAtLeast: true }).text).toBe("at least 1500 N");
});

test("what is missing is said in words, not as a number", () => {
  expect(inNewtons(Number.NaN)).toEqual({ text: "not known", number: "–", unit: "N", spoken: "not known" });
});

test("screen readers get words", () => {
  expect(inMilliseconds(-62).spoken).toBe("minus 62 milliseconds");
  expect(inNewtons(1).spoken).toBe("1 newton");
  expect(asRatio(1.5).spoken).toBe("1.50");
});

test("rounded parts add up as they are written", () => {
  expect(roundedNewtons(134.6, 2.4)).toBe(135);
  expect(roundedNewtons(134.6, 23)).toBe(130);
  expect(roundedNewtons(-0.4)).toBeCloseTo(0);
});
