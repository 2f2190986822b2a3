import { random } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import { closedSpeed, comTravel } from "./motion.ts";
import { motionSigmas } from "./motion-sigma.ts";

const RATE = 100;
const COUNT = 601;
const zeros = new Float64Array(COUNT);
const options = {
  rateHz: RATE,
  middle: 100,
  sigma0: 0.003,
  sigmaB: 0.006,
  massShare: 0,
  shiftMPerS2: 0,
  shiftS: zeros,
  shiftS2: zeros,
  closing: undefined,
};

describe("sigma of velocity and displacement", () => {
  it("is what sway and drift make of them, open and closed (Monte Carlo of 4000 shots)", () => {
    const draw = random(11, "motion");
    const sigmaE = 0.012;
    const afterS = 4;
    const squares = { open: new Float64Array(4), closed: new Float64Array(4) };
    const instants = [200, 350];
    const shots = 4000;
    for (let k = 0; k < shots; k++) {
      // The error of the open integral: a constant and a growing part; at the second stance the true speed is not quite 0.
      const constant = options.sigma0 * draw.normal();
      const slope = options.sigmaB * draw.normal();
      const open = Float64Array.from({ length: COUNT }, (_, i) => constant + (slope * (i - options.middle)) / RATE);
      const closing = {
        afterS,
        speedMPerS: constant + slope * afterS + sigmaE * draw.normal(),
        sigma0: options.sigma0,
        sigmaB: options.sigmaB,
        sigmaE,
      };
      const closed = closedSpeed(open, { rateHz: RATE, middle: options.middle, closing });
      for (const [name, speed] of [
        ["open", open],
        ["closed", closed],
      ] as const) {
        const travel = comTravel(speed, { rateHz: RATE, middle: options.middle });
        instants.forEach((i, n) => {
          squares[name][n]! += speed[i]! ** 2 / shots;
          squares[name][n + 2]! += travel[i]! ** 2 / shots;
        });
      }
    }
    const closing = { afterS, speedMPerS: 0, sigma0: options.sigma0, sigmaB: options.sigmaB, sigmaE };
    for (const [name, sigmas] of [
      ["open", motionSigmas(zeros, zeros, options)],
      ["closed", motionSigmas(zeros, zeros, { ...options, closing })],
    ] as const) {
      instants.forEach((i, n) => {
        expect(Math.abs(Math.sqrt(squares[name][n]!) / sigmas.speedMPerS[i]! - 1)).toBeLessThan(0.05);
        expect(Math.abs(Math.sqrt(squares[name][n + 2]!) / sigmas.travelM[i]! - 1)).toBeLessThan(0.05);
      });
    }
  });

  it("grows with the mass's share of the speed and with load that moved across", () => {
    const speed = new Float64Array(COUNT).fill(0.5);
    const moved = new Float64Array(COUNT).fill(0.1);
    const plain = motionSigmas(speed, zeros, options).speedMPerS[200]!;
    const heavier = motionSigmas(speed, zeros, { ...options, massShare: 0.01 }).speedMPerS[200]!;
    expect(heavier).toBeCloseTo(Math.hypot(plain, 0.005), 12);
    const shifted = motionSigmas(speed, zeros, { ...options, shiftMPerS2: 0.07, shiftS: moved }).speedMPerS[200]!;
    expect(shifted).toBeCloseTo(Math.hypot(plain, 0.007), 12);
  });

  it("is never larger closed than open", () => {
    const closing = { afterS: 4, speedMPerS: 0, sigma0: 0.003, sigmaB: 0.006, sigmaE: 0.012 };
    const open = motionSigmas(zeros, zeros, options);
    const closed = motionSigmas(zeros, zeros, { ...options, closing });
    for (let i = 0; i < COUNT; i++) {
      expect(closed.speedMPerS[i]!).toBeLessThanOrEqual(open.speedMPerS[i]!);
      expect(closed.travelM[i]!).toBeLessThanOrEqual(open.travelM[i]! + 1e-15);
    }
  });
});
