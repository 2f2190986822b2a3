import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { INTENTS, type Intent, UnderfootError } from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import {
  DEFAULT_PLATES,
  DEFAULT_SENSORS,
  EXACT_SENSORS,
  FAULT_NAMES,
  faultName,
  type ShotOptions,
  SIMULATED_LIES,
  type SimulatedShot,
  simulatedPlayer,
  simulateShot,
  truthJson,
} from "./index.ts";
import { INTENT_STYLES, shareOnSlope } from "./shot-intent.ts";

const player = simulatedPlayer({ seed: 4, handed: "right", massKg: 80 });
const stock: ShotOptions = { seed: 7, player, intent: "stock", lie: SIMULATED_LIES.flat, sensors: EXACT_SENSORS };

function value({ truth }: SimulatedShot, id: string, axes?: "turf" | "level"): number {
  const found = truth.measures.find((m) => m.id === id && (m.axes === undefined || m.axes === (axes ?? "turf")));
  if (found === undefined) throw new Error(`no ${id}`);
  return found.value;
}

const nominal = (intent: Intent, seed = 7): SimulatedShot => simulateShot({ ...stock, seed, intent, scatterScale: 0 });

describe("sizes (the table of intents: common practice, no source)", () => {
  test.each([...INTENTS])("a player of 80 kg asked for %s on the flat does about what the table says", (intent) => {
    const style = INTENT_STYLES[intent];
    const shot = nominal(intent);
    const near = (id: string, wanted: number, part: number): void => {
      expect(Math.abs(value(shot, id) / wanted - 1), id).toBeLessThan(part);
    };
    near("both.target.peak", style.targetPushN, 0.2);
    near("both.turn.peak", style.turnNm, 0.25);
    near("both.downswing.duration", 1000 * style.downswingS, 0.05);
    expect(Math.abs(value(shot, "both.up.peak") / shot.truth.weightN - style.upPeakBw)).toBeLessThan(0.06);
    for (const [event, wanted] of [
      ["address", style.addressShare],
      ["top", style.topShare],
      ["delivery", style.deliveryShare],
    ] as const) {
      expect(Math.abs(value(shot, `lead.share.at.${event}`) - wanted)).toBeLessThan(5);
    }
  });

  test("in a stock shot the forces peak in the order target, ahead, up; up about when the shaft is parallel on the way down", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const shot = simulateShot({ ...stock, seed, scatterScale: 0, player: simulatedPlayer({ seed }) });
      const order = shot.truth.measures.find(({ id }) => id === "both.peakOrder.text");
      expect(order?.text).toBe("target, ahead, up");
      const deliveryMs = 1000 * (shot.truth.events.delivery - shot.truth.events.impact);
      expect(Math.abs(value(shot, "both.up.peakTime") - deliveryMs)).toBeLessThan(25);
    }
  });

  test("the target force falls before impact while the body still moves to the target, ever farther", () => {
    const shot = nominal("stock");
    expect(value(shot, "both.target.at.impact")).toBeLessThan(0.5 * value(shot, "both.target.peak"));
    expect(value(shot, "both.speedTarget.at.impact")).toBeGreaterThan(0.05);
    expect(value(shot, "both.travelTarget.at.finish")).toBeGreaterThan(value(shot, "both.travelTarget.at.impact"));
  });

  test("a downslope of 6 to 8 degrees puts nearly nine tenths on the lead foot, an upslope takes 2 points a degree", () => {
    expect(shareOnSlope(58, -7)).toBeCloseTo(86, 10);
    expect(shareOnSlope(58, 5)).toBeCloseTo(48, 10);
    expect(shareOnSlope(85, -20)).toBeLessThanOrEqual(97);
    expect(shareOnSlope(20, 30)).toBeGreaterThanOrEqual(8);
  });

  test("forces grow with the player's mass, speeds do not", () => {
    const heavy = simulateShot({ ...stock, player: { ...player, massKg: 100 } });
    const usual = simulateShot(stock);
    expect(value(heavy, "both.target.peak") / value(usual, "both.target.peak")).toBeCloseTo(100 / 80, 10);
    expect(value(heavy, "both.turn.peak") / value(usual, "both.turn.peak")).toBeCloseTo(100 / 80, 10);
    expect(value(heavy, "both.speedTarget.at.impact")).toBe(value(usual, "both.speedTarget.at.impact"));
  });
});

