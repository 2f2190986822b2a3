import type { Column } from "@underfoot/domain";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bump, handMadeShot } from "./hand-made-shot.ts";
import { findingsFromMeasures } from "./measure-findings.ts";
import { measuresFromShot } from "./measures.ts";
import type { FootSeries, PlayerWrench, Shot } from "./shot.ts";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });

/** An ordinary shot: load goes to the lead foot, pushes along target and ahead, twist. */
const plan = fc.record({
  shiftN: number(50, 250),
  pushN: number(20, 120),
  twistNm: number(2, 20),
  peakS: number(2.6, 2.9),
  flareM: number(-0.03, 0.03),
});

function shotOf({ shiftN, pushN, twistNm, peakS, flareM }: { [name: string]: number }, massFactor = 1): Shot {
  const moved = (t: number): number => massFactor * shiftN! * Math.min(1, Math.max(0, (t - 2.3) / 0.6));
  const push = (t: number): number => massFactor * pushN! * bump(peakS!, 0.2)(t);
  const scale = (s: Shot): Shot => ({
    ...s,
    weightN: massFactor * s.weightN,
    massKg: massFactor * s.massKg,
    sigmas: {
      lead: { ...s.sigmas.lead!, zeroN: massFactor * 2, zeroNm: massFactor * 0.5 },
      trail: { ...s.sigmas.trail!, zeroN: massFactor * 2, zeroNm: massFactor * 0.5 },
      both: undefined,
    },
  });
  return handMadeShot({
    lead: {
      upN: (t) => massFactor * 400 + moved(t) + push(t - 0.08),
      targetN: push,
      aheadN: (t) => -push(t - 0.03) / 3,
      copAheadM: (t) => flareM! * bump(2.7, 0.5)(t),
      freeMomentNm: (t) => massFactor * twistNm! * bump(2.75, 0.15)(t),
    },
    trail: { upN: (t) => massFactor * 400 - moved(t), aheadN: (t) => push(t - 0.03) / 2 },
    change: scale,
  });
}

describe("laws of measures", () => {
  test("forces and masses scaled together leave shares, places, angles, ratios and times alone", () => {
    fc.assert(
      fc.property(plan, number(0.6, 1.8), (shape, factor) => {
        const one = measuresFromShot(shotOf(shape));
        const other = measuresFromShot(shotOf(shape, factor));
        one.forEach((m, i) => {
          const scaled = ["N", "N s", "N/s", "N m", "N m s"].includes(m.unit) ? factor : 1;
          if (!m.isValid || m.text !== undefined || m.id === "both.weight.mean") return;
          // what counts as two peaks of torque is an absolute 1 N m
          if (m.id !== "both.turn.peakTime") expect([m.id, other[i]!.why]).toEqual([m.id, undefined]);
          if (!other[i]!.isValid) return;
          const tolerance = 1e-5 * (1 + Math.abs(scaled * m.value));
          const isSame = Math.abs(other[i]!.value - scaled * m.value) < tolerance;
          expect([m.id, m.value, other[i]!.value, isSame]).toEqual([m.id, m.value, other[i]!.value, true]);
        });
      }),
      { numRuns: 25 },
    );
  });

  test("total force at an event is the sum of the feet, turning torque the sum of its three parts", () => {
    fc.assert(
      fc.property(plan, (shape) => {
        const shot = shotOf(shape);
        const at = (column: Column): number => column[2850]!;
        const { lead, trail } = shot as Shot & { lead: FootSeries; trail: FootSeries };
        const value = (id: string): number => measuresFromShot(shot).find((m) => m.id === id)!.value;
        expect(value("both.target.at.delivery")).toBeCloseTo(at(lead.wrench.targetN) + at(trail.wrench.targetN), 9);
        const parts = at(lead.freeMomentNm) + at(trail.freeMomentNm) + value("both.couple.at.delivery");
        expect(value("both.turn.at.delivery")).toBeCloseTo(parts, 9);
      }),
      { numRuns: 25 },
    );
  });

  test("whatever is missing, nothing throws; what is valid has a finite value and uncertainty, what is not says why", () => {
    const damage = fc.record({
      from: fc.integer({ min: 0, max: 3900 }),
      length: fc.integer({ min: 0, max: 800 }),
      value: fc.constantFrom(Number.NaN, 0, -50, 1e6),
      foot: fc.constantFrom("lead", "trail"),
      gone: fc.subarray(["start", "top", "delivery", "impact", "finish"]),
      sigmaMs: fc.constantFrom(0, 5, 60, 400),
    });
    fc.assert(
      fc.property(plan, damage, (shape, { from, length, value, foot, gone, sigmaMs }) => {
        const shot = shotOf(shape);
        const hurt = (column: Column): Column => column.slice().fill(value, from, from + length);
        const hurtWrench = (w: PlayerWrench): PlayerWrench => ({ ...w, upN: hurt(w.upN), turnNm: hurt(w.turnNm) });
        const series = shot[foot as "lead" | "trail"]!;
        const damaged: Shot = {
          ...shot,
          [foot]: { ...series, wrench: hurtWrench(series.wrench), unfiltered: hurtWrench(series.unfiltered) },
          events: shot.events
            .filter(({ event }) => !gone.includes(event as (typeof gone)[number]))
            .map((event) => ({ ...event, sigmaMs })),
        };
        const measures = measuresFromShot(damaged);
        for (const m of measures) {
          if (!m.isValid) expect([m.id, Number.isNaN(m.value), typeof m.why]).toEqual([m.id, true, "string"]);
          else if (m.text === undefined) {
            const isWhole =
              Number.isFinite(m.value) && m.sigma >= 0 && Number.isFinite(m.sigma) && m.sigmaShared <= m.sigma;
            expect([m.id, m.value, m.sigma, isWhole]).toEqual([m.id, m.value, m.sigma, true]);
          }
        }
        for (const { sentence } of findingsFromMeasures(damaged, measures)) expect(sentence).not.toContain("NaN");
      }),
      { numRuns: 60 },
    );
  });
});
