import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { cross, random, type Vector } from "@underfoot/domain";
import { c3dBytes } from "@underfoot/formats";
import { EXACT_SENSORS, SIMULATED_LIES, simulatedPlayer, simulateShot } from "@underfoot/simulator";
import { describe, expect, test } from "vitest";
import { emptyPlate, type HandMadePlate, handMadeRecording } from "./hand-made-recording.ts";
import { type PlateCheckQuestion, plateCheck } from "./plate-check.ts";
import type { PlateCheckFacts, PlateCheckOutcome } from "./plate-checks/check-outcome.ts";
import type { MeasuredZero } from "./plate-checks/zero-check.ts";
import { recordingStretch } from "./recording-stretch.ts";

const RATE_HZ = 500;
const G = 9.80665;
type Ok = Extract<PlateCheckOutcome, { status: "ok" }>;
type Filled = ReturnType<typeof emptyPlate>;

function ok(outcome: PlateCheckOutcome): Ok {
  if (outcome.status !== "ok") throw new Error(`${outcome.code}: ${outcome.sentence}`);
  return outcome;
}
function codeOf(outcome: PlateCheckOutcome): string {
  return outcome.status === "ok" ? "ok" : `${outcome.status} ${outcome.code}`;
}
const ask = (plates: readonly HandMadePlate[], asked: object): PlateCheckOutcome =>
  plateCheck({ recording: handMadeRecording(plates, { rateHz: RATE_HZ }), ...asked } as PlateCheckQuestion);

/** A force at a point of the surface, from the plate's centre, added over seconds [from, to): F and M = r × F. */
function press(plate: Filled, [fromS, toS]: readonly [number, number], place: Vector, force: Vector): void {
  const moment = cross(place, force);
  for (let i = Math.round(fromS * RATE_HZ); i < Math.round(toS * RATE_HZ); i++) {
    for (const axis of ["x", "y", "z"] as const) {
      plate.forceN[axis][i]! += force[axis];
      plate.momentNm[axis][i]! += moment[axis];
    }
  }
}

/** Constant offsets and white noise on all six. */
function spoil(
  plate: Filled,
  seed: number,
  o: { readonly noise?: number; readonly offsetN?: Vector; readonly offsetNm?: Vector },
): void {
  const { noise = 0, offsetN = point(0, 0), offsetNm = point(0, 0) } = o;
  const draw = random(seed, "noise");
  for (const axis of ["x", "y", "z"] as const) {
    for (let i = 0; i < plate.forceN.x.length; i++) {
      plate.forceN[axis][i]! += offsetN[axis] + noise * draw.normal();
      plate.momentNm[axis][i]! += offsetNm[axis] + 0.3 * noise * draw.normal();
    }
  }
}

const plateAt = (x: number, seconds: number): Filled => emptyPlate({ x, y: 0, z: 0 }, seconds * RATE_HZ);
const point = (x: number, y: number, z = 0): Vector => ({ x, y, z });