describe("sensors", () => {
  const columns = (options: Partial<ShotOptions>, foot = "lead"): readonly Float64Array[] =>
    simulateShot({ ...stock, ...options }).raw.find((plate) => plate.foot === foot)!.columns;
  const difference = (options: Partial<ShotOptions>, channel: number, foot = "lead"): Float64Array => {
    const clean = columns({}, foot)[channel]!;
    return columns(options, foot)[channel]!.map((v, i) => v - clean[i]!);
  };
  const mean = (column: Float64Array): number => column.reduce((total, v) => total + v / column.length, 0);

  test("the recording is as a reader gives it: one channel for each column, plates numbered from 1, nothing guessed", () => {
    const { recording, raw, facts } = simulateShot({ ...stock, hasSound: true, hasTrigger: true });
    expect(recording.plates.map(({ index, channels }) => [index, channels])).toEqual([
      [1, [0, 1, 2, 3, 4, 5]],
      [2, [6, 7, 8, 9, 10, 11]],
    ]);
    expect(recording.channels.map(({ label }) => label).slice(-3)).toEqual(["Mz2", "Trigger", "Sound"]);
    expect(recording.channels[2]!.values).toBe(raw[0]!.columns[2]);
    expect(recording.channels.every(({ values }) => values.length === recording.sampleCount)).toBe(true);
    expect(facts.plates.map(({ plate, foot }) => [plate, foot])).toEqual([
      [1, "lead"],
      [2, "trail"],
    ]);
  });

  test("drawn errors have the sizes asked for", () => {
    const zeros: number[] = [];
    for (let seed = 0; seed < 150; seed++) {
      const { lead } = simulateShot({ ...stock, seed, rateHz: 100, sensors: DEFAULT_SENSORS }).truth.sensors;
      zeros.push(lead.zero[0], lead.zero[1], lead.zero[2]);
    }
    const sd = Math.sqrt(zeros.reduce((total, zero) => total + zero ** 2, 0) / zeros.length);
    // 450 draws of sd 2: within three standard errors of 2 / sqrt(900).
    expect(Math.abs(sd - 2)).toBeLessThan(0.2);
  });

  test("noise is white with the sd that the truth states", () => {
    const sensors = { ...EXACT_SENSORS, noiseN: [0.8, 0.8] as const };
    const noise = difference({ sensors }, 2);
    const sd = Math.sqrt(mean(noise.map((v) => v * v)));
    expect(Math.abs(sd - 0.8)).toBeLessThan(0.03);
    const lagged = mean(noise.slice(1).map((v, i) => v * noise[i]!)) / sd ** 2;
    expect(Math.abs(lagged)).toBeLessThan(0.04);
  });

  test("gain and crosstalk go with the load, zero does not, drift grows", () => {
    const { lead } = simulateShot({ ...stock, sensors: { ...EXACT_SENSORS, gain: 0.005 } }).truth.sensors;
    const load = columns({})[2]!;
    expect(difference({ sensors: { ...EXACT_SENSORS, gain: 0.005 } }, 2)[500]).toBeCloseTo(
      lead.gain[2] * load[500]!,
      9,
    );
    const leak = difference({ sensors: { ...EXACT_SENSORS, crosstalk: 0.002 } }, 0);
    expect(leak[4000]! / load[4000]!).toBeCloseTo(leak[10]! / load[10]!, 9);
    const zero = difference({ sensors: { ...EXACT_SENSORS, zeroN: 2 } }, 1);
    expect(zero[5000]).toBeCloseTo(zero[0]!, 9);
    const drift = difference({ sensors: { ...EXACT_SENSORS, driftNPerS: 1 } }, 0);
    expect(drift[4000]).toBeCloseTo(2 * drift[2000]!, 9);
  });

  test("converters have 16-bit steps over their range", () => {
    const { raw } = simulateShot({ ...stock, sensors: { ...EXACT_SENSORS, bits: 16 } });
    for (const plate of raw) {
      plate.columns.forEach((column, k) => {
        const step = plate.fullScale[k]! / 32768;
        for (let i = 0; i < column.length; i += 31) {
          expect(Math.abs(column[i]! / step - Math.round(column[i]! / step))).toBeLessThan(1e-6);
        }
      });
    }
  });

  test("a trail plate with a clock of its own samples at other moments, and the facts say which", () => {
    const sensors = { ...EXACT_SENSORS, clockOffsetMs: 8, clockPpm: 100, clockSdMs: 0 };
    const shot = simulateShot({ ...stock, sensors });
    const { clockOffsetS, clockDrift } = shot.truth.sensors;
    expect(shot.facts.plates[1]!.clock).toEqual({ offsetS: clockOffsetS, drift: clockDrift, sdS: 1e-5 });
    const load = shot.raw[1]!.columns[2]!;
    const { upN } = shot.truth.curves.trail.turf;
    for (let i = 1000; i < 5000; i += 53) {
      const place = (clockOffsetS + (1 + clockDrift) * (i / 1000)) * 1000;
      const k = Math.floor(place);
      const straight = upN[k]! * (1 - place + k) + upN[k + 1]! * (place - k);
      expect(-load[i]!).toBeCloseTo(straight, 1);
    }
  });

  test("shots of one session share their plates' errors, others do not", () => {
    const seen = [1, 2].map(
      (seed) => simulateShot({ ...stock, seed, sessionSeed: 5, sensors: DEFAULT_SENSORS }).truth.sensors,
    );
    expect(seen[0]).toEqual(seen[1]);
    expect(simulateShot({ ...stock, seed: 1, sensors: DEFAULT_SENSORS }).truth.sensors).not.toEqual(seen[0]);
  });

  test("trigger and sound begin with the first sample at or after impact", () => {
    const { recording, truth } = simulateShot({ ...stock, hasTrigger: true, hasSound: true });
    const [trigger, sound] = recording.channels.slice(-2).map(({ values }) => values);
    const first = Math.ceil(truth.events.impact * recording.rateHz);
    expect(trigger!.findIndex((v) => v > 2.5)).toBe(first);
    expect(sound!.findIndex((v) => Math.abs(v) > 0.1)).toBe(first);
  });

  test("marks: exact ones at the truth, noisy ones near it with their sd, or none", () => {
    const exact = simulateShot(stock);
    expect(exact.facts.events.map(({ event, timeS }) => [event, timeS])).toEqual(
      (["start", "top", "delivery", "impact", "finish"] as const).map((event) => [event, exact.truth.events[event]]),
    );
    for (const { event, timeS, sdMs } of simulateShot({ ...stock, marks: "noisy" }).facts.events) {
      const errorMs = 1000 * (timeS - exact.truth.events[event]);
      expect(errorMs).not.toBe(0);
      expect(Math.abs(errorMs)).toBeLessThan(5 * sdMs!);
    }
    const signalled = simulateShot({ ...stock, marks: "noisy", hasTrigger: true }).facts.events;
    expect(signalled.map(({ event }) => event)).toEqual(["start", "top", "delivery", "finish"]);
    expect(simulateShot({ ...stock, marks: "none" }).facts.events).toEqual([]);
  });
});

