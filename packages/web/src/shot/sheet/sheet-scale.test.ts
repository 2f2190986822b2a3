import { expect, test } from "vitest";
import { columnRoom, sheetLayout } from "./sheet-layout.ts";
import { sheetScale } from "./sheet-scale.ts";

const room = { share: 1, gapPx: 30 };
const feet = [
  { targetM: -0.2, aheadM: -0.15 },
  { targetM: 0.25, aheadM: 0.15 },
];
const scaleFor = (handed: "right" | "left", widthPx = 1000) =>
  sheetScale(sheetLayout(widthPx, [room, room, room]), {
    points: feet,
    startMs: -1000,
    endMs: 500,
    isAheadDown: handed === "right",
  });

test("the flag is on the right for both hands, and one metre is as long along target as along ahead", () => {
  for (const handed of ["right", "left"] as const) {
    const scale = scaleFor(handed);
    expect(scale.xTarget(0.2)).toBeGreaterThan(scale.xTarget(-0.2));
    const along = scale.xTarget(0.1) - scale.xTarget(0);
    expect(Math.abs(scale.yAhead(0.1) - scale.yAhead(0))).toBeCloseTo(along, 9);
  }
});

test("toes point down the screen for a right-handed player and up for a left-handed one: a rotation, not a mirror", () => {
  expect(scaleFor("right").yAhead(0.1)).toBeGreaterThan(scaleFor("right").yAhead(0));
  expect(scaleFor("left").yAhead(0.1)).toBeLessThan(scaleFor("left").yAhead(0));
});

test("time falls, and a place on the screen is its time again", () => {
  const scale = scaleFor("right");
  expect(scale.yTime(-100)).toBeGreaterThan(scale.yTime(-400));
  expect(scale.msAt(scale.yTime(-62))).toBeCloseTo(-62, 9);
});

test.each([320, 390, 640, 820, 1000, 1280])("at %i px nothing overlaps and nothing leaves the sheet", (widthPx) => {
  const layout = sheetLayout(widthPx, Array(columnRoom(widthPx)).fill(room));
  let left = layout.shape === "phone" ? 0 : layout.plan.x + layout.plan.width;
  for (const column of layout.columns) {
    expect(column.x).toBeGreaterThan(left);
    expect(column.width).toBeGreaterThan(60);
    left = column.x + column.width;
  }
  expect(left).toBeLessThan(layout.lineRight);
  expect(layout.lineRight).toBeLessThan(layout.width);
  const scale = sheetScale(layout, { points: feet, startMs: -1000, endMs: 500, isAheadDown: true });
  for (const { targetM } of feet) {
    expect(scale.xTarget(targetM)).toBeGreaterThanOrEqual(layout.plan.x);
    expect(scale.xTarget(targetM)).toBeLessThanOrEqual(layout.plan.x + layout.plan.width);
  }
});
