import {
  cross,
  dot,
  type Foot,
  INTENTS,
  type Intent,
  norm,
  plateFrame,
  scaled,
  sum,
  unit,
  type Vector,
} from "@underfoot/domain";
import fc from "fast-check";
import { expect, test } from "vitest";
import {
  DEFAULT_PLATES,
  EXACT_SENSORS,
  type RawPlate,
  randomPlates,
  type ShotOptions,
  type SimulatedShot,
  simulatedPlayer,
  simulateShot,
} from "./index.ts";

const shotOptions = fc
  .record({
    seed: fc.integer({ min: 0, max: 1e9 }),
    handed: fc.constantFrom("right" as const, "left" as const),
    intent: fc.constantFrom(...INTENTS),
    pitchDeg: fc.double({ min: -8, max: 8, noNaN: true }),
    rollDeg: fc.double({ min: -6, max: 6, noNaN: true }),
    isMishit: fc.boolean(),
    rateHz: fc.constantFrom(500, 1000, 2000),
  })
  .map(({ seed, handed, intent, pitchDeg, rollDeg, isMishit, rateHz }): ShotOptions & { intent: Intent } => ({
    seed,
    player: simulatedPlayer({ seed: seed % 97, handed }),
    intent,
    lie: { name: "any", pitchDeg, rollDeg },
    isMishit,
    rateHz,
    plates: randomPlates(seed),
    sensors: EXACT_SENSORS,
  }));

const laws = (check: (options: ShotOptions, shot: SimulatedShot) => void, numRuns = 25): void =>
  fc.assert(
    fc.property(shotOptions, (options) => check(options, simulateShot(options))),
    { numRuns },
  );

/** Lie angles as sines, and the vertical's part along the turf's normal. */
function gravity({ lie }: ShotOptions): readonly [number, number, number] {
  const sinP = Math.sin((lie.pitchDeg * Math.PI) / 180);
  const sinR = Math.sin((lie.rollDeg * Math.PI) / 180);
  return [sinP, sinR, Math.sqrt(1 - sinP ** 2 - sinR ** 2)];
}

test("Newton: the level force is mass times the second difference of the travel, weight added", () => {
  laws((_, { truth, recording }) => {
    const { both, level } = truth.curves;
    const perStep = truth.massKg * recording.rateHz ** 2;
    const along = [
      [both.level.targetN, level.travelTargetM, 0],
      [both.level.aheadN, level.travelAheadM, 0],
      [both.level.upN, level.travelUpM, truth.weightN],
    ] as const;
    for (const [forceN, travelM, weightN] of along) {
      for (let i = 1; i < forceN.length - 1; i += 7) {
        const secondDifference = travelM[i - 1]! - 2 * travelM[i]! + travelM[i + 1]!;
        // The difference is wrong by h² / 12 of the fourth derivative: at most 0.05 N at 500 Hz.
        expect(Math.abs(perStep * secondDifference + weightN - forceN[i]!)).toBeLessThan(0.06);
      }
    }
  });
});

test("static law: a quiet stance on any lie leans by gravity alone, W (sin p, sin r, c) on turf axes", () => {
  laws((options, { truth, recording }) => {
    const share = gravity(options);
    const { targetN, aheadN, upN } = truth.curves.both.turf;
    const { fromS, toS } = truth.quietWindow;
    [targetN, aheadN, upN].forEach((column, k) => {
      const quiet = column.slice(Math.ceil(fromS * recording.rateHz), Math.floor(toS * recording.rateHz));
      const meanN = quiet.reduce((total, value) => total + value / quiet.length, 0);
      // Sway of some mm/s over more than half a second: below 20 mm/s².
      expect(Math.abs(meanN - truth.weightN * share[k]!)).toBeLessThan(0.02 * truth.massKg);
    });
  });
});