describe("faults", () => {
  const spoiled = (fault: ShotOptions["faults"]): SimulatedShot => simulateShot({ ...stock, faults: fault! });
  const clean = simulateShot(stock);
  const lead = (shot: SimulatedShot): readonly Float64Array[] => shot.raw[0]!.columns;
  const largest = (column: Float64Array): number => column.reduce((most, v) => Math.max(most, Math.abs(v)), 0);

  test.each([...FAULT_NAMES])(
    "%s is said in the truth and changes the recording or the facts, not the rest of the truth",
    (name) => {
      const shot = spoiled([name]);
      expect(shot.truth.faults.map(({ fault }) => fault)).toEqual([name]);
      const same = ({ recording, raw, facts }: SimulatedShot): unknown => [recording, raw, facts];
      expect(same(shot)).not.toEqual(same(clean));
      if (name !== "unloaded") expect(shot.truth.curves).toEqual(clean.truth.curves);
    },
  );

  test("a clipped plate rests at the end of its range, which the recording tells", () => {
    const shot = spoiled(["clip"]);
    const k = lead(clean).findIndex((column, c) => largest(column) > largest(lead(shot)[c]!) * 1.05);
    const end = shot.recording.channels[k]!.range![1];
    expect(largest(lead(shot)[k]!)).toBeCloseTo(end, 6);
    expect(lead(shot)[k]!.filter((v) => Math.abs(v) > 0.9999 * end).length).toBeGreaterThan(20);
  });

  test("lost samples are missing, not 0: 40 ms in a gap, 3 ms in a late block", () => {
    const missing = (column: Float64Array): number => column.filter(Number.isNaN).length;
    expect(spoiled(["gap"]).raw[1]!.columns.map(missing)).toEqual([40, 40, 40, 40, 40, 40]);
    for (const count of lead(spoiled(["late"])).map(missing)) expect(Math.abs(count - 3)).toBeLessThanOrEqual(1);
    expect(
      lead(spoiled(["nan"]))
        .map(missing)
        .sort(),
    ).toEqual([0, 0, 0, 0, 0, 500]);
  });

  test("three samples jump, and only those", () => {
    const jumped = lead(spoiled(["spike"])).map(
      (column, k) => column.filter((v, i) => Math.abs(v - lead(clean)[k]![i]!) > 50).length,
    );
    expect(jumped.reduce((a, b) => a + b, 0)).toBe(3);
  });

  test("an unloaded trail foot carries nothing for a quarter of a second, and Newton still holds", () => {
    const { curves } = spoiled(["unloaded"]).truth;
    const unloaded = curves.trail.turf.upN.filter((v) => Math.abs(v) < 1e-9).length;
    expect(unloaded).toBeGreaterThan(230);
    curves.trail.turf.upN.forEach((up, i) => {
      if (Math.abs(up) > 1e-9) return;
      expect(Math.hypot(curves.trail.turf.targetN[i]!, curves.trail.turf.aheadN[i]!)).toBeLessThan(1e-9);
      expect(curves.trail.freeMomentNm[i]!).toBeCloseTo(0, 12);
    });
    const total = clean.truth.curves.both.turf.targetN;
    expect(Math.max(...curves.both.turf.targetN.map((v, i) => Math.abs(v - total[i]!)))).toBeLessThan(1e-9);
  });

  test("swapped feet, turned corners and a turned origin are in what is told, not in the samples", () => {
    for (const name of ["swapped", "turned", "origin"] as const) expect(lead(spoiled([name]))).toEqual(lead(clean));
    expect(spoiled(["swapped"]).facts.plates[0]!.foot).toBe("trail");
    expect(spoiled(["turned"]).raw[0]!.cornersM[0]).toEqual(clean.raw[0]!.cornersM[2]);
    const { originM, originAsWrittenM } = spoiled(["origin"]).recording.plates[0]!;
    expect(originAsWrittenM.z).toBe(-originM.z);
  });

  test("a fault that does not exist is answered with the list", () => {
    expect(faultName("gap")).toBe("gap");
    expect(() => faultName("gaps")).toThrow(UnderfootError);
    expect(() => faultName("gaps")).toThrow('There is no fault called "gaps".');
  });
});

