import { marginM } from "@underfoot/mechanics";
import { describe, expect, test } from "vitest";
import { type FootPoints, footPointsFromSole, movedPoint, outlineThrough, usualFootPoints } from "./foot-points.ts";
import { groundPlan, groundSole, plateOf } from "./ground-plan.ts";
import { placedSideBySide, USUAL_PLACE } from "./plate-place.ts";

const laid = placedSideBySide(
  [
    { plate: 1, foot: "lead" as const },
    { plate: 2, foot: "trail" as const },
  ],
  USUAL_PLACE,
);

function scene(foot: "lead" | "trail", handed: "right" | "left") {
  const ground = groundPlan(laid, handed);
  const plate = plateOf(foot, ground);
  if (plate === undefined) throw new Error(`no plate under the ${foot} foot`);
  const points = usualFootPoints(foot, plate);
  return { ground, plate, points };
}

function traced(points: FootPoints, foot: "lead" | "trail", at: ReturnType<typeof scene>) {
  const outline = outlineThrough(points, foot, at);
  if (typeof outline === "string") throw new Error(outline);
  const sole = groundSole(outline, at.ground);
  if (sole === undefined) throw new Error("no sole");
  return sole;
}

describe.each([
  ["lead", "right"],
  ["trail", "right"],
  ["lead", "left"],
  ["trail", "left"],
] as const)("the %s foot of a %s-handed player", (foot, handed) => {
  const at = scene(foot, handed);

  test("as it opens is a shoe on its plate, heel behind toe, big toe on the side of the other foot", () => {
    const sole = traced(at.points, foot, at);
    expect((sole.toe?.aheadM ?? 0) - (sole.heel?.aheadM ?? 0)).toBeGreaterThan(0.27);
    const inward = foot === "lead" ? -1 : 1;
    expect(inward * (at.points.bigToe.targetM - at.points.littleToe.targetM)).toBeGreaterThan(0);
  });

  test("goes through the five points, and they are found again on what was traced", () => {
    const moved = movedPoint(at.points, "outerBall", { targetM: foot === "lead" ? 0.008 : -0.008, aheadM: 0.004 });
    const sole = traced(moved, foot, at);
    for (const name of ["heel", "innerBall", "bigToe", "littleToe", "outerBall"] as const)
      expect(Math.abs(marginM(sole.outline, moved[name])), name).toBeLessThan(0.002);
    const again = footPointsFromSole(sole);
    expect(again?.heel.aheadM).toBeCloseTo(moved.heel.aheadM, 6);
    const found = again?.outerBall ?? { targetM: Number.NaN, aheadM: Number.NaN };
    expect(Math.hypot(found.targetM - moved.outerBall.targetM, found.aheadM - moved.outerBall.aheadM)).toBeLessThan(
      0.03,
    );
  });
});

test("points that make no foot are refused with a sentence", () => {
  const at = scene("lead", "right");
  const crossed = { ...at.points, innerBall: at.points.outerBall };
  expect(outlineThrough(crossed, "lead", at)).toMatch(/\.\s\S.*\.$/);
});