describe("zero", () => {
  test("what unloaded plates read is found, with its sd, and passes within 2 N and 0.5 N m", () => {
    const [a, b] = [plateAt(0.2, 3), plateAt(-0.2, 3)];
    spoil(a, 1, { noise: 0.5, offsetN: point(0.4, -0.7, 1.2), offsetNm: point(0.1, 0.2, -0.3) });
    spoil(b, 2, { noise: 0.5 });
    const outcome = ok(ask([a, b], { kind: "zero" }));
    expect(outcome).toMatchObject({ isPassed: true, remedy: "" });
    expect(outcome.parts).toHaveLength(4);
    const [zero] = (outcome.detail as { zeros: readonly MeasuredZero[] }).zeros;
    // Plate axes: y and z are turned. The mean of 1500 samples of sd 0.5 is good to 0.013 N.
    for (const [axis, wanted] of [
      ["x", 0.4],
      ["y", 0.7],
      ["z", -1.2],
    ] as const) {
      expect(Math.abs(zero!.forceN[axis] - wanted)).toBeLessThan(0.06);
      expect(Math.abs(zero!.forceSdN[axis] - 0.5)).toBeLessThan(0.05);
    }
    expect(Math.abs(zero!.momentNm!.z - 0.3)).toBeLessThan(0.02);
    expect(zero!.channels.map(({ label }) => label)).toEqual(["Fx1", "Fy1", "Fz1", "Mx1", "My1", "Mz1"]);
    expect(zero!.channels[2]!.mean).toBe(zero!.forceN.z);
  });

  test("3 N fail, with the number and what to do", () => {
    const plate = plateAt(0, 2);
    spoil(plate, 3, { offsetN: point(0, 3) });
    const outcome = ok(ask([plate], { kind: "zero" }));
    expect(outcome).toMatchObject({ isPassed: false, allowed: 2, unit: "N" });
    expect(outcome.found).toBeCloseTo(3, 9);
    expect(outcome.sentence).toContain("plate 1 reads 3.00 N along its y axis; 2 N allowed (our limit)");
    expect(outcome.remedy).not.toBe("");
  });

  test("somebody who stands on a plate is seen, and one who steps on later does no harm", () => {
    const [standing, later] = [plateAt(0, 3), plateAt(0, 3)];
    press(standing, [0, 3], point(0, 0), point(0, 0, 412));
    press(later, [1.5, 3], point(0, 0), point(0, 0, 412));
    const outcome = ask([plateAt(0.5, 3), standing], { kind: "zero" });
    expect(codeOf(outcome)).toBe("error plate-loaded");
    expect(outcome.sentence).toContain("Somebody stands on plate 2: 412 N");
    expect(ok(ask([later], { kind: "zero" })).isPassed).toBe(true);
    // A plate that carries no foot in this set-up may carry anything.
    const facts: PlateCheckFacts = { plates: [{ plate: 2, foot: "none" }] };
    expect(ok(ask([plateAt(0.5, 3), standing], { kind: "zero", facts })).parts).toHaveLength(2);
    expect(codeOf(ask([plateAt(0, 0.4)], { kind: "zero" }))).toBe("error recording-too-short");
    expect(codeOf(ask([], { kind: "zero" }))).toBe("error recording-too-short");
  });
});

/** Against gravity on a lie in this laboratory: target along x, ahead along -y for a right-handed player. */
function upOf(pitchDeg: number, rollDeg: number): Vector {
  const [p, r] = [Math.sin((pitchDeg * Math.PI) / 180), Math.sin((rollDeg * Math.PI) / 180)];
  return point(p, -r, Math.sqrt(1 - p * p - r * r));
}
const factsOn = (pitchDeg: number, rollDeg: number): PlateCheckFacts => ({
  handed: "right",
  target: point(1, 0),
  lie: { pitchDeg, rollDeg, source: "inclinometer", sdDeg: 0.2 },
  plates: [
    { plate: 1, foot: "lead" },
    { plate: 2, foot: "trail" },
  ],
});
const times = (factor: number, { x, y, z }: Vector): Vector => point(factor * x, factor * y, factor * z);

/** Centre, then halfway to each corner, in the laboratory; plate y is turned. */
const FIVE: readonly Vector[] = [
  point(0, 0),
  point(0.1, -0.15),
  point(-0.1, -0.15),
  point(-0.1, 0.15),
  point(0.1, 0.15),
];

/** A mass laid at five places, 2 s each after 1 s of nothing. */
function massAtFive(o: {
  massKg: number;
  up?: Vector;
  gain?: number;
  offM?: number;
  extraN?: Vector;
  places?: readonly Vector[];
}): Filled {
  const { massKg, up = point(0, 0, 1), gain = 1, offM = 0, extraN = point(0, 0), places = FIVE } = o;
  const plate = plateAt(0.2, 1 + 3 * places.length);
  spoil(plate, 5, { noise: 0.5, offsetN: point(1, -2, 3), offsetNm: point(0.2, -0.1, 0.3) });
  for (const [k, place] of places.entries()) {
    const force = times(gain * massKg * G, up);
    press(
      plate,
      [1 + 3 * k, 3 + 3 * k],
      point(place.x + offM, place.y),
      point(force.x + extraN.x, force.y + extraN.y, force.z),
    );
  }
  return plate;
}