test("angular momentum about the vertical turns away, is 0 at top with the torque toward the target, and ends at 0", () => {
  laws((_, { truth, recording }) => {
    const { start, top, impact } = truth.events;
    const { spinNm } = truth.curves;
    const stepS = 1 / recording.rateHz;
    let momentumNms = 0;
    let lowest = 0;
    for (let i = Math.ceil(start / stepS); i < spinNm.length; i++) {
      momentumNms += spinNm[i]! * stepS;
      lowest = Math.min(lowest, momentumNms);
      const timeS = i * stepS;
      if (timeS < top - 0.02 && timeS > start + 0.05) expect(momentumNms).toBeLessThan(0);
      if (Math.abs(timeS - top) < stepS / 2) {
        // Within half a step of top the sum is off by at most a step's torque.
        expect(Math.abs(momentumNms)).toBeLessThan(spinNm[i]! * stepS + 0.01);
        expect(spinNm[i]!).toBeGreaterThan(0);
      }
      if (timeS > top + 0.03 && timeS < impact) expect(momentumNms).toBeGreaterThan(0);
    }
    expect(lowest).toBeLessThan(-0.5);
    expect(Math.abs(momentumNms)).toBeLessThan(0.01);
  });
});

test("spin is the turning torque and the arm of the force about the centre of mass", () => {
  laws((options, { truth, recording }) => {
    const [sinP, sinR, c] = gravity(options);
    const cosP = Math.sqrt(1 - sinP ** 2);
    const { both, level, spinNm } = truth.curves;
    const { fromS, toS } = truth.quietWindow;
    const [first, end] = [Math.ceil(fromS * recording.rateHz), Math.floor(toS * recording.rateHz)];
    const place = (i: number): [number, number] => {
      const t = both.copTargetM[i]!;
      const a = both.copAheadM[i]!;
      return [t * cosP - (a * sinP * sinR) / cosP, (a * c) / cosP];
    };
    let [meanT, meanA] = [0, 0];
    for (let i = first; i < end; i++) {
      meanT += place(i)[0] / (end - first);
      meanA += place(i)[1] / (end - first);
    }
    for (let i = 0; i < spinNm.length; i += 11) {
      const [placeT, placeA] = place(i);
      const armT = placeT - meanT - level.travelTargetM[i]!;
      const armA = placeA - meanA - level.travelAheadM[i]!;
      const spin = c * both.freeMomentNm[i]! + armA * both.level.targetN[i]! - armT * both.level.aheadN[i]!;
      // The centre of mass stands over the mean CoP of the window to some mm (sway): 5 mm x 120 N.
      expect(Math.abs(spin - spinNm[i]!)).toBeLessThan(0.6);
    }
  });
});

test("a left-handed player's mirrored shot has the same truth, number by number", () => {
  laws((options, { truth }) => {
    const { player } = options;
    const other = simulateShot({
      ...options,
      player: { ...player, handed: player.handed === "right" ? "left" : "right" },
    });
    expect(other.truth.measures).toEqual(truth.measures);
    expect(other.truth.events).toEqual(truth.events);
    expect(other.truth.curves.both).toEqual(truth.curves.both);
  }, 8);
});

/** Force on the player and moment about the surface centre in plate axes, sample i: the C3D guide's formulas, written here anew. */
function wrenchOf({ type, columns, originM: o, matrix, sense }: RawPlate, i: number): [Vector, Vector] {
  const v = columns.map((column) => column[i]!);
  const sign = sense === "on-player" ? 1 : -1;
  const about = (force: Vector, moment: Vector, origin: Vector): [Vector, Vector] => [
    scaled(force, sign),
    scaled(sum(moment, scaled(cross(origin, force), -1)), sign),
  ];
  const [a, b, c, d, e, f, g, h] = v as [number, number, number, number, number, number, number, number];
  if (type === 1) {
    const force = { x: a, y: b, z: c };
    return [
      scaled(force, sign),
      scaled(sum(cross({ x: d - o.x, y: e - o.y, z: 0 }, force), { x: 0, y: 0, z: f }), sign),
    ];
  }
  if (type === 2) return about({ x: a, y: b, z: c }, { x: d, y: e, z: f }, o);
  if (type === 3) {
    const force = { x: a + b, y: c + d, z: e + f + g + h };
    const moment = { x: o.y * (e + f - g - h), y: o.x * (-e + f + g - h), z: o.y * (b - a) + o.x * (c - d) };
    return about(force, moment, { x: 0, y: 0, z: o.z });
  }
  const [fx, fy, fz, mx, my, mz] = matrix!.map((row) => row.reduce((total, k, s) => total + k * v[s]!, 0)) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  return about({ x: fx, y: fy, z: fz }, { x: mx, y: my, z: mz }, o);
}

