import { EVENT_NAMES, type Recording, type ShotFacts, UnderfootError } from "@underfoot/domain";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import table from "../../../reference/mechanics-shot.json" with { type: "json" };
import { type WholeShotTable, wholeShotFacts, wholeShotRecording } from "../../../reference/whole-shot.ts";
import { DEFAULT_SETTINGS } from "./settings.ts";
import { shotFromRecording } from "./shot-from-recording.ts";

const EXACT = table.facts as unknown as WholeShotTable;
const RECORDING = wholeShotRecording(EXACT, table.samples);
const FACTS = wholeShotFacts(EXACT);
const MS = RECORDING.sampleCount / RECORDING.rateHz;

/** A recording cut, holed, scaled, frozen, at another rate; facts with any marks, pad, lie. */
const damage = fc.record({
  first: fc.integer({ min: 0, max: 1400 }),
  length: fc.integer({ min: 0, max: 1500 }),
  holes: fc.array(
    fc.record({
      channel: fc.integer({ min: 0, max: 11 }),
      first: fc.integer({ min: 0, max: 1500 }),
      length: fc.integer({ min: 1, max: 400 }),
      value: fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, 0, 1e7, -5),
    }),
    { maxLength: 6 },
  ),
  factor: fc.constantFrom(1, 1, 1, -1, 0, 0.05, 20),
  rateHz: fc.constantFrom(250, 250, 60, 1000, 30, Number.NaN),
  filter: fc.constantFrom(
    { kind: "none" as const },
    { kind: "residual" as const },
    { kind: "butterworth" as const, cutoffHz: 25 },
    { kind: "butterworth" as const, cutoffHz: 200 },
  ),
  events: fc.array(
    fc.record({
      event: fc.constantFrom(...EVENT_NAMES),
      timeS: fc.double({ min: -1, max: MS + 1, noNaN: true }),
      source: fc.constantFrom("marked" as const, "signal" as const, "estimated" as const),
    }),
    { maxLength: 5 },
  ),
  pitchDeg: fc.constantFrom(0, 5, -30, 40),
});

function damaged(d: ReturnType<typeof damage.generate> extends { value: infer T } ? T : never): {
  recording: Recording;
  facts: ShotFacts;
} {
  const channels = RECORDING.channels.map((channel, c) => {
    const values = channel.values.map((v) => v * d.factor);
    for (const hole of d.holes) if (hole.channel === c) values.fill(hole.value, hole.first, hole.first + hole.length);
    return { ...channel, values: values.slice(d.first, d.first + d.length) };
  });
  const sampleCount = channels[0]!.values.length;
  const lie = { pitchDeg: d.pitchDeg, rollDeg: 0, source: "inclinometer" as const, sdDeg: 0.2 };
  return {
    recording: { ...RECORDING, rateHz: d.rateHz, sampleCount, channels },
    facts: { ...FACTS, lie, events: d.events },
  };
}

describe("a damaged recording", () => {
  it("gives a shot with findings or an UnderfootError with a remedy, and nothing else", () => {
    let shots = 0;
    let refusals = 0;
    fc.assert(
      fc.property(damage, (d) => {
        const { recording, facts } = damaged(d);
        try {
          const shot = shotFromRecording(recording, facts, { ...DEFAULT_SETTINGS, filter: d.filter });
          shots++;
          expect(shot.both.wrench.upN).toHaveLength(recording.sampleCount);
          expect(shot.massKg).toBeGreaterThan(0);
          for (const finding of shot.findings) expect(finding.sentence).not.toMatch(/NaN|undefined|Infinity/);
          const order = shot.events.map((e) => e.timeS);
          expect(order).toEqual([...order].sort((a, b) => a - b));
        } catch (fault) {
          if (!(fault instanceof UnderfootError)) throw fault;
          refusals++;
          expect(fault.message).not.toMatch(/NaN|undefined|Infinity/);
          expect(fault.remedy.length).toBeGreaterThan(10);
        }
      }),
      { numRuns: 400 },
    );
    expect(Math.min(shots, refusals)).toBeGreaterThan(20);
  });
});