describe("known mass", () => {
  test("20 kg at five places on the level: all parts hold, though the plate was never zeroed", () => {
    const outcome = ok(ask([massAtFive({ massKg: 20 })], { kind: "known-mass", massKg: 20, facts: factsOn(0, 0) }));
    expect(outcome.isPassed).toBe(true);
    expect(outcome.parts).toHaveLength(15);
    const { masses } = outcome.detail as {
      masses: readonly { place: string; forceN: Vector; placeM: readonly number[] }[];
    };
    expect(masses.map(({ place }) => place)).toEqual([
      "centre",
      "near corner 1",
      "near corner 2",
      "near corner 3",
      "near corner 4",
    ]);
    for (const { forceN } of masses) expect(Math.abs(forceN.z - 20 * G)).toBeLessThan(0.2);
    expect(Math.abs(masses[1]!.placeM[1]! - 0.15)).toBeLessThan(0.001);
  });

  test.each([
    ["a gain of 1.5 %", { gain: 1.015 }, "Load", 0.015 * 20 * G, 2],
    ["8 mm beside the place", { offM: 0.008 }, "Place", 8, 3],
    ["2 N along the surface", { extraN: point(2, 0) }, "Horizontal part", (100 * 2) / (20 * G), 0.5],
  ] as const)("%s fails with its number", (_, wrong, name, found, allowed) => {
    const outcome = ok(
      ask([massAtFive({ massKg: 20, ...wrong })], { kind: "known-mass", massKg: 20, facts: factsOn(0, 0) }),
    );
    expect(outcome.isPassed).toBe(false);
    const failed = outcome.parts.filter(({ isPassed }) => !isPassed);
    expect(failed).toHaveLength(5);
    for (const one of failed) {
      expect(one.name.startsWith(name)).toBe(true);
      expect(one.allowed).toBeCloseTo(allowed, 6);
      expect(Math.abs(one.found - found)).toBeLessThan(0.05 * found);
    }
  });

  test("on a slope the force leans as the static law says, and the pressure lies downhill by height times slope", () => {
    const up = upOf(5, -3);
    const heightM = 0.1;
    // The weight acts through the mass's centre: it meets the surface where place + height n - s up has no height.
    const places = FIVE.map(({ x, y }) => point(x - (heightM * up.x) / up.z, y - (heightM * up.y) / up.z));
    const plate = massAtFive({ massKg: 20, up, places });
    const asked = { kind: "known-mass", massKg: 20, facts: factsOn(5, -3) };
    expect(ok(ask([plate], { ...asked, massHeightM: heightM })).isPassed).toBe(true);
    const lowered = ok(ask([plate], asked));
    expect(lowered.isPassed).toBe(false);
    expect(lowered.unit).toBe("mm");
    // 100 mm x tan of the steepest angle.
    expect(Math.abs(lowered.found - (100 * Math.hypot(up.x, up.y)) / up.z)).toBeLessThan(0.3);
    expect(lowered.cautions.some((caution) => caution.includes("height of the mass"))).toBe(true);
    // Said to be flat: sin 5.8° of the weight is 10 %.
    const flat = ok(ask([plate], { ...asked, massHeightM: heightM, facts: factsOn(0, 0) }));
    expect(flat.unit).toBe("%");
    expect(Math.abs(flat.found - 100 * Math.hypot(up.x, up.y))).toBeLessThan(0.1);
  });

  test("two plates that read the same mass differently are told", () => {
    const outcome = ok(
      ask([massAtFive({ massKg: 60 }), massAtFive({ massKg: 60, gain: 1.004 })], {
        kind: "known-mass",
        massKg: 60,
        facts: factsOn(0, 0),
      }),
    );
    const between = outcome.parts.find(({ name }) => name === "Between the plates")!;
    expect(Math.abs(between.found - 0.004 * 60 * G)).toBeLessThan(0.2);
    expect(between.isPassed).toBe(true);
  });

  test("places as named, and what cannot be checked", () => {
    const asked = { kind: "known-mass", massKg: 20, facts: factsOn(0, 0) };
    const plate = massAtFive({ massKg: 20, places: [point(0.05, 0.02)] });
    expect(ok(ask([plate], { ...asked, places: [{ xM: 0.05, yM: -0.02 }] })).isPassed).toBe(true);
    expect(ok(ask([plate], { ...asked, places: ["centre"] })).isPassed).toBe(false);
    expect(codeOf(ask([plate], { ...asked, places: ["centre", "centre"] }))).toBe("error places-differ");
    expect(codeOf(ask([plate], { ...asked, massKg: 80 }))).toBe("error mass-not-found");
    expect(codeOf(ask([plate], { ...asked, massKg: 2 }))).toBe("error mass-wrong");
    expect(codeOf(ask([plate], { ...asked, facts: {} }))).toBe("needs-facts lie-missing");
    const { target: _, ...noTarget } = factsOn(5, 0);
    expect(codeOf(ask([plate], { ...asked, facts: noTarget }))).toBe("needs-facts target-missing");
  });
});

