import { cross, random, type Vector } from "@underfoot/domain";
import fc from "fast-check";
import { expect, test } from "vitest";
import { emptyPlate, handMadeRecording } from "./hand-made-recording.ts";
import { plateCheck } from "./plate-check.ts";
import type { PlateCheckFacts } from "./plate-checks/check-outcome.ts";

const RATE_HZ = 200;
const G = 9.80665;
const point = (x: number, y: number, z = 0): Vector => ({ x, y, z });
const times = (factor: number, { x, y, z }: Vector): Vector => point(factor * x, factor * y, factor * z);
const plus = (a: Vector, b: Vector): Vector => point(a.x + b.x, a.y + b.y, a.z + b.z);

/** Any lie within 10°, either hand, the target anywhere along the surface. */
const setUp = fc.record({
  pitchDeg: fc.double({ min: -10, max: 10, noNaN: true }),
  rollDeg: fc.double({ min: -10, max: 10, noNaN: true }),
  handed: fc.constantFrom("right" as const, "left" as const),
  turnDeg: fc.double({ min: -180, max: 180, noNaN: true }),
});

/** Against gravity in a laboratory whose z is the plates' normal, and the facts that say so. */
function gravity({ pitchDeg, rollDeg, handed, turnDeg }: typeof setUp extends fc.Arbitrary<infer T> ? T : never) {
  const turn = (turnDeg * Math.PI) / 180;
  const target = point(Math.cos(turn), Math.sin(turn));
  // Ahead is e_t × n for a right-handed player, n × e_t for a left-handed one.
  const ahead = handed === "right" ? cross(target, point(0, 0, 1)) : cross(point(0, 0, 1), target);
  const [p, r] = [Math.sin((pitchDeg * Math.PI) / 180), Math.sin((rollDeg * Math.PI) / 180)];
  const up = plus(plus(times(p, target), times(r, ahead)), point(0, 0, Math.sqrt(1 - p * p - r * r)));
  const facts: PlateCheckFacts = {
    handed,
    target,
    lie: { pitchDeg, rollDeg, source: "inclinometer", sdDeg: 0.2 },
    plates: [
      { plate: 1, foot: "lead" },
      { plate: 2, foot: "trail" },
    ],
  };
  return { up, facts };
}

/** One second of nothing, then a force at a place of the surface; offsets of every channel throughout. */
function pressed(centreM: Vector, forceAt: Vector, place: Vector, seed: number) {
  const plate = emptyPlate(centreM, 4 * RATE_HZ);
  const draw = random(seed, "offsets");
  const moment = cross(place, forceAt);
  for (const axis of ["x", "y", "z"] as const) {
    const [offsetN, offsetNm] = [2 * draw.normal(), 0.5 * draw.normal()];
    for (let i = 0; i < plate.forceN.x.length; i++) {
      plate.forceN[axis][i] = offsetN + (i < RATE_HZ ? 0 : forceAt[axis]);
      plate.momentNm[axis][i] = offsetNm + (i < RATE_HZ ? 0 : moment[axis]);
    }
  }
  return plate;
}

test("a mass that lies still on faultless plates passes on any lie, for any target and either hand", () => {
  fc.assert(
    fc.property(
      setUp,
      fc.double({ min: 5, max: 100, noNaN: true }),
      fc.double({ min: 0, max: 0.2, noNaN: true }),
      fc.tuple(fc.double({ min: -0.12, max: 0.12, noNaN: true }), fc.double({ min: -0.2, max: 0.2, noNaN: true })),
      (given, massKg, massHeightM, [x, y]) => {
        const { up, facts } = gravity(given);
        const meets = plus(point(x, y), point((-massHeightM * up.x) / up.z, (-massHeightM * up.y) / up.z));
        const plate = pressed(point(0.2, 0.1), times(massKg * G, up), meets, 1);
        const outcome = plateCheck({
          kind: "known-mass",
          recording: handMadeRecording([plate], { rateHz: RATE_HZ }),
          facts,
          massKg,
          massHeightM,
          places: [{ xM: x, yM: -y }],
        });
        if (outcome.status !== "ok") throw new Error(outcome.sentence);
        expect(outcome.parts).toHaveLength(3);
        for (const { found } of outcome.parts) expect(found).toBeLessThan(1e-6);
      },
    ),
    { numRuns: 60 },
  );
});

test("who stands still on faultless plates leans as the lie says, wherever the feet are and however the load is shared", () => {
  fc.assert(
    fc.property(
      setUp,
      fc.double({ min: 0.2, max: 0.8, noNaN: true }),
      fc.double({ min: 400, max: 1200, noNaN: true }),
      (given, share, weightN) => {
        const { up, facts } = gravity(given);
        // Lead lies nearer the target.
        const apart = times(0.2, facts.target!);
        const lead = pressed(apart, times(share * weightN, up), point(0.02, 0.05), 2);
        const trail = pressed(times(-1, apart), times((1 - share) * weightN, up), point(0.01, -0.03), 3);
        const recording = handMadeRecording([lead, trail], { rateHz: RATE_HZ });
        const outcome = plateCheck({ kind: "quiet-lean", recording, facts });
        if (outcome.status !== "ok") throw new Error(outcome.sentence);
        expect(outcome.isPassed).toBe(true);
        for (const { found } of outcome.parts) expect(found).toBeLessThan(1e-6);
      },
    ),
    { numRuns: 60 },
  );
});

test("clocks: any lag up to 20 ms is found to 0.3 ms", () => {
  fc.assert(
    fc.property(fc.double({ min: -0.02, max: 0.02, noNaN: true }), (lagS) => {
      const plates = [0, 1].map((k) => {
        const plate = emptyPlate(point(0.2 - 0.4 * k, 0), 3 * 1000);
        for (let i = 0; i < plate.forceN.z.length; i++) {
          const u = (i / 1000 - (k === 1 ? lagS : 0) - 1.5) / 0.03;
          plate.forceN.z[i] = u > 0 && u < 1 ? (150 + 50 * k) * Math.sin(Math.PI * u) ** 2 : 0;
        }
        return plate;
      });
      const outcome = plateCheck({ kind: "clocks", recording: handMadeRecording(plates, { rateHz: 1000 }) });
      if (outcome.status !== "ok") throw new Error(outcome.sentence);
      expect(Math.abs(outcome.found - 1000 * Math.abs(lagS))).toBeLessThan(0.3);
      expect(outcome.isPassed).toBe(outcome.found <= 5);
    }),
    { numRuns: 60 },
  );
});
