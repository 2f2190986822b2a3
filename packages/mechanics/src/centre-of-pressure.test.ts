import { scaled, sum, type Vector } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import reference from "../../../reference/mechanics.json" with { type: "json" };
import { turfAxes } from "./axes.ts";
import { centreOfPressure, freeMoment } from "./centre-of-pressure.ts";
import type { PlateWrench } from "./plate-wrench.ts";
import { bothWrench, couple, type PlayerWrenchAt, playerWrench, wrenchCop, wrenchFreeMoment } from "./player-wrench.ts";
import type { PlayerWrench } from "./shot.ts";

const vector = ([x, y, z]: readonly number[]): Vector => ({ x: x!, y: y!, z: z! });
const components = (v: Vector): number[] => [v.x, v.y, v.z];
const at = (w: PlayerWrench, i = 0): PlayerWrenchAt => ({
  targetN: w.targetN[i]!,
  aheadN: w.aheadN[i]!,
  upN: w.upN[i]!,
  bTargetNm: w.bTargetNm[i]!,
  bAheadNm: w.bAheadNm[i]!,
  turnNm: w.turnNm[i]!,
});

/** One sample of a plate with this centre and normal. */
function plateAt(centreM: Vector, normal: Vector, forceN: Vector, momentNm: Vector): PlateWrench {
  const series = ({ x, y, z }: Vector) => ({ x: Float64Array.of(x), y: Float64Array.of(y), z: Float64Array.of(z) });
  return {
    plate: 1,
    type: 2,
    frame: { x: normal, y: normal, z: scaled(normal, -1), centreM, sizeM: [0.6, 0.4], normal },
    forceN: series(forceN),
    momentNm: series(momentNm),
    hasMoments: true,
    hasFreeMoment: true,
    storedAs: "on-player",
    isSaturated: new Uint8Array(1),
    bridgedCount: 0,
    zero: { kind: "none", first: 0, end: 0 },
    findings: [],
  };
}

describe("centre of pressure and free moment", () => {
  it("give the example done by hand, in plate axes with z down: (0.030, 0.050) m and -4.1 N m", () => {
    const wrench = {
      forceN: { x: 10, y: -20, z: -800 },
      momentNm: { x: -40, y: 24, z: 3 },
      centreM: { x: 0, y: 0, z: 0 },
    };
    const up = { x: 0, y: 0, z: -1 };
    const cop = centreOfPressure(wrench, up);
    expect(cop.x).toBeCloseTo(0.03, 12);
    expect(cop.y).toBeCloseTo(0.05, 12);
    expect(freeMoment(wrench, up)).toBeCloseTo(-4.1, 12);
  });

  it("give the tabled places, free moments, couple and turn of pairs of plates, both hands (1e-10 m, 1e-9 N m)", () => {
    expect(reference.second.cop.cases.length).toBeGreaterThan(5);
    for (const row of reference.second.cop.cases) {
      const normal = vector(row.normal);
      const handed = row.handed === "left" ? "left" : "right";
      const axes = turfAxes(normal, vector(row.turfFromLab[0]!), handed);
      const referenceM = vector(row.lead.centre);
      const feet = [row.lead, row.trail].map((foot) => {
        const wrench = { forceN: vector(foot.force), momentNm: vector(foot.moment), centreM: vector(foot.centre) };
        const cop = centreOfPressure(wrench, normal);
        components(cop).forEach((value, i) => {
          expect(Math.abs(value - foot.cop[i]!)).toBeLessThan(1e-10);
        });
        expect(Math.abs(freeMoment(wrench, normal) - foot.freeMomentAboutNormal)).toBeLessThan(1e-9);
        const player = playerWrench(plateAt(wrench.centreM, normal, wrench.forceN, wrench.momentNm), axes, referenceM);
        expect(Math.abs(wrenchFreeMoment(at(player)) - foot.freeMomentTowardTarget)).toBeLessThan(1e-9);
        expect(Math.hypot(player.targetN[0]!, player.aheadN[0]!) / player.upN[0]!).toBeCloseTo(foot.friction, 12);
        return player;
      });
      const [lead, trail] = feet as [PlayerWrench, PlayerWrench];
      const both = at(bothWrench(lead, trail));
      const cop = wrenchCop(both);
      const inLab = sum(referenceM, sum(scaled(axes.target, cop.targetM), scaled(axes.ahead, cop.aheadM)));
      components(inLab).forEach((value, i) => {
        expect(Math.abs(value - row.both.cop[i]!)).toBeLessThan(1e-10);
      });
      expect(lead.upN[0]! / both.upN).toBeCloseTo(row.both.loadShareLead, 12);
      expect(Math.abs(couple(at(lead), at(trail)) - row.both.couple)).toBeLessThan(1e-9);
      expect(Math.abs(wrenchFreeMoment(both) - row.both.turn)).toBeLessThan(1e-9);
    }
  });

  it("give the tabled player wrench of a plate from its corners, both hands", () => {
    const { lab } = reference;
    const plate = plateAt(vector(lab.centre), { x: 0, y: 0, z: 1 }, vector(lab.force_lab), vector(lab.moment_lab));
    for (const row of lab.results) {
      const axes = turfAxes({ x: 0, y: 0, z: 1 }, vector(row.target), row.hand === "left" ? "left" : "right");
      const w = at(playerWrench(plate, axes, vector(row.ref)));
      const found = [w.targetN, w.aheadN, w.upN, w.bTargetNm, w.bAheadNm, w.turnNm];
      found.forEach((value, i) => {
        expect(Math.abs(value - row.player_wrench[i]!)).toBeLessThan(1e-9);
      });
      expect(wrenchCop(w).targetM).toBeCloseTo(row.cop_turf[0]!, 9);
      expect(wrenchCop(w).aheadM).toBeCloseTo(row.cop_turf[1]!, 9);
      expect(wrenchFreeMoment(w)).toBeCloseTo(row.free_moment, 9);
    }
  });

  it("split the torque of the tabled pairs, with and without a pad (1e-9)", () => {
    const one = (v: readonly number[]): PlayerWrenchAt => ({
      targetN: v[0]!,
      aheadN: v[1]!,
      upN: v[2]!,
      bTargetNm: v[3]!,
      bAheadNm: v[4]!,
      turnNm: v[5]!,
    });
    for (const row of reference.twoFeet.rows) {
      const lead = one(row.lead);
      const trail = one(row.trail);
      const both = one(row.lead.map((value, i) => value + row.trail[i]!));
      const pairs: [number, number][] = [
        [wrenchCop(lead, row.pad).targetM, row.cop_lead[0]!],
        [wrenchCop(lead, row.pad).aheadM, row.cop_lead[1]!],
        [wrenchCop(trail, row.pad).targetM, row.cop_trail[0]!],
        [wrenchCop(both, row.pad).aheadM, row.cop_both[1]!],
        [wrenchFreeMoment(lead, row.pad), row.free_lead],
        [wrenchFreeMoment(trail, row.pad), row.free_trail],
        [couple(lead, trail, row.pad), row.couple],
        [wrenchFreeMoment(both, row.pad), row.turn],
      ];
      for (const [found, wanted] of pairs) expect(Math.abs(found - wanted)).toBeLessThan(1e-9);
    }
  });
});