/** Somebody stands still on both plates: W along `up`, 55 % on the first, one second after nothing. */
function standing(up: Vector, weightN = 780): readonly [Filled, Filled] {
  const plates = [plateAt(0.2, 5), plateAt(-0.2, 5)] as const;
  for (const [k, plate] of plates.entries()) {
    spoil(plate, 20 + k, { noise: 0.5, offsetN: point(1.5, -1, 2), offsetNm: point(0, 0.2, 0) });
    press(plate, [1, 5], point(0.01, -0.02), times((k === 0 ? 0.55 : 0.45) * weightN, up));
  }
  return plates;
}

describe("lean of a quiet stance", () => {
  test.each([
    [0, 0],
    [5, 0],
    [-4, 2],
    [3, -6],
  ])("pitch %d, roll %d: found to 0.1°", (pitchDeg, rollDeg) => {
    const outcome = ok(
      ask(standing(upOf(pitchDeg, rollDeg)), { kind: "quiet-lean", facts: factsOn(pitchDeg, rollDeg) }),
    );
    expect(outcome.isPassed).toBe(true);
    const { detail } = outcome as { detail: { pitchDeg: number; rollDeg: number } } & Ok;
    expect(Math.abs(detail.pitchDeg - pitchDeg)).toBeLessThan(0.1);
    expect(Math.abs(detail.rollDeg - rollDeg)).toBeLessThan(0.1);
  });

  test("a lie entered wrongly by 2° fails with 2°", () => {
    const outcome = ok(ask(standing(upOf(5, 0)), { kind: "quiet-lean", facts: factsOn(3, 0) }));
    expect(outcome).toMatchObject({ isPassed: false, unit: "°" });
    expect(Math.abs(outcome.found - 2)).toBeLessThan(0.1);
    expect(outcome.allowed).toBeGreaterThanOrEqual(0.5);
    expect(outcome.sentence).toContain("1 of 2 fail. Pitch by the stance");
    expect(outcome.cautions.join(" ")).toContain("Secure the plates and the stance on the slope");
  });

  test("the simulator's stances on every lie and either hand: they pass, and a lie entered 2° wrong fails", () => {
    const tally = { stances: 0, passed: 0, passedWrong: 0 };
    for (const lie of Object.values(SIMULATED_LIES)) {
      for (const handed of ["right", "left"] as const) {
        for (let seed = 1; seed <= 8; seed++) {
          const shot = simulateShot({ seed, player: simulatedPlayer({ seed, handed }), intent: "stock", lie });
          const end = Math.floor((shot.truth.events.start - 0.1) * shot.recording.rateHz);
          const question = {
            kind: "quiet-lean",
            recording: recordingStretch(shot.recording, { first: 0, end }),
          } as const;
          const said = shot.facts.lie!;
          const wrong = { ...shot.facts, lie: { ...said, pitchDeg: said.pitchDeg + 2 } };
          tally.stances++;
          if (ok(plateCheck({ ...question, facts: shot.facts })).isPassed) tally.passed++;
          if (ok(plateCheck({ ...question, facts: wrong })).isPassed) tally.passedWrong++;
        }
      }
    }
    // Two angles at 2.5 sigma: one stance in 40 may fail by chance.
    expect(tally.stances).toBe(80);
    expect(tally.passed).toBeGreaterThanOrEqual(76);
    expect(tally.passedWrong).toBe(0);
  });

  test("nobody there, nobody still, and facts that are missing", () => {
    const facts = factsOn(0, 0);
    const still = standing(upOf(0, 0));
    expect(codeOf(ask(still, { kind: "quiet-lean" }))).toBe("needs-facts lie-missing");
    expect(codeOf(ask(still, { kind: "quiet-lean", facts: { ...facts, plates: [] } }))).toBe(
      "needs-facts plates-missing",
    );
    const { handed: _, ...noHand } = facts;
    expect(codeOf(ask(still, { kind: "quiet-lean", facts: noHand }))).toBe("needs-facts target-missing");
    expect(codeOf(ask([plateAt(0.2, 2), plateAt(-0.2, 2)], { kind: "quiet-lean", facts }))).toBe("error no-load");
    const restless = standing(upOf(0, 0));
    for (let i = 0; i < restless[0].forceN.x.length; i++)
      restless[0].forceN.x[i]! += 60 * Math.sin((2 * Math.PI * i) / 250);
    expect(codeOf(ask(restless, { kind: "quiet-lean", facts }))).toBe("error not-still");
  });
});

