import { random } from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import { rockingCheck, tapCheck } from "./clock-checks.ts";

const RATE_HZ = 1000;

/** A blow on a board across both plates: 6 ms of half sine, the plates' own ringing after it, noise of 0.7 N. */
function tap(timeS: number, sizeN: number, seed: number): Float64Array<ArrayBuffer> {
  const dice = random(seed, "tap");
  return Float64Array.from({ length: 600 }, (_, i) => {
    const t = i / RATE_HZ - timeS;
    const blow = t > 0 && t < 0.006 ? Math.sin((Math.PI * t) / 0.006) : 0;
    const ringing = t > 0 ? 0.15 * Math.exp(-t / 0.02) * Math.sin(2 * Math.PI * 45 * t) : 0;
    return sizeN * (blow + ringing) + 0.7 * dice.normal();
  });
}

describe("tapCheck", () => {
  const options = { rateHz: RATE_HZ, clockSigmaS: 0.0006 };

  test("finds the lag to about 0.1 ms, later positive", () => {
    const errorsMs = Array.from({ length: 40 }, (_, seed) => {
      const lagS = -0.012 + 0.00061 * seed;
      const { lagS: found } = tapCheck(tap(0.3, 300, seed), tap(0.3 + lagS, 240, seed + 1000), options);
      return 1000 * (found! - lagS);
    });
    expect(Math.sqrt(errorsMs.reduce((sum, e) => sum + e * e, 0) / errorsMs.length)).toBeLessThan(0.15);
  });

  test("says that clocks disagree beyond 3 sigma, and not within", () => {
    const codes = (lagS: number): string[] =>
      tapCheck(tap(0.3, 300, 1), tap(0.3 + lagS, 240, 2), options).findings.map((finding) => finding.code);
    expect(codes(0.001)).toEqual([]);
    expect(codes(0.004)).toEqual(["clocks-disagree"]);
    expect(codes(-0.03)).toEqual(["clocks-disagree"]);
  });

  test("noise alone, silence, one plate tapped and a lag beyond 50 ms are no tap", () => {
    for (const [lead, trail] of [
      [tap(0.3, 0, 1), tap(0.3, 0, 2)],
      [new Float64Array(600), new Float64Array(600)],
      [tap(0.3, 300, 1), tap(0.3, 0, 2)],
      [tap(0.2, 300, 1), tap(0.3, 300, 2)],
      [new Float64Array(0), new Float64Array(0)],
    ] as const) {
      const check = tapCheck(lead, trail, options);
      expect(check.lagS).toBeUndefined();
      expect(check.findings.map((finding) => finding.code)).toEqual(["no-tap"]);
    }
  });

  test("a missing sample does not spoil it", () => {
    const trail = tap(0.304, 240, 2);
    trail[100] = Number.NaN;
    expect(tapCheck(tap(0.3, 300, 1), trail, options).lagS).toBeCloseTo(0.004, 3);
  });
});

describe("rockingCheck", () => {
  const options = { rateHz: 500, clockSigmaS: 0.0006 };

  /** 800 N rocking by 12 % of it at 0.7 Hz; the second plate's clock is late by lagS; the body bobs at the same frequency. */
  function rocking(lagS: number, bobN: number, seconds = 8): [Float64Array, Float64Array] {
    const dice = random(5, "rocking");
    const load = (sign: number, shiftS: number): Float64Array =>
      Float64Array.from({ length: seconds * 500 }, (_, i) => {
        const phase = 2 * Math.PI * 0.7 * (i / 500 - shiftS);
        return 400 + sign * 96 * Math.sin(phase) + (bobN / 2) * Math.cos(phase + 0.4) + 0.7 * dice.normal();
      });
    return [load(1, 0), load(-1, lagS)];
  }

  test.each([0, 0.02, -0.035])("finds a lag of %d s without bob to 0.5 ms", (lagS) => {
    expect(Math.abs(rockingCheck(...rocking(lagS, 0), options).lagS! - lagS)).toBeLessThan(0.0005);
  });

  test("a bob of 5 N moves it by some ms, so only larger errors are told", () => {
    const still = rockingCheck(...rocking(0, 5), options);
    expect(Math.abs(still.lagS!)).toBeGreaterThan(0.002);
    expect(still.findings).toEqual([]);
    expect(rockingCheck(...rocking(0.035, 5), options).findings.map((finding) => finding.code)).toEqual([
      "clocks-disagree",
    ]);
  });

  test("a quiet stance and a short one are no rocking", () => {
    const quiet = new Float64Array(4000).fill(400);
    for (const [lead, trail] of [[quiet, quiet] as const, rocking(0, 0, 3)]) {
      const check = rockingCheck(lead, trail, options);
      expect(check.lagS).toBeUndefined();
      expect(check.findings.map((finding) => finding.code)).toEqual(["no-rocking"]);
    }
  });
});
