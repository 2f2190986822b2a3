import { existsSync, readFileSync } from "node:fs";
import type { Column, Recording, ShotFacts } from "@underfoot/domain";
import { valueAt } from "@underfoot/signal";
import { describe, expect, it } from "vitest";
// A simulated shot that obeys Newton exactly, sensors exact, truth known: reference/mechanics.py.
import table from "../../../reference/mechanics-shot.json" with { type: "json" };
import { type WholeShotTable, wholeShotFacts, wholeShotRecording } from "../../../reference/whole-shot.ts";
import { footCoordinates } from "./foot-coordinates.ts";
import { withMarks } from "./marks.ts";
import { DEFAULT_SETTINGS, type Settings } from "./settings.ts";
import type { FootSeries, Shot } from "./shot.ts";
import { shotFromRecording } from "./shot-from-recording.ts";

const EXACT = table.facts as unknown as WholeShotTable;
const RECORDING = wholeShotRecording(EXACT, table.samples);
const FACTS = wholeShotFacts(EXACT);
const codes = (shot: Shot): string[] => shot.findings.map((f) => f.code);

/** Full-rate tables of the same simulator, two of them with sensor errors; absent in many checkouts. */
const TABLES = new URL("../../../../shared/data/checks/mechanics/", import.meta.url);
const NAMES = ["right-flat-stock", "right-upslope-high", "left-downslope-low"];

function fullTable(name: string): { facts: WholeShotTable; recording: Recording } {
  const facts = JSON.parse(readFileSync(new URL(`shot-${name}.json`, TABLES), "utf8")) as WholeShotTable;
  const lines = readFileSync(new URL(`shot-${name}.csv`, TABLES), "utf8")
    .trim()
    .split("\n")
    .slice(1);
  const samples = lines.map((line) => line.split(",").map(Number));
  return { facts, recording: wholeShotRecording(facts, samples) };
}

/** The largest difference of a column from a true curve, the recording's first and last 0.25 s left out. */
function largestMiss(column: Column, facts: WholeShotTable, curve: string, part?: number): number {
  let largest = 0;
  const last = column.length / facts.rate - 0.25;
  (facts.curves["t"] as readonly number[]).forEach((t, k) => {
    const one = facts.curves[curve]![k]!;
    const truth = part === undefined ? one : (one as readonly (number | null)[])[part];
    if (t < 0.25 || t > last || typeof truth !== "number") return;
    largest = Math.max(largest, Math.abs(valueAt(column, t * facts.rate) - truth));
  });
  return largest;
}

const peakOf = (column: Column): number => column.reduce((a, b) => Math.max(a, Math.abs(b)), 0);
const times = (column: Column, factor: number): Column => column.map((v) => v * factor);

/** A true measure. The tables count copAhead from their origin, we from the middle between the soles' midpoints. */
function trueMeasure(facts: WholeShotTable, id: string): number | undefined {
  const truth = facts.true_measures[id];
  if (truth === undefined || !id.startsWith("both.copAhead")) return truth;
  const { lead, trail } = facts.feet;
  const middle = [lead.heel, lead.toe, trail.heel, trail.toe].reduce((sum, end) => sum + end[1]!, 0) / 4;
  return truth - 1000 * middle;
}