test("from the written channels of any plate types, laid anyhow, both hands, comes the truth: forces, CoP, free moments, couple", () => {
  laws((_, { truth, raw, facts }) => {
    const hand = facts.handed === "right" ? 1 : -1;
    const normal = plateFrame(raw[0]!.cornersM).normal;
    const target = unit(sum(facts.target, scaled(normal, -dot(facts.target, normal))));
    const ahead = scaled(cross(target, normal), hand);
    const { curves, referenceM, padM } = truth;
    for (let i = 0; i < curves.timeS.length; i += 97) {
      const seen = {} as Record<Foot, { force: Vector; cop: Vector; free: number }>;
      for (const plate of raw) {
        const { foot } = plate;
        const frame = plateFrame(plate.cornersM);
        const inLab = ({ x, y, z }: Vector): Vector =>
          sum(sum(scaled(frame.x, x), scaled(frame.y, y)), scaled(frame.z, z));
        const [plateForce, plateMoment] = wrenchOf(plate, i);
        const force = inLab(plateForce);
        const load = dot(force, normal);
        const moment = sum(inLab(plateMoment), scaled(cross(scaled(normal, padM), force), -1));
        const cop = sum(frame.centreM, scaled(cross(normal, moment), 1 / load));
        const free = dot(normal, moment) - dot(normal, cross(sum(cop, scaled(frame.centreM, -1)), force));
        seen[foot] = { force, cop, free: hand * free };
        const true_ = curves[foot];
        expect(dot(force, target)).toBeCloseTo(true_.turf.targetN[i]!, 8);
        expect(dot(force, ahead)).toBeCloseTo(true_.turf.aheadN[i]!, 8);
        expect(load).toBeCloseTo(true_.turf.upN[i]!, 8);
        const from = sum(cop, scaled(referenceM, -1));
        expect(dot(from, target)).toBeCloseTo(true_.copTargetM[i]!, 8);
        expect(dot(from, ahead)).toBeCloseTo(true_.copAheadM[i]!, 8);
        expect(hand * free).toBeCloseTo(true_.freeMomentNm[i]!, 8);
      }
      const { lead, trail } = seen;
      const leadPart = dot(lead.force, normal) / (dot(lead.force, normal) + dot(trail.force, normal));
      const q = sum(scaled(lead.force, 1 - leadPart), scaled(trail.force, -leadPart));
      const couple = hand * dot(normal, cross(sum(lead.cop, scaled(trail.cop, -1)), q));
      expect(leadPart).toBeCloseTo(curves.leadShare[i]!, 10);
      expect(couple).toBeCloseTo(curves.coupleNm[i]!, 8);
      expect(lead.free + trail.free + couple).toBeCloseTo(curves.both.freeMomentNm[i]!, 8);
    }
  });
});

