import type { ShotFacts, Vector } from "@underfoot/domain";
import type { QuietStance, StancePlate } from "@underfoot/pipeline";
import { expect, test } from "vitest";
import { stancePlan } from "./stance-plan.ts";

const DEG = Math.PI / 180;
/** A plate of 0.4 by 0.6 m in a laboratory with z up; corners in plate axes (+x+y), (-x+y), (-x-y), (+x-y), z down. */
function plate(number: number, centreM: Vector, loadN: number, copM: Vector): StancePlate {
  const corner = (x: number, y: number): Vector => ({ x: centreM.x + x, y: centreM.y - y, z: centreM.z });
  return {
    plate: number,
    loadN,
    forceN: { x: 0, y: 0, z: loadN },
    copM,
    corners: [corner(0.2, 0.3), corner(-0.2, 0.3), corner(-0.2, -0.3), corner(0.2, -0.3)],
    centreM,
    normal: { x: 0, y: 0, z: 1 },
    isPlaced: true,
    storedAs: "on-player",
  };
}
const at = (x: number, y: number): Vector => ({ x, y, z: 0 });
const stanceOf = (plates: readonly StancePlate[], forceN: Vector = { x: 0, y: 0, z: 800 }): QuietStance => ({
  ...{ fromS: 0, toS: 0.5, plates, forceN, weightN: 800, massKg: 81.6, sdN: 1, leanDeg: 0 },
  normal: { x: 0, y: 0, z: 1 },
});
const facts = (handed: "right" | "left", target: Vector): ShotFacts => ({
  ...{ handed, target, feet: [], events: [], keep: "kept" },
  plates: [
    { plate: 1, foot: "trail" },
    { plate: 2, foot: "lead" },
  ],
});
const two = [plate(1, at(0, 0), 300, at(0.02, 0.1)), plate(2, at(0.5, 0), 500, at(0.5, 0.1))];

test.each(["right", "left"] as const)("the lead plate is nearer the target on the page, %s-handed", (handed) => {
  const plan = stancePlan(stanceOf(two), facts(handed, { x: 1, y: 0, z: 0 }));
  const [trail, lead] = plan.plates;
  expect(lead?.foot).toBe("lead");
  expect((lead?.centre.rightM ?? 0) - (trail?.centre.rightM ?? 0)).toBeCloseTo(0.5, 9);
});

test("the plan is turned, never mirrored: what is left of the target line seen from above is up on the page", () => {
  // Looking along +x with z up, +y is on the left.
  const plan = stancePlan(stanceOf(two), facts("right", { x: 1, y: 0, z: 0 }));
  expect(plan.plates[0]?.cop?.upM).toBeCloseTo(0.1, 9);
  const back = stancePlan(stanceOf(two), facts("right", { x: -1, y: 0, z: 0 }));
  expect(back.plates[0]?.cop?.upM).toBeCloseTo(-0.1, 9);
  expect(back.plates[0]?.centre.rightM).toBeGreaterThan(back.plates[1]?.centre.rightM ?? 0);
});

test("the pressure of both is the mean of the two, weighed by their loads", () => {
  const plan = stancePlan(stanceOf(two), undefined);
  expect(plan.cop?.rightM).toBeCloseTo((300 * 0.02 + 500 * 0.5) / 800 - 0.25, 9);
  expect(plan.right).toBe("the second plate");
});

test("plates at one place are drawn side by side and the plan says so", () => {
  const plan = stancePlan(stanceOf([plate(1, at(0, 0), 400, at(0, 0)), plate(2, at(0, 0), 400, at(0, 0))]), undefined);
  expect(plan.isPlaced).toBe(false);
  const [one, other] = plan.plates.map(({ outline }) => outline.map(({ rightM }) => rightM));
  expect(Math.max(...(one ?? []))).toBeLessThan(Math.min(...(other ?? [])));
});

test("the lie follows from the lean of the force: W (sin p, sin r, c) on the flat plates of a tilted laboratory", () => {
  const [p, r] = [3 * DEG, -2 * DEG];
  const c = Math.sqrt(1 - Math.sin(p) ** 2 - Math.sin(r) ** 2);
  // Target along +x, right-handed: ahead is target × up, along -y.
  const forceN = { x: 800 * Math.sin(p), y: -800 * Math.sin(r), z: 800 * c };
  const { lie } = stancePlan(stanceOf(two, forceN), facts("right", { x: 1, y: 0, z: 0 }));
  expect(lie?.pitchDeg).toBeCloseTo(3, 9);
  expect(lie?.rollDeg).toBeCloseTo(-2, 9);
  expect(stancePlan(stanceOf(two, forceN), undefined).lie).toBeUndefined();
});