/** Values of a shot that are true measures by themselves, at an event: [id, value, one sigma of the sensors]. */
function directValues(shot: Shot, facts: WholeShotTable, event: string): [string, number, number][] {
  const at = (column: Column): number => valueAt(column, facts.events[event]! * shot.rateHz);
  const { lead, trail, both, sigmas } = shot as Shot & { lead: FootSeries; trail: FootSeries };
  const load = at(both.wrench.upN);
  const share = at(lead.wrench.upN) / load;
  const loadSigma = (up: number) => Math.hypot(sigmas.lead!.zeroN, sigmas.lead!.gain * up);
  const leadSigma = loadSigma(at(lead.wrench.upN));
  const trailSigma = loadSigma(at(trail.wrench.upN));
  const shareSigma = Math.hypot((1 - share) * leadSigma, share * trailSigma) / load;
  const horizontal = Math.SQRT2 * Math.hypot(2, 0.002 * load, 0.005 * at(both.wrench.targetN));
  const values: [string, number, number][] = [
    [`lead.share.at.${event}`, 100 * share, 100 * shareSigma],
    [`both.target.at.${event} [turf]`, at(both.wrench.targetN), horizontal],
    [`both.ahead.at.${event} [turf]`, at(both.wrench.aheadN), horizontal],
    [`both.up.at.${event} [turf]`, load, Math.hypot(leadSigma, trailSigma)],
    [
      `both.copTarget.at.${event}`,
      1000 * (at(both.copTargetM) - shot.middle.targetM),
      Math.hypot(1000 * at(both.copSigmaM), 2),
    ],
    [
      `both.copAhead.at.${event}`,
      1000 * (at(both.copAheadM) - shot.middle.aheadM),
      Math.hypot(1000 * at(both.copSigmaM), 2),
    ],
    [`both.turn.at.${event}`, at(both.freeMomentNm), 1.5],
    [`both.couple.at.${event}`, at(shot.coupleNm), 1.5],
  ];
  for (const [foot, series] of [
    ["lead", lead],
    ["trail", trail],
  ] as const) {
    const place = footCoordinates(shot.soles[foot]!, foot, {
      targetM: at(series.copTargetM),
      aheadM: at(series.copAheadM),
    });
    const sigma = Math.hypot(1000 * at(series.copSigmaM), 2);
    values.push([`${foot}.heelToe.at.${event}`, place.heelToe, sigma / 2.85]);
    values.push([`${foot}.innerOuter.at.${event}`, place.innerOuter, sigma / 0.8]);
  }
  for (const motion of [shot.turf, shot.level]) {
    for (const part of ["Target", "Ahead", "Up"] as const) {
      const id = `${part}.at.${event} [${motion.axes}]`;
      values.push([`both.speed${id}`, at(motion[`speed${part}MPerS`]), at(motion[`speed${part}SigmaMPerS`])]);
      values.push([`both.travel${id}`, 1000 * at(motion[`travel${part}M`]), 1000 * at(motion[`travel${part}SigmaM`])]);
    }
  }
  return values;
}

