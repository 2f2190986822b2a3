import { describe, expect, test } from "vitest";
import { groundPlan, groundSole, outlinesOf, plateFromTurf, plateOf, turfFromPlate } from "./ground-plan.ts";
import { cornersOf, placedSideBySide, plateSizes, USUAL_PLACE } from "./plate-place.ts";

const PLATES = [
  { plate: 1, foot: "lead" as const },
  { plate: 2, foot: "trail" as const },
];
const laid = placedSideBySide(PLATES, USUAL_PLACE);

describe.each(["right", "left"] as const)("plates under a %s-handed player", (handed) => {
  const plan = groundPlan(laid, handed);

  test("the lead foot's plate is nearer the target, and the sizes are those that were said", () => {
    const [lead, trail] = plan.plates;
    const middle = (points: readonly { targetM: number }[] = []): number =>
      points.reduce((total, { targetM }) => total + targetM, 0) / points.length;
    expect(middle(lead?.outline) - middle(trail?.outline)).toBeCloseTo(0.405, 12);
    const aheads = (lead?.outline ?? []).map(({ aheadM }) => aheadM);
    expect(Math.max(...aheads) - Math.min(...aheads)).toBeCloseTo(0.6, 12);
  });

  test("a point goes to plate axes and back", () => {
    const plate = plateOf("trail", plan);
    if (plate === undefined) throw new Error("no plate under the trail foot");
    const point = { targetM: -0.23, aheadM: 0.11 };
    const back = turfFromPlate(plateFromTurf(point, plate, plan), plate, plan);
    expect(back.targetM).toBeCloseTo(point.targetM, 12);
    expect(back.aheadM).toBeCloseTo(point.aheadM, 12);
  });

  test("toes point to the ball: ahead is on the other side for the other hand, never mirrored along the target", () => {
    const plate = plateOf("lead", plan);
    if (plate === undefined) throw new Error("no plate under the lead foot");
    // Plate y points away from the laboratory's y here: z into the ground, x to the target.
    const { aheadM } = turfFromPlate({ x: 0, y: 0.1, z: 0 }, plate, plan);
    expect(aheadM).toBeCloseTo(handed === "right" ? 0.1 : -0.1, 12);
  });
});

test("plates without a place are drawn as usual and carry no outline", () => {
  const plan = groundPlan(PLATES, "right");
  expect(plan).toMatchObject({ isPlaced: false, targetFrom: "trail plate to lead plate" });
  expect(plan.plates).toHaveLength(2);
  const outline = { foot: "lead" as const, frame: "plate" as const, outline: [] };
  expect(groundSole(outline, plan)).toBeUndefined();
  expect(groundPlan([], "right").plates).toHaveLength(1);
});

test("a foot that was traced in another laboratory is not drawn where it does not belong", () => {
  const plan = groundPlan(laid, "right");
  const around = (x: number) =>
    [
      [0.05, 0.14],
      [-0.05, 0.14],
      [-0.05, -0.14],
      [0.05, -0.14],
    ].map(([dx = 0, dy = 0]) => ({ x: x + dx, y: dy, z: 0 }));
  expect(groundSole({ foot: "lead", frame: "lab", outline: around(0.2) }, plan)?.foot).toBe("lead");
  expect(groundSole({ foot: "lead", frame: "lab", outline: around(0) }, plan)).toBeUndefined();
  expect(groundSole({ foot: "lead", frame: "plate", outline: around(0) }, plan)?.foot).toBe("lead");
});

test("corners that coincide or are not numbers are no place", () => {
  const corner = { x: 0, y: 0, z: 0 };
  expect(cornersOf({ plate: 1, foot: "lead", cornersM: [corner, corner, corner, corner] })).toBeUndefined();
  expect(cornersOf({ plate: 1, foot: "lead" })).toBeUndefined();
  expect(plateSizes(laid)).toBe("Plate 1: 40 by 60 cm. Plate 2: 40 by 60 cm.");
});

test("the outlines of a foot are those in the shoes that are worn, the newest first", () => {
  const traced = (id: string, shoes: string | undefined, createdMs: number) => ({
    id,
    playerId: "p",
    createdMs,
    ...(shoes === undefined ? {} : { shoes }),
    outline: { foot: "lead" as const, frame: "plate" as const, outline: [] },
  });
  const outlines = [traced("new", "red", 3), traced("old", "red", 1), traced("bare", undefined, 2)];
  expect(outlinesOf(outlines, "lead", "red").map(({ id }) => id)).toEqual(["new", "old"]);
  expect(outlinesOf(outlines, "lead", undefined).map(({ id }) => id)).toEqual(["bare"]);
  expect(outlinesOf(outlines, "lead", "blue")).toEqual([]);
  expect(outlinesOf(outlines, "trail", "red")).toEqual([]);
});