/** A board across both plates, struck at these times; the trail plate feels it `lagS` later. */
function tapped(lagS: number, timesS: readonly number[] = [1.5, 3, 4.5]): readonly [Filled, Filled] {
  const plates = [plateAt(0.2, 6), plateAt(-0.2, 6)] as const;
  for (const [k, plate] of plates.entries()) {
    spoil(plate, 40 + k, { noise: 0.5 });
    for (let i = 0; i < plate.forceN.z.length; i++) {
      const timeS = i / RATE_HZ - (k === 1 ? lagS : 0);
      // A half sine of 20 ms, and the board's weight.
      for (const at of timesS) {
        const u = (timeS - at) / 0.02;
        plate.forceN.z[i]! += u > 0 && u < 1 ? (k === 0 ? 180 : 120) * Math.sin(Math.PI * u) : 0;
      }
      plate.forceN.z[i]! += 15;
    }
  }
  return plates;
}

/** Eight seconds of rocking from foot to foot at 0.6 Hz between stepping on and off. */
function rocked(lagS: number): readonly [Filled, Filled] {
  const plates = [plateAt(0.2, 13), plateAt(-0.2, 13)] as const;
  for (const [k, plate] of plates.entries()) {
    spoil(plate, 60 + k, { noise: 0.5 });
    for (let i = RATE_HZ; i < 12 * RATE_HZ; i++) {
      const timeS = i / RATE_HZ - (k === 1 ? lagS : 0);
      plate.forceN.z[i]! += 400 + (k === 0 ? 200 : -200) * Math.sin(2 * Math.PI * 0.6 * timeS);
    }
  }
  return plates;
}

describe("clocks", () => {
  test.each([0, 0.003, -0.004])("three taps, the trail plate %d s late: found to 0.3 ms and passed", (lagS) => {
    const outcome = ok(ask(tapped(lagS), { kind: "clocks" }));
    expect(outcome).toMatchObject({ isPassed: true, allowed: 5, unit: "ms" });
    expect(outcome.parts).toHaveLength(3);
    for (const { found } of outcome.parts) expect(Math.abs(found - 1000 * Math.abs(lagS))).toBeLessThan(0.3);
  });

  test("8 ms fail, with the number; a clock that is known is allowed for", () => {
    const outcome = ok(ask(tapped(0.008), { kind: "clocks" }));
    expect(outcome.isPassed).toBe(false);
    expect(outcome.sentence).toMatch(
      /3 of 3 fail\. .* the trail plate's time is (7\.[89]|8\.[0-2]) ms late; 5 ms allowed/,
    );
    const clock = { offsetS: -0.008, drift: 0, sdS: 0.0005 };
    const facts = {
      plates: [
        { plate: 1, foot: "lead" as const },
        { plate: 2, foot: "trail" as const, clock },
      ],
    };
    const told = ok(ask(tapped(0.008), { kind: "clocks", facts }));
    expect(told.isPassed).toBe(true);
    expect(told.found).toBeLessThan(0.3);
  });

  test("rocking: in step passes, 20 ms fail, and it says that a tap is better", () => {
    const outcome = ok(ask(rocked(0), { kind: "clocks" }));
    expect(outcome.isPassed).toBe(true);
    expect(outcome.parts[0]!.name).toContain("Rocking");
    expect(outcome.cautions.join(" ")).toContain("above 10 ms");
    const late = ok(ask(rocked(0.02), { kind: "clocks" }));
    expect(late.isPassed).toBe(false);
    expect(Math.abs(late.found - 20)).toBeLessThan(1);
  });

  test("neither, or one plate", () => {
    expect(codeOf(ask([plateAt(0.2, 3), plateAt(-0.2, 3)], { kind: "clocks" }))).toBe("error no-tap");
    expect(codeOf(ask([plateAt(0.2, 3)], { kind: "clocks" }))).toBe("error one-plate");
    expect(codeOf(ask(standing(upOf(0, 0)), { kind: "clocks" }))).toBe("error no-tap");
  });
});

