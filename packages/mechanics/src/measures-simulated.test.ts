import type { Intent } from "@underfoot/domain";
import {
  DEFAULT_PLATES,
  EXACT_SENSORS,
  type ShotOptions,
  SIMULATED_LIES,
  simulatedPlayer,
  simulateShot,
} from "@underfoot/simulator";
import { describe, expect, test } from "vitest";
import { measuresFromShot } from "./measures.ts";
import type { Measure } from "./shot.ts";
import { shotFromRecording } from "./shot-from-recording.ts";

// Invented players on simulated plates without sensor errors; forces obey Newton exactly.

const PLAYER = simulatedPlayer({ seed: 3, massKg: 80, handed: "right" });

function measures(options: Partial<ShotOptions>): Measure[] {
  const { recording, facts } = simulateShot({
    seed: 3,
    player: PLAYER,
    intent: "stock",
    lie: SIMULATED_LIES.flat,
    sensors: EXACT_SENSORS,
    marks: "exact",
    ...options,
  });
  return measuresFromShot(shotFromRecording(recording, facts));
}

function value(list: readonly Measure[], id: string): number {
  return list.find((m) => m.id === id)!.value;
}

/** Compares two lists; every difference must be under `share` of the sigma. */
function expectSame(a: readonly Measure[], b: readonly Measure[], share: number): void {
  let seen = 0;
  a.forEach((one, i) => {
    const other = b[i]!;
    expect([one.id, one.isValid, one.text]).toEqual([other.id, other.isValid, other.text]);
    if (!one.isValid || one.text !== undefined) return;
    seen += 1;
    expect([one.id, Math.abs(one.value - other.value) <= share * one.sigma + 1e-9]).toEqual([one.id, true]);
  });
  expect(seen).toBeGreaterThan(140);
}

describe("laws of measures", () => {
  test("a left-handed player's mirrored shot gives the same measures", () => {
    const mirrored = { ...PLAYER, handed: "left" as const };
    const lie = SIMULATED_LIES.upslope;
    expectSame(measures({ lie }), measures({ lie, player: mirrored }), 1e-6);
  });

  test("turning and moving the laboratory changes no measure", () => {
    const lab = { tied: "level", upAxis: "y", targetTurnDeg: 137, placeM: { x: 1.5, y: -2, z: 0.3 } } as const;
    const lie = SIMULATED_LIES.ballBelow;
    expectSame(measures({ lie }), measures({ lie, plates: { ...DEFAULT_PLATES, lab } }), 1e-6);
  });

  test("plates of other types, turned and stored as action on the plate, change no measure", () => {
    const one = { ...DEFAULT_PLATES.lead, yawDeg: -88, sense: "on-plate", type: 4 } as const;
    expectSame(measures({}), measures({ plates: { ...DEFAULT_PLATES, lead: one, trail: one } }), 1e-3);
  });

  test("doubling the sampling rate moves a measure by less than a quarter of its sigma", () => {
    expectSame(measures({ rateHz: 1000 }), measures({ rateHz: 2000 }), 0.25);
  });

  test("a heavier player with the same motion: forces grow with mass, shares, places, speeds and times do not", () => {
    const light = measures({});
    const heavy = measures({ player: { ...PLAYER, massKg: 100 } });
    for (const m of light) {
      const other = value(heavy, m.id);
      if (!m.isValid || m.axes === "level" || Number.isNaN(other)) continue;
      const byMass = ["N", "N s", "N/s"].includes(m.unit) && !m.id.includes("ahead") ? 1.25 : undefined;
      if (byMass !== undefined && m.id.startsWith("both.")) {
        expect([m.id, Math.abs(other / m.value - byMass) < 0.02]).toEqual([m.id, true]);
      }
      if (m.id.startsWith("both.speed") || m.id.startsWith("both.travel")) {
        expect([m.id, Math.abs(other - m.value) < 0.05 * m.sigma]).toEqual([m.id, true]);
      }
    }
  });
});

describe("facts of the trade, measured on the simulated player (common practice, no source)", () => {
  const nominal = (intent: Intent, pitchDeg = 0): Measure[] =>
    measures({ intent, lie: { name: "test slope", pitchDeg, rollDeg: 0 }, scatterScale: 0 });

  test("in a full swing the forces peak in the order target, ahead, up", () => {
    const order = nominal("stock").find((m) => m.id === "both.peakOrder.text" && m.axes === "turf");
    expect(order!.text).toBe("target, ahead, up");
  });

  test("up force peaks about when the shaft is parallel on the way down", () => {
    const { recording, facts, truth } = simulateShot({
      seed: 3,
      player: PLAYER,
      intent: "stock",
      lie: SIMULATED_LIES.flat,
      sensors: EXACT_SENSORS,
      marks: "exact",
      scatterScale: 0,
    });
    const list = measuresFromShot(shotFromRecording(recording, facts));
    const deliveryMs = 1000 * (truth.events.delivery - truth.events.impact);
    expect(Math.abs(value(list, "both.up.peakTime") - deliveryMs)).toBeLessThan(20);
  });

  test("on a downslope a player stands with nearly nine tenths on the lead foot", () => {
    const share = value(nominal("steep", -6), "lead.share.at.address");
    expect(share).toBeGreaterThan(80);
    expect(share).toBeLessThan(92);
    expect(value(nominal("steep"), "lead.share.at.address")).toBeLessThan(70);
  });
});