describe("a shot with exact sensors and true marks", () => {
  const shot = shotFromRecording(RECORDING, FACTS);

  it("has the true curves within 0.1 % of their peaks, speeds within 5 mm/s where the player moves", () => {
    const { both, lead, trail } = shot;
    const pairs: [Column, string, number?][] = [
      [both.wrench.targetN, "target"],
      [both.wrench.aheadN, "ahead"],
      [both.wrench.upN, "up"],
      [both.freeMomentNm, "turn"],
      [shot.coupleNm, "couple"],
      [lead!.freeMomentNm, "free_lead"],
      [trail!.freeMomentNm, "free_trail"],
      [times(shot.leadShare, 100), "share"],
    ];
    for (const [column, curve, part] of pairs) {
      expect(largestMiss(column, EXACT, curve, part) / peakOf(column)).toBeLessThan(1e-3);
    }
    for (const event of ["top", "delivery", "impact"]) {
      for (const [id, value] of directValues(shot, EXACT, event)) {
        const truth = trueMeasure(EXACT, id);
        if (truth === undefined || !/speed|travel/.test(id)) continue;
        expect([id, Math.abs(value - truth) < (id.includes("speed") ? 0.005 : 8)]).toEqual([id, true]);
      }
    }
  });

  it("has the true measures at its events: share, forces, CoP, foot coordinates, torques", () => {
    let seen = 0;
    for (const event of ["top", "delivery", "impact"]) {
      for (const [id, value] of directValues(shot, EXACT, event)) {
        const truth = trueMeasure(EXACT, id);
        if (truth === undefined || /speed|travel/.test(id)) continue;
        seen++;
        // 0.1 % of 100 points, of about 1000 N or 100 N m, and 0.1 mm, the rounding of the table at low loads.
        const limit = /share|heelToe|innerOuter|cop/.test(id) ? 0.1 : /up/.test(id) ? 1 : 0.1;
        expect([id, Math.abs(value - truth) < limit]).toEqual([id, true]);
      }
    }
    expect(seen).toBeGreaterThan(25);
  });

  it("knows mass, stance and slope", () => {
    expect(shot.massKg).toBeCloseTo((80 * 9.81) / 9.80665, 1);
    expect(shot.address.isStill).toBe(true);
    expect(shot.slopeCheck.agrees).toBe(true);
    expect(shot.closing).toBe("closed");
    expect(codes(shot)).toEqual(["not-zeroed", "not-zeroed"]);
    expect(shot.events.map((e) => e.event)).toEqual(["address", "start", "top", "delivery", "impact", "finish"]);
    expect(shot.events.filter((e) => e.source === "marked")).toHaveLength(5);
  });

  it("splits the whole torque into both free moments and the couple to 1e-9 N m wherever both feet are loaded", () => {
    let largest = 0;
    for (let i = 0; i < shot.sampleCount; i++) {
      if (shot.lead!.isLoaded[i] === 0 || shot.trail!.isLoaded[i] === 0) continue;
      const parts = shot.lead!.freeMomentNm[i]! + shot.trail!.freeMomentNm[i]! + shot.coupleNm[i]!;
      largest = Math.max(largest, Math.abs(parts - shot.both.freeMomentNm[i]!));
    }
    expect(largest).toBeLessThan(1e-9);
  });

  it("combines the feet's CoP weighted by their loads (coplanar plates)", () => {
    for (let i = 300; i < 1200; i += 50) {
      const s = shot.leadShare[i]!;
      const weighted = s * shot.lead!.copTargetM[i]! + (1 - s) * shot.trail!.copTargetM[i]!;
      expect(Math.abs(weighted - shot.both.copTargetM[i]!)).toBeLessThan(1e-12);
    }
  });

  it("estimates its events from impact alone: top within 40 ms, start within 80 ms, finish within 60 ms", () => {
    const facts = { ...FACTS, events: FACTS.events.filter((e) => e.event === "impact") };
    const estimated = shotFromRecording(RECORDING, facts);
    const missMs = (event: string): number => {
      const found = estimated.events.find((e) => e.event === event)!;
      expect(found.source).toBe("estimated");
      return Math.abs(found.timeS - EXACT.events[event]!) * 1000;
    };
    expect(missMs("top")).toBeLessThan(40);
    expect(missMs("start")).toBeLessThan(80);
    expect(missMs("finish")).toBeLessThan(60);
    expect(missMs("delivery")).toBeLessThan(30);
  });

  it("takes a person's mark in place of an estimate and computes anew", () => {
    const facts = { ...FACTS, events: FACTS.events.filter((e) => e.event === "impact") };
    const marked = shotFromRecording(RECORDING, withMarks(facts, [{ event: "top", timeS: 3.2, sdMs: 7 }]));
    expect(marked.events.find((e) => e.event === "top")).toEqual({
      event: "top",
      timeS: 3.2,
      source: "marked",
      sigmaMs: 7,
    });
    const address = withMarks(facts, [{ event: "address", timeS: 2.6, fromS: 1 }]);
    const stood = shotFromRecording(RECORDING, address);
    expect([stood.address.first, stood.address.end]).toEqual([250, 650]);
  });
});

describe.skipIf(!existsSync(TABLES))("whole shots at full rate (tables absent in many checkouts)", () => {
  it.each(NAMES)("%s lies within 3 of its own sigmas of the truth", (name) => {
    const { facts, recording } = fullTable(name);
    const shot = shotFromRecording(recording, wholeShotFacts(facts));
    let seen = 0;
    for (const event of ["top", "delivery", "impact"]) {
      for (const [id, value, sigma] of directValues(shot, facts, event)) {
        const truth = trueMeasure(facts, id);
        if (truth === undefined) continue;
        seen++;
        // Travel counts from the middle of our quiet window, the truth's from the mean of its own: some mm of sway.
        const sway = id.includes("travel") ? 4 : 0;
        expect([id, Math.abs(value - truth) <= 3 * sigma + sway]).toEqual([id, true]);
      }
    }
    expect(seen).toBeGreaterThan(50);
    expect(shot.slopeCheck.agrees).toBe(true);
  });
});

