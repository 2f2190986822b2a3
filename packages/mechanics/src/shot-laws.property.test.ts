import {
  cross,
  dot,
  type PlateCorners,
  type PlateDescription,
  plateFrame,
  type Recording,
  type ShotFacts,
  scaled,
  sum,
  type Vector,
} from "@underfoot/domain";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import table from "../../../reference/mechanics-shot.json" with { type: "json" };
import { type WholeShotTable, wholeShotFacts, wholeShotRecording } from "../../../reference/whole-shot.ts";
import { againstGravity, turfAxes } from "./axes.ts";
import { comSpeed } from "./motion.ts";
import { type PlateWrench, plateWrench } from "./plate-wrench.ts";
import { couple, type PlayerWrenchAt, wrenchFreeMoment } from "./player-wrench.ts";
import { DEFAULT_SETTINGS } from "./settings.ts";
import type { Shot } from "./shot.ts";
import { shotFromRecording } from "./shot-from-recording.ts";
import { staticSlopeShare } from "./slope.ts";

const settings = DEFAULT_SETTINGS;
const EXACT = table.facts as unknown as WholeShotTable;
const RECORDING = wholeShotRecording(EXACT, table.samples);
const FACTS = wholeShotFacts(EXACT);
const WRENCHES = RECORDING.plates.map((plate) => plateWrench(RECORDING, plate, { settings, asWritten: true }));
const PLAIN = shotFromRecording(RECORDING, FACTS);

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });
const handed = fc.constantFrom("right" as const, "left" as const);

/** Two plates of type 2 with these wrenches about the centres of their surfaces, laboratory axes. */
function recordingOf(
  plates: readonly { corners: PlateCorners; force: (i: number) => Vector; moment: (i: number) => Vector }[],
  sampleCount: number,
  rateHz: number,
): Recording {
  const channels = plates.flatMap(({ corners, force, moment }) => {
    const { x, y, z } = plateFrame(corners);
    return [force, moment].flatMap((of) =>
      [x, y, z].map((axis) => ({
        label: "",
        unit: "",
        role: "other" as const,
        values: Float64Array.from({ length: sampleCount }, (_, i) => dot(of(i), axis)),
      })),
    );
  });
  const none = { x: 0, y: 0, z: 0 };
  return {
    ...RECORDING,
    rateHz,
    sampleCount,
    channels,
    plates: plates.map(
      ({ corners }, k): PlateDescription => ({
        ...RECORDING.plates[k]!,
        corners,
        channels: [0, 1, 2, 3, 4, 5].map((c) => 6 * k + c),
        originM: none,
        originAsWrittenM: none,
      }),
    ),
  };
}

const vectorAt = ({ x, y, z }: PlateWrench["forceN"], i: number): Vector => ({ x: x[i]!, y: y[i]!, z: z[i]! });

/** The whole shot with every vector sent through `point` and every moment through `axial`; corners in the order given. */
function movedShot(
  point: (v: Vector) => Vector,
  axial: (v: Vector) => Vector,
  order: readonly number[],
): { recording: Recording; facts: ShotFacts } {
  const recording = recordingOf(
    WRENCHES.map((wrench, k) => ({
      corners: order.map((c) => point(RECORDING.plates[k]!.corners[c]!)) as unknown as PlateCorners,
      force: (i) => point(vectorAt(wrench.forceN, i)),
      moment: (i) => axial(vectorAt(wrench.momentNm, i)),
    })),
    RECORDING.sampleCount,
    RECORDING.rateHz,
  );
  const facts: ShotFacts = {
    ...FACTS,
    target: point(FACTS.target),
    up: point({ x: 0, y: 0, z: 1 }),
    feet: FACTS.feet.map((foot) => ({
      ...foot,
      outline: foot.outline.map(point),
      heel: point(foot.heel!),
      toe: point(foot.toe!),
    })),
  };
  return { recording, facts };
}