describe("refusals", () => {
  test.each([
    ["a lie too steep", { lie: { name: "cliff", pitchDeg: 31, rollDeg: 0 } }, "simulator/lie-too-steep"],
    ["a recording too short", { durationS: 2 }, "simulator/too-short"],
    ["a rate of 0", { rateHz: 0 }, "simulator/rate"],
    [
      "a plate type that is not computed",
      { plates: { ...DEFAULT_PLATES, lead: { ...DEFAULT_PLATES.lead, type: 5 as never } } },
      "simulator/plate-type",
    ],
  ])("%s", (_, options, code) => {
    let thrown: unknown;
    try {
      simulateShot({ ...stock, ...options });
    } catch (error) {
      thrown = error;
    }
    expect(thrown).toBeInstanceOf(UnderfootError);
    expect((thrown as UnderfootError).code).toBe(code);
  });
});

test("half of the shots have a waggle; it ends 0.6 to 1.0 s before the start, and after it the stance is quiet", () => {
  const quiet: number[] = [];
  for (let seed = 1; seed <= 60; seed++) {
    const { truth } = simulateShot({ ...stock, seed, rateHz: 250 });
    expect(truth.quietWindow.toS).toBe(truth.events.start);
    quiet.push(truth.quietWindow.toS - truth.quietWindow.fromS);
    const { spinNm, timeS } = truth.curves;
    const moves = spinNm.filter((nm, i) => nm !== 0 && timeS[i]! < truth.events.start).length;
    expect(moves > 0).toBe(quiet.at(-1)! < 1.01);
  }
  const waggles = quiet.filter((lengthS) => lengthS < 1.01);
  expect(Math.min(...waggles)).toBeGreaterThanOrEqual(0.6);
  // 60 tosses: 30 with sd 3.9.
  expect(Math.abs(waggles.length - 30)).toBeLessThan(16);
});