describe("what cannot be computed", () => {
  const refused = (recording: Recording, facts: ShotFacts, settings?: Settings) => {
    try {
      shotFromRecording(recording, facts, settings);
    } catch (fault) {
      return (fault as { code: string }).code;
    }
    return "nothing";
  };
  const filled = (value: number): Recording => ({
    ...RECORDING,
    channels: RECORDING.channels.map((c) => ({ ...c, values: new Float64Array(RECORDING.sampleCount).fill(value) })),
  });

  it("is refused with a code, a sentence and a remedy", () => {
    const [first] = FACTS.plates;
    const short: Recording = {
      ...RECORDING,
      sampleCount: 49,
      channels: RECORDING.channels.map((c) => ({ ...c, values: c.values.slice(0, 49) })),
    };
    const fault = { code: "fp-type", severity: "stop" as const, sentence: "type 6.", remedy: "Map it." };
    const faulty = { ...RECORDING, plates: RECORDING.plates.map((p) => ({ ...p, fault })) };
    expect(refused(RECORDING, { ...FACTS, plates: [] })).toBe("plates-missing");
    expect(refused(RECORDING, { ...FACTS, plates: [first!] })).toBe("plates-missing");
    expect(refused(RECORDING, { ...FACTS, plates: [{ plate: 3, foot: "lead" }] })).toBe("plate-unknown");
    expect(refused(RECORDING, { ...FACTS, plates: [1, 2].map((plate) => ({ plate, foot: "lead" })) })).toBe(
      "plates-twice",
    );
    expect(refused(RECORDING, { ...FACTS, plates: [{ plate: 1, foot: "both" }, first!] })).toBe("plates-twice");
    expect(refused(faulty, FACTS)).toBe("plate-not-computed");
    expect(refused(RECORDING, { ...FACTS, target: { x: 0, y: 0, z: 1 } })).toBe("target-along-normal");
    expect(refused(RECORDING, { ...FACTS, lie: { ...FACTS.lie!, pitchDeg: 31 } })).toBe("lie-too-steep");
    expect(refused(short, FACTS)).toBe("recording-too-short");
    expect(refused({ ...RECORDING, rateHz: 40 }, FACTS)).toBe("rate-too-low");
    expect(refused(filled(0), FACTS)).toBe("no-load");
    expect(refused(filled(Number.NaN), FACTS)).toBe("no-load");
  });
});

