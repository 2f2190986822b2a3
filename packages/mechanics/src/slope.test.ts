import { describe, expect, it } from "vitest";
// Static slope law in closed form, by two programs written apart; see reference/mechanics.py.
import reference from "../../../reference/mechanics.json" with { type: "json" };
import { gradePercent, levelFromTurf, levelVector } from "./axes.ts";
import { requiredFriction, slopeCheck, staticForce, staticSlopeShare } from "./slope.ts";

describe("static slope law", () => {
  it("gives the tabled forces, leans, grades and friction", () => {
    expect(reference.slope.length).toBeGreaterThan(5);
    for (const row of reference.slope) {
      const lie = { pitchDeg: row.pitch_deg, rollDeg: row.roll_deg };
      const share = staticSlopeShare(lie, row.weight_n);
      const force = staticForce(lie, row.weight_n);
      expect(force.target).toBeCloseTo(row.target_turf_n, 8);
      expect(force.ahead).toBeCloseTo(row.ahead_turf_n, 8);
      expect(force.up).toBeCloseTo(row.up_turf_n, 8);
      expect(share.leanTargetDeg).toBeCloseTo(row.lean_target_deg, 8);
      expect(share.leanAheadDeg).toBeCloseTo(row.lean_ahead_deg, 8);
      expect(share.friction).toBeCloseTo(row.friction, 8);
      expect(requiredFriction(force)).toBeCloseTo(row.friction, 8);
      expect(gradePercent(row.pitch_deg)).toBeCloseTo(row.grade_percent, 6);
    }
  });

  it("agrees with the second program to 1e-10", () => {
    for (const row of reference.second.slope.cases) {
      const lie = { pitchDeg: row.pitch, rollDeg: row.roll };
      const share = staticSlopeShare(lie, row.W);
      const found = [share.forceN.target, share.forceN.ahead, share.forceN.up, share.leanTargetDeg, share.leanAheadDeg];
      const wanted = [...row.share, row.leanTargetDeg, row.leanAheadDeg];
      found.forEach((value, i) => {
        expect(Math.abs(value - wanted[i]!)).toBeLessThan(1e-10);
      });
      const level = levelVector(levelFromTurf(lie), staticForce(lie, row.W));
      expect(Math.hypot(level.target, level.ahead, level.up - row.W)).toBeLessThan(1e-9);
    }
  });

  it("explains 68 N of the push of 780 N on 5 degrees upslope", () => {
    expect(staticSlopeShare({ pitchDeg: 5, rollDeg: 0 }, 780).forceN.target).toBeCloseTo(67.98, 2);
  });
});

describe("slope check", () => {
  const sigmas = { horizontalSigmaN: 2.5, inclinometerSdDeg: 0.2 };

  it("agrees with the lie that a quiet stance leans on", () => {
    const lie = { pitchDeg: 5, rollDeg: -3 };
    const check = slopeCheck(staticForce(lie, 780), lie, sigmas);
    expect(check.agrees).toBe(true);
    expect(check.pitchDeg).toBeCloseTo(5, 9);
    expect(check.rollDeg).toBeCloseTo(-3, 9);
    expect(check.sigmaDeg).toBeCloseTo(Math.hypot(0.2, (2.5 / 780) * (180 / Math.PI)), 9);
  });

  it("disagrees just beyond what it allows and agrees just within", () => {
    const { allowedDeg } = slopeCheck(
      staticForce({ pitchDeg: 0, rollDeg: 0 }, 780),
      { pitchDeg: 0, rollDeg: 0 },
      sigmas,
    );
    const leaning = (pitchDeg: number) =>
      slopeCheck(staticForce({ pitchDeg, rollDeg: 0 }, 780), { pitchDeg: 0, rollDeg: 0 }, sigmas).agrees;
    expect(leaning(allowedDeg + 0.01)).toBe(false);
    expect(leaning(allowedDeg - 0.01)).toBe(true);
  });
});