test("the traced outlines hold a clean shot's CoP, and a mishit's lead CoP is at 85 to 105 % heel-toe at delivery", () => {
  laws((options, { truth, facts, recording }) => {
    for (const { foot, outline, heel, toe } of facts.feet) {
      const normal = plateFrame(recording.plates[0]!.corners).normal;
      const target = facts.target;
      const ahead = scaled(cross(target, normal), facts.handed === "right" ? 1 : -1);
      const turf = (point: Vector): [number, number] => {
        const from = sum(point, scaled(truth.referenceM, -1));
        return [dot(from, target), dot(from, ahead)];
      };
      const points = outline.map(turf);
      const { copTargetM, copAheadM } = truth.curves[foot];
      const isInside = (t: number, a: number): boolean => {
        let inside = false;
        points.forEach(([t0, a0], k) => {
          const [t1, a1] = points[(k + 1) % points.length]!;
          if (a0 > a !== a1 > a && t < t0 + ((a - a0) / (a1 - a0)) * (t1 - t0)) inside = !inside;
        });
        return inside;
      };
      if (foot === "trail" || options.isMishit !== true) {
        for (let i = 0; i < copTargetM.length; i += 13) expect(isInside(copTargetM[i]!, copAheadM[i]!)).toBe(true);
      } else {
        const [heelT, heelA] = turf(heel!);
        const [toeT, toeA] = turf(toe!);
        const i = Math.round(truth.events.delivery * recording.rateHz);
        const [t, a] = [copTargetM[i]! - heelT, copAheadM[i]! - heelA];
        const length = Math.hypot(toeT - heelT, toeA - heelA);
        const heelToe = (100 * (t * (toeT - heelT) + a * (toeA - heelA))) / length ** 2;
        // Quiet sway moves the whole body's CoP by some millimetres more: 2 %.
        expect(heelToe).toBeGreaterThan(85 - 2.5);
        expect(heelToe).toBeLessThan(105 + 2.5);
      }
    }
  });
});

test("plates do not overlap and the soles stand on them", () => {
  laws((_, { facts, raw }) => {
    for (const { foot, outline } of facts.feet) {
      const plate = raw.find((one) => one.foot === foot)!;
      const { x, y, centreM, sizeM } = plateFrame(plate.cornersM);
      for (const point of outline) {
        const from = sum(point, scaled(centreM, -1));
        expect(Math.abs(dot(from, x))).toBeLessThan(sizeM[0] / 2 + 0.02);
        expect(Math.abs(dot(from, y))).toBeLessThan(sizeM[1] / 2 + 0.02);
      }
    }
    const apart = sum(plateFrame(raw[0]!.cornersM).centreM, scaled(plateFrame(raw[1]!.cornersM).centreM, -1));
    expect(norm(apart)).toBeGreaterThan(0.4);
  });
});

test("events stand in order inside the recording", () => {
  laws((_, { truth, recording }) => {
    const { address, start, top, delivery, impact, finish } = truth.events;
    const inOrder = [0, address, start, top, delivery, impact, finish, recording.sampleCount / recording.rateHz];
    expect([...inOrder].sort((a, b) => a - b)).toEqual(inOrder);
  });
});

test("no foot ever needs more friction than dry ground gives, and none is pulled by the ground", () => {
  laws((options, { truth }) => {
    const friction = truth.measures.filter(({ id }) => id.endsWith("friction.peak"));
    const [sinP, sinR, c] = gravity(options);
    // Not a number: the foot carried less than a tenth of the weight all along.
    for (const { value } of friction.filter((measure) => !Number.isNaN(measure.value)))
      expect(value).toBeLessThan(0.6 + Math.hypot(sinP, sinR) / c);
    for (const foot of ["lead", "trail"] as const) {
      expect(Math.min(...truth.curves[foot].turf.upN)).toBeGreaterThanOrEqual(0);
    }
  });
});

test("the same options give the same bytes, another seed others", () => {
  const options: ShotOptions = {
    seed: 11,
    player: simulatedPlayer({ seed: 3 }),
    intent: "stock",
    lie: { name: "upslope", pitchDeg: 5, rollDeg: 0 },
    plates: DEFAULT_PLATES,
    hasSound: true,
    hasTrigger: true,
  };
  expect(simulateShot(options)).toEqual(simulateShot(options));
  expect(simulateShot({ ...options, seed: 12 }).raw[0]!.columns).not.toEqual(simulateShot(options).raw[0]!.columns);
});