test("after the shot the body comes to rest: speed of sd 10 mm/s on top of sway of 3 to 5 mm/s", () => {
  const speeds: number[] = [];
  for (let seed = 1; seed <= 80; seed++) {
    const { speedTargetMPerS } = simulateShot({ ...stock, seed, rateHz: 100 }).truth.curves.level;
    speeds.push(speedTargetMPerS.at(-1)!);
  }
  const rms = Math.sqrt(speeds.reduce((total, v) => total + v * v, 0) / speeds.length);
  expect(rms).toBeGreaterThan(0.008);
  expect(rms).toBeLessThan(0.014);
});

test("instruments with an error show tenths, exact ones the truth", () => {
  const lie = { name: "odd", pitchDeg: 4.3217, rollDeg: -1.2345 };
  expect(simulateShot({ ...stock, lie }).facts).toMatchObject({ lie: { pitchDeg: 4.3217 }, mass: { kg: 80 } });
  const { facts, truth } = simulateShot({ ...stock, lie, sensors: DEFAULT_SENSORS });
  expect(facts.lie!.pitchDeg).toBeCloseTo(Math.round(10 * facts.lie!.pitchDeg) / 10, 12);
  expect(facts.lie!.pitchDeg - lie.pitchDeg).toBeCloseTo(truth.sensors.pitchDeg, 12);
  expect(Math.abs(facts.mass!.kg - 80)).toBeLessThan(1.5);
});

test("recordings of 4.5 to 8 s at 500 to 2000 Hz hold the whole shot", () => {
  for (const durationS of [4.5, 6, 8]) {
    for (const rateHz of [500, 1000, 2000]) {
      const { truth, recording } = simulateShot({ ...stock, durationS, rateHz });
      expect(recording.sampleCount).toBe(durationS * rateHz);
      expect(truth.curves.timeS).toHaveLength(durationS * rateHz);
      expect(truth.events.finish).toBeLessThan(durationS - 0.5);
    }
  }
});

test("a peak is known to well under a sample: twice the rate moves it by less than 0.1 ms", () => {
  const at = (rateHz: number): SimulatedShot => simulateShot({ ...stock, rateHz });
  for (const id of ["both.target.peakTime", "both.up.peakTime", "both.turn.peakTime"]) {
    expect(Math.abs(value(at(1000), id) - value(at(4000), id))).toBeLessThan(0.1);
  }
  for (const id of ["both.target.peak", "both.up.peak", "both.turn.peak"]) {
    expect(value(at(4000), id)).toBeCloseTo(value(at(1000), id), 4);
  }
});

test("truth.json: 5 ms steps, 9 digits, null for what is not a number, the same text every time", () => {
  const { truth } = simulateShot(stock);
  const text = truthJson(truth);
  expect(truthJson(simulateShot(stock).truth)).toBe(text);
  const read = JSON.parse(text);
  expect(read.underfoot).toBe("truth");
  expect(read.curveStepS).toBe(0.005);
  expect(read.curves.timeS).toHaveLength(1200);
  expect(read.curves.both.turf.targetN[300]).toBe(Number(truth.curves.both.turf.targetN[1500]!.toPrecision(9)));
  expect(read.measures.find(({ id }: { id: string }) => id === "both.peakOrder.text").value).toBeNull();
  expect(read.events).toEqual(
    Object.fromEntries(Object.entries(truth.events).map(([name, t]) => [name, Number(t.toPrecision(9))])),
  );
});

const checks = join(import.meta.dirname, "../../../../shared/data/checks/mechanics");
const available = existsSync(checks);
// Whole shots from a simulator written apart. They are other shots, so only form and sizes can be compared.
describe.skipIf(!available)("beside the shots of another simulator (skipped where the check data is absent)", () => {
  const names = available ? readdirSync(checks).filter((name) => /^shot-.*\.json$/.test(name)) : [];
  test.each(names)("%s: every measure of ours that it has too, in the same axes", (name) => {
    const other = JSON.parse(readFileSync(`${checks}/${name}`, "utf8")) as { true_measures: Record<string, number> };
    const ours = new Set(
      simulateShot(stock).truth.measures.map(({ id, axes }) => (axes === undefined ? id : `${id} [${axes}]`)),
    );
    // It has these beyond the catalogue, and gives peaks in turf axes without saying so.
    const beyond =
      /innerOuter.at.(address|top)|margin.at.(address|top)|(Moment|couple|friction).peakTime|Up.at.(delivery|finish)|Up.*turf|Ahead.at.(delivery|finish)|speedTarget.at.finish/;
    const missing = Object.keys(other.true_measures).filter(
      (id) => !ours.has(id) && !ours.has(`${id} [turf]`) && !beyond.test(id),
    );
    expect(missing).toEqual([]);
  });
});