function expectSameCurves(found: Shot, wanted: Shot, tolerance: number): void {
  const curves = (shot: Shot): [string, Float64Array][] => [
    ["target", shot.both.wrench.targetN],
    ["ahead", shot.both.wrench.aheadN],
    ["up", shot.both.wrench.upN],
    ["turn", shot.both.freeMomentNm],
    ["couple", shot.coupleNm],
    ["lead CoP ahead", shot.lead!.copAheadM],
    ["lead free moment", shot.lead!.freeMomentNm],
    ["speed target", shot.level.speedTargetMPerS],
    ["speed ahead", shot.turf.speedAheadMPerS],
    ["travel up", shot.level.travelUpM],
  ];
  const others = curves(wanted);
  curves(found).forEach(([name, curve], c) => {
    let largest = 0;
    curve.forEach((value, i) => {
      const other = others[c]![1][i]!;
      if (Number.isNaN(value) && Number.isNaN(other)) return;
      largest = Math.max(largest, Math.abs(value - other));
    });
    expect([name, largest < tolerance ? "same" : largest]).toEqual([name, "same"]);
  });
}

/** A rotation of the laboratory about a unit axis (Rodrigues). */
function rotation(axis: Vector, angleRad: number): (v: Vector) => Vector {
  const [c, s] = [Math.cos(angleRad), Math.sin(angleRad)];
  return (v) => sum(sum(scaled(v, c), scaled(cross(axis, v), s)), scaled(axis, dot(axis, v) * (1 - c)));
}