describe("what must be said", () => {
  const changed = (facts: Partial<ShotFacts>, recording: Recording = RECORDING, settings?: Settings) =>
    shotFromRecording(recording, { ...FACTS, ...facts }, settings);

  it("swapped feet", () => {
    const plates = [
      { plate: 1, foot: "trail" as const },
      { plate: 2, foot: "lead" as const },
    ];
    expect(codes(changed({ plates }))).toContain("lead-trail-swapped");
  });

  it("no lie: flat is assumed, and a lie that the stance denies", () => {
    const { lie: _, ...rest } = FACTS;
    const flat = shotFromRecording(RECORDING, rest);
    expect(flat.isLieKnown).toBe(false);
    expect(flat.lie).toMatchObject({ pitchDeg: 0, rollDeg: 0, source: "assumed" });
    expect(codes(flat)).toContain("lie-unknown");
    const denied = changed({ lie: { pitchDeg: 5, rollDeg: 0, source: "inclinometer", sdDeg: 0.2 } });
    expect(codes(denied)).toContain("slope-disagrees");
    const level = shotFromRecording(RECORDING, { ...rest, up: { x: 0, y: 0, z: 1 } });
    expect(level.isLieKnown).toBe(true);
    expect(codes(level)).toContain("lie-from-laboratory");
    expect(codes(changed({ up: { x: 0.1, y: 0, z: 1 } }))).toContain("lie-disagrees");
  });

  it("a mass from a scale is combined, or disagrees", () => {
    const combined = changed({ mass: { kg: 80.2, sdKg: 0.1, source: "scale" } });
    expect(combined.massKg).toBeGreaterThan(80.1);
    expect(combined.massKg).toBeLessThan(80.2);
    expect(combined.massSigmaKg).toBeLessThan(0.1);
    const denied = changed({ mass: { kg: 90, sdKg: 0.1, source: "scale" } });
    expect(codes(denied)).toContain("mass-disagrees");
    expect(denied.massKg).toBeCloseTo(80.02, 1);
  });

  it("clocks too far apart: what needs both plates is missing", () => {
    const plates = [
      { plate: 1, foot: "lead" as const },
      { plate: 2, foot: "trail" as const, clock: { offsetS: 0, drift: 0, sdS: 0.006 } },
    ];
    const shot = changed({ plates });
    expect(shot.isClockWithheld).toBe(true);
    expect(codes(shot)).toContain("clocks-apart");
    expect(shot.both.freeMomentNm.every(Number.isNaN)).toBe(true);
    expect(shot.coupleNm.every(Number.isNaN)).toBe(true);
    expect(shot.lead!.copTargetM.some(Number.isFinite)).toBe(true);
  });

  it("a mark out of order is not used", () => {
    const events = FACTS.events.map((e) => (e.event === "top" ? { ...e, timeS: 3.7 } : e));
    const shot = changed({ events });
    expect(codes(shot)).toContain("mark-out-of-order");
    expect(shot.events.find((e) => e.event === "top")?.source).toBe("estimated");
  });

  it("an outline that cannot be used is left out", () => {
    const feet = FACTS.feet.map((f) => (f.foot === "lead" ? { ...f, outline: f.outline.slice(0, 2) } : f));
    const shot = changed({ feet });
    expect(shot.soles.lead).toBeUndefined();
    expect(shot.soles.trail).toBeDefined();
    expect(codes(shot)).toContain("outline-invalid");
    expect(shot.middle).toEqual({ targetM: 0, aheadM: 0 });
  });

  it("a gap of 20 ms in one channel: missing there, and in speed beyond it, nowhere else", () => {
    const channels = RECORDING.channels.map((c, k) =>
      k === 0 ? { ...c, values: c.values.map((v, i) => (i >= 900 && i < 905 ? Number.NaN : v)) } : c,
    );
    const shot = changed({}, { ...RECORDING, channels });
    expect(codes(shot)).toContain("gaps");
    expect(Number.isNaN(shot.both.wrench.targetN[902]!)).toBe(true);
    expect(Number.isFinite(shot.both.wrench.targetN[895]!)).toBe(true);
    expect(Number.isNaN(shot.level.speedTargetMPerS[1000]!)).toBe(true);
    expect(Number.isFinite(shot.level.speedTargetMPerS[800]!)).toBe(true);
    expect(shot.closing).toBe("open");
  });

  it("a cut-off too high for the rate, and no filter at all", () => {
    const high = changed({}, RECORDING, { ...DEFAULT_SETTINGS, filter: { kind: "butterworth", cutoffHz: 120 } });
    expect(codes(high)).toContain("filter-off");
    expect(high.cutoffHz).toBeUndefined();
    const none = changed({}, RECORDING, { ...DEFAULT_SETTINGS, filter: { kind: "none" } });
    expect(none.both.wrench.upN).toEqual(none.both.unfiltered.upN);
    const residual = changed({}, RECORDING, { ...DEFAULT_SETTINGS, filter: { kind: "residual" } });
    expect(residual.cutoffHz).toBeGreaterThan(2);
  });

  it("one plate under both feet: no shares, no couple, the whole torque from one plate", () => {
    const shot = changed({ plates: [{ plate: 1, foot: "both" }], lie: FACTS.lie! });
    expect(shot.lead).toBeUndefined();
    expect(shot.sigmas.both).toBeDefined();
    expect(shot.leadShare.every(Number.isNaN)).toBe(true);
    expect(shot.both.freeMomentNm.some(Number.isFinite)).toBe(true);
  });
});