describe("a recording as a file", () => {
  test("bytes go through the reader, and what is no recording is said", () => {
    const { recording, raw } = simulateShot({
      seed: 1,
      player: simulatedPlayer({ seed: 1 }),
      intent: "stock",
      lie: SIMULATED_LIES.flat,
      sensors: EXACT_SENSORS,
    });
    const bytes = c3dBytes({
      rateHz: recording.rateHz,
      plates: raw.map(({ type, cornersM, columns, originM, fullScale }) => ({
        type,
        cornersM,
        columns,
        originM,
        fullScale,
      })),
    });
    expect(codeOf(plateCheck({ kind: "zero", bytes, file: "stance.c3d" }))).toBe("error plate-loaded");
    const nothing = plateCheck({ kind: "zero", bytes: new Uint8Array(), file: "empty.c3d" });
    expect(nothing.status).toBe("error");
    expect(nothing.sentence).toContain("empty.c3d");
  });
});

// Static law of a slope, closed form: F = W (sin p, sin r, c). Values computed by a separate program, shared checks slope.csv.
const slopes = join(import.meta.dirname, "../../../../shared/data/checks/mechanics/slope.csv");
describe.skipIf(!existsSync(slopes))("check values of slopes beside the repository", () => {
  const rows = existsSync(slopes) ? readFileSync(slopes, "utf8").trim().split("\n").slice(1) : [];
  const lies = rows
    .map((row) => row.split(",").map(Number))
    .filter(([p, r]) => Math.abs(p!) <= 10 && Math.abs(r!) <= 10);

  test("there are some", () => expect(lies.length).toBeGreaterThan(4));

  test.each(lies)(
    "pitch %d, roll %d: a stance with these forces leans as on this lie",
    (pitch, roll, _g, w, target, ahead, up) => {
      const force = point(target! / w!, -ahead! / w!, up! / w!);
      const outcome = ok(ask(standing(force, w), { kind: "quiet-lean", facts: factsOn(pitch!, roll!) }));
      expect(outcome.isPassed).toBe(true);
      expect(outcome.found).toBeLessThan(0.1);
    },
  );
});

// Plates of types 1 to 4 that carry 800 N, 10 N and -20 N along the surface, at (30, 50) mm: forward model by a separate program, by
// hand where there is no pad; shared checks plates.json.
const plateRows = join(import.meta.dirname, "../../../../shared/data/checks/mechanics/plates.json");
describe.skipIf(!existsSync(plateRows))("check values of plate types beside the repository", () => {
  interface Row {
    readonly type: number;
    readonly origin: readonly [number, number, number];
    readonly cal: readonly (readonly number[])[] | null;
    readonly channels: readonly number[];
    readonly pad: number;
    readonly cop: readonly [number, number];
  }
  const rows: readonly Row[] = existsSync(plateRows) ? JSON.parse(readFileSync(plateRows, "utf8")).rows : [];
  test("there are some", () => expect(rows.length).toBeGreaterThan(7));

  test.each(rows)("type $type, pad of $pad m", ({ type, origin, cal, channels, pad, cop }) => {
    const [x, y, z] = origin;
    const plain = handMadeRecording([plateAt(0, 2)], { rateHz: RATE_HZ });
    const recording = {
      ...plain,
      channels: channels.map((value, k) => ({
        label: `c${k}`,
        unit: "",
        role: "other" as const,
        values: new Float64Array(plain.sampleCount).fill(value),
      })),
      plates: plain.plates.map((plate) => ({
        ...plate,
        type,
        channels: channels.map((_, k) => k),
        originM: { x, y, z },
        ...(cal === null ? {} : { matrix: cal }),
      })),
    };
    const facts = { ...factsOn(0, 0), padM: pad };
    const places = [{ xM: cop[0], yM: cop[1] }];
    const outcome = ok(plateCheck({ kind: "known-mass", recording, facts, massKg: 800 / G, places }));
    const found = (name: string): number => outcome.parts.find((one) => one.name.startsWith(name))!.found;
    expect(found("Load")).toBeLessThan(1e-9);
    expect(found("Place")).toBeLessThan(1e-6);
    expect(found("Horizontal part")).toBeCloseTo((100 * Math.hypot(10, 20)) / 800, 9);
  });
});
