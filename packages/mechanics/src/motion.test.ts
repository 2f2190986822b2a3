import { STANDARD_GRAVITY_M_PER_S2 } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import reference from "../../../reference/mechanics.json" with { type: "json" };
import { closedSpeed, comSpeed, comTravel, middleSample } from "./motion.ts";

const AXES = [0, 1, 2];

describe("motion of the centre of mass", () => {
  it("is the impulse: 1 N on 80 kg for 1 s gives 12.5 mm/s, by trapezoid over 1001 samples (tabled)", () => {
    const [row] = reference.second.motion.cases as unknown as [
      { v: Record<string, number[]>; x: Record<string, number[]> },
    ];
    const force = Float64Array.from({ length: 2001 }, (_, i) => (i >= 500 && i <= 1500 ? 1 : 0));
    const window = { first: 0, end: 400 };
    const speed = comSpeed(force, { rateHz: 1000, massKg: 80, quietN: 0, window });
    const travel = comTravel(speed, { rateHz: 1000, middle: middleSample(window) });
    for (const i of Object.keys(row.v)) {
      expect(Math.abs(speed[Number(i)]! - row.v[i]![0]!)).toBeLessThan(1e-12);
      expect(Math.abs(travel[Number(i)]! - row.x[i]![0]!)).toBeLessThan(1e-12);
    }
  });

  it("agrees with the second program open and closed, three axes with their own sigmas (1e-12)", () => {
    const cases = reference.second.motion.cases as unknown as {
      name: string;
      rateHz: number;
      mass: number;
      window: [number, number];
      after?: [number, number];
      sigma0?: number[];
      sigmaB?: number[];
      sigmaE?: number[];
      Fq: number[];
      v: number[][];
      x: number[][];
      force?: number[][];
    }[];
    const open = cases.find((c) => c.name === "open")!;
    for (const row of [open, cases.find((c) => c.name === "closed")!]) {
      const window = { first: row.window[0], end: row.window[1] };
      const middle = middleSample(window);
      for (const axis of AXES) {
        const force = Float64Array.from(open.force!, (sample) => sample[axis]!);
        let speed = comSpeed(force, { rateHz: row.rateHz, massKg: row.mass, quietN: row.Fq[axis]!, window });
        if (row.after !== undefined) {
          const [first, end] = row.after;
          const mean = speed.subarray(first, end).reduce((a, b) => a + b, 0) / (end - first);
          const afterS = ((first + end - 1) / 2 - middle) / row.rateHz;
          const closing = {
            afterS,
            speedMPerS: mean,
            sigma0: row.sigma0![axis]!,
            sigmaB: row.sigmaB![axis]!,
            sigmaE: row.sigmaE![axis]!,
          };
          speed = closedSpeed(speed, { rateHz: row.rateHz, middle, closing });
        }
        const travel = comTravel(speed, { rateHz: row.rateHz, middle });
        row.v.forEach((v, i) => {
          expect(Math.abs(speed[i]! - v[axis]!)).toBeLessThan(1e-12);
          expect(Math.abs(travel[i]! - row.x[i]![axis]!)).toBeLessThan(1e-12);
        });
      }
    }
  });

  it("of a force that falls all the time and turns negative never goes back (closed form)", () => {
    const rateHz = 1000;
    const quiet = 500;
    const force = Float64Array.from({ length: quiet + 1001 }, (_, i) =>
      i < quiet ? 0 : 100 * Math.cos((Math.PI * (i - quiet)) / rateHz),
    );
    // The step at the push's first sample is the trapezoid's: half a sample of 100 N.
    const step = (0.5 * 100) / 80 / rateHz;
    const window = { first: 0, end: quiet };
    const speed = comSpeed(force, { rateHz, massKg: 80, quietN: 0, window });
    const travel = comTravel(speed, { rateHz, middle: middleSample(window) });
    const { falling_force: truth } = reference.motion;
    truth.t.forEach((t, k) => {
      const i = quiet + Math.round(t * rateHz);
      expect(force[i]!).toBeCloseTo(truth.net[k]!, 9);
      expect(Math.abs(speed[i]! - step - truth.speed[k]!)).toBeLessThan(1e-6);
      expect(Math.abs(travel[i]! - step * (t + 0.0005) - truth.travel[k]!)).toBeLessThan(2e-6);
    });
    expect(Math.min(...speed)).toBeGreaterThan(-1e-12);
    expect(speed[quiet + 500]! - step).toBeCloseTo(0.398, 3);
  });

  it("gives a jump the same height by impulse and by flight time (Linthorne, Am. J. Phys. 69, 1198, 2001)", () => {
    const rateHz = 2000;
    const { jump } = reference.motion;
    const weightN = jump.mass * jump.g;
    const stand = Math.round(1 * rateHz);
    const push = Math.round(0.3 * rateHz);
    const force = Float64Array.from({ length: stand + push + Math.ceil(jump.flight_time * rateHz) + 1 }, (_, i) => {
      const t = (i - stand) / rateHz;
      if (t <= 0) return weightN;
      return t <= 0.3 ? weightN + 1200 * Math.sin((Math.PI * t) / 0.3) : 0;
    });
    const speed = comSpeed(force, { rateHz, massKg: jump.mass, quietN: weightN, window: { first: 0, end: stand } });
    const takeOff = speed[stand + push]!;
    // The trapezoid of a half sine falls short by (pi h / T)² / 12 of it.
    const short = (Math.PI / (0.3 * rateHz)) ** 2 / 12;
    expect(Math.abs(takeOff / jump.takeoff_speed - 1 + short)).toBeLessThan(1e-9);
    expect(takeOff ** 2 / (2 * jump.g)).toBeCloseTo(jump.height_from_impulse, 5);
    const flightS = (2 * takeOff) / jump.g;
    expect((jump.g * flightS ** 2) / 8).toBeCloseTo(jump.height_from_flight, 5);
    const travel = comTravel(speed, { rateHz, middle: middleSample({ first: 0, end: stand }) });
    expect(travel[stand + push]!).toBeCloseTo(jump.rise_during_push, 5);
    // Back to the take-off height at the end of the flight, with the speed turned round.
    expect(speed.at(-1)!).toBeCloseTo(-takeOff, 1);
  });

  it("of a take-off at 2.5 m/s is 0.31866 m high and 0.50986 s long (v²/2g, 2v/g)", () => {
    expect(2.5 ** 2 / (2 * STANDARD_GRAVITY_M_PER_S2)).toBeCloseTo(0.31866, 5);
    expect((2 * 2.5) / STANDARD_GRAVITY_M_PER_S2).toBeCloseTo(0.50986, 5);
  });

  it("is missing beyond a gap, seen from the quiet window, and nowhere else", () => {
    const force = new Float64Array(1000);
    force[700] = Number.NaN;
    force[50] = Number.NaN;
    const window = { first: 100, end: 400 };
    const speed = comSpeed(force, { rateHz: 1000, massKg: 80, quietN: 0, window });
    expect(Number.isNaN(speed[50]!) && Number.isNaN(speed[700]!) && Number.isNaN(speed[999]!)).toBe(true);
    expect([51, 250, 699].every((i) => speed[i] === 0)).toBe(true);
    const travel = comTravel(speed, { rateHz: 1000, middle: 250 });
    expect(travel[699]).toBe(0);
    expect(Number.isNaN(travel[701]!)).toBe(true);
  });
});