describe("laws of a shot", () => {
  it("turning the laboratory changes no result", () => {
    fc.assert(
      fc.property(number(-1, 1), number(0, 2 * Math.PI), number(0, 2 * Math.PI), (z, azimuth, angle) => {
        const r = Math.sqrt(1 - z * z);
        const turn = rotation({ x: r * Math.cos(azimuth), y: r * Math.sin(azimuth), z }, angle);
        const { recording, facts } = movedShot(turn, turn, [0, 1, 2, 3]);
        expectSameCurves(shotFromRecording(recording, facts), PLAIN, 1e-9);
      }),
      { numRuns: 12 },
    );
  });

  it("a mirrored recording of the other-handed player gives the same results", () => {
    const mirror = ({ x, y, z }: Vector): Vector => ({ x, y: -y, z });
    const axial = ({ x, y, z }: Vector): Vector => ({ x: -x, y, z: -z });
    // A mirror turns the corners' order round; two swaps along x make it (+x+y) (-x+y) (-x-y) (+x-y) again.
    const { recording, facts } = movedShot(mirror, axial, [1, 0, 3, 2]);
    const mirrored = shotFromRecording(recording, { ...facts, handed: "left" });
    expectSameCurves(mirrored, PLAIN, 1e-9);
    expect(mirrored.soles.lead!.heel.aheadM).toBeCloseTo(PLAIN.soles.lead!.heel.aheadM, 9);
  });

  it("mass and force scaled together leave velocity and displacement alone", () => {
    fc.assert(
      fc.property(number(0.6, 1.5), (factor) => {
        const channels = RECORDING.channels.map((c) => ({ ...c, values: c.values.map((v) => v * factor) }));
        const shot = shotFromRecording({ ...RECORDING, channels }, FACTS);
        expect(shot.massKg / PLAIN.massKg).toBeCloseTo(factor, 9);
        for (const part of ["speedTargetMPerS", "speedUpMPerS", "travelTargetM", "travelUpM"] as const) {
          shot.level[part].forEach((value, i) => {
            if (Math.abs(value - PLAIN.level[part][i]!) > 1e-9) expect(value).toBe(PLAIN.level[part][i]);
          });
        }
      }),
      { numRuns: 10 },
    );
  });

  it("standing still on any lie is all slope share: no speed, no travel, no start, weight whole", () => {
    const lies = fc.record({ pitchDeg: number(-20, 20), rollDeg: number(-20, 20) });
    fc.assert(
      fc.property(lies, handed, number(400, 1200), number(0.2, 0.8), (lie, hand, weightN, share) => {
        const axes = turfAxes({ x: 0, y: 0, z: 1 }, { x: 0, y: 1, z: 0 }, hand);
        const k = againstGravity(lie);
        const total = scaled(
          sum(sum(scaled(axes.target, k.target), scaled(axes.ahead, k.ahead)), scaled(axes.up, k.up)),
          weightN,
        );
        const corners = (y: number): PlateCorners => [
          { x: 0.2, y: y + 0.15, z: 0 },
          { x: 0.2, y: y - 0.15, z: 0 },
          { x: -0.2, y: y - 0.15, z: 0 },
          { x: -0.2, y: y + 0.15, z: 0 },
        ];
        const plates = [share, 1 - share].map((part, i) => ({
          corners: corners(i === 0 ? 0.2 : -0.2),
          force: () => scaled(total, part),
          moment: () => ({ x: 3, y: -2, z: 1 }),
        }));
        const shot = shotFromRecording(recordingOf(plates, 1500, 500), {
          handed: hand,
          target: { x: 0, y: 1, z: 0 },
          lie: { ...lie, source: "inclinometer", sdDeg: 0.2 },
          plates: [
            { plate: 1, foot: "lead" },
            { plate: 2, foot: "trail" },
          ],
          feet: [],
          events: [],
          keep: "kept",
        });
        const still = staticSlopeShare(lie, shot.weightN);
        expect(shot.weightN).toBeCloseTo(weightN, 8);
        expect(shot.slopeCheck.agrees).toBe(true);
        const i = 700;
        expect(shot.both.wrench.targetN[i]! - still.forceN.target).toBeCloseTo(0, 8);
        expect(shot.both.wrench.aheadN[i]! - still.forceN.ahead).toBeCloseTo(0, 8);
        expect(shot.both.wrench.upN[i]! - weightN - still.forceN.up).toBeCloseTo(0, 8);
        expect(shot.leadShare[i]!).toBeCloseTo(share, 9);
        for (const motion of [shot.turf, shot.level]) {
          for (const column of [motion.speedTargetMPerS, motion.speedUpMPerS, motion.travelAheadM]) {
            expect(Math.max(...column.map(Math.abs))).toBeLessThan(1e-9);
          }
        }
        expect(shot.events.some((e) => e.event === "start" || e.event === "top")).toBe(false);
      }),
      { numRuns: 40 },
    );
  });

  it("the torque splits exactly into free moments and couple for any two coplanar wrenches (1e-9 N m)", () => {
    const wrench = fc.record({
      targetN: number(-300, 300),
      aheadN: number(-300, 300),
      upN: number(50, 1500),
      bTargetNm: number(-300, 300),
      bAheadNm: number(-300, 300),
      turnNm: number(-100, 100),
    });
    fc.assert(
      fc.property(wrench, wrench, number(0, 0.03), (lead, trail, padM) => {
        const both = Object.fromEntries(
          Object.keys(lead).map((part) => [part, lead[part as "upN"] + trail[part as "upN"]]),
        ) as unknown as PlayerWrenchAt;
        const parts = wrenchFreeMoment(lead, padM) + wrenchFreeMoment(trail, padM) + couple(lead, trail, padM);
        expect(Math.abs(parts - wrenchFreeMoment(both, padM))).toBeLessThan(1e-9);
      }),
      { numRuns: 300 },
    );
  });

  it("the change of velocity is impulse over mass, whatever the pulses (Newton)", () => {
    // A pulse A (1 - u²)³ over a half width w has the impulse A w 32/35 (beta function).
    const pulse = fc.record({ sizeN: number(-400, 400), middleS: number(1.2, 2.6), widthS: number(0.05, 0.3) });
    fc.assert(
      fc.property(fc.array(pulse, { minLength: 1, maxLength: 5 }), number(45, 120), (pulses, massKg) => {
        const rateHz = 1000;
        const force = Float64Array.from({ length: 3000 }, (_, i) =>
          pulses.reduce((sumN, { sizeN, middleS, widthS }) => {
            const u = (i / rateHz - middleS) / widthS;
            return Math.abs(u) < 1 ? sumN + sizeN * (1 - u * u) ** 3 : sumN;
          }, 800),
        );
        const speed = comSpeed(force, { rateHz, massKg, quietN: 800, window: { first: 0, end: 800 } });
        const impulseNs = pulses.reduce((sumNs, { sizeN, widthS }) => sumNs + (sizeN * widthS * 32) / 35, 0);
        expect(Math.abs(speed.at(-1)! - impulseNs / massKg)).toBeLessThan(1e-6);
      }),
      { numRuns: 100 },
    );
  });
});
