import { footCoordinates } from "@underfoot/mechanics";
import { expect, test } from "vitest";
import { handMadeShot } from "./hand-made-shot.ts";
import { sheetModel } from "./sheet-model.ts";
import { soleAxes } from "./sheet-plan.ts";

const planOf = (options: Parameters<typeof handMadeShot>[0]) =>
  sheetModel(handMadeShot(options), [], { axes: "turf" }).plan;

test.each([
  ["right", true, "seen from above, from the ball side"],
  ["left", false, "seen from above, from behind the heels"],
] as const)(
  "%s-handed: the lead foot is nearer the flag, and the caption says where one looks from",
  (handed, isAheadDown, caption) => {
    const plan = planOf({ handed });
    const middleOf = (foot: string): number =>
      Math.max(...plan.soles.find((sole) => sole.foot === foot)!.outline.map((point) => point.targetM));
    expect(middleOf("lead")).toBeGreaterThan(middleOf("trail"));
    expect([plan.isAheadDown, plan.caption]).toEqual([isAheadDown, caption]);
  },
);

test("an untraced foot is a stadium about the middle of its plate and says so", () => {
  const [trail, lead] = planOf({ isTraced: false }).soles;
  expect([trail?.isTraced, lead?.isTraced]).toEqual([false, false]);
  const targets = lead!.outline.map((point) => point.targetM);
  expect((Math.max(...targets) + Math.min(...targets)) / 2).toBeCloseTo(0.2);
  const aheads = lead!.outline.map((point) => point.aheadM);
  expect(Math.max(...aheads) - Math.min(...aheads)).toBeCloseTo(0.29);
});

test("the plan holds plates, feet and ball; ticks stand each 100 ms", () => {
  const plan = planOf({});
  expect(plan.extent.maxAheadM).toBeCloseTo(0.48);
  expect(plan.extent.minTargetM).toBeCloseTo(-0.43);
  expect(plan.tickSamples.slice(0, 3)).toEqual([25, 75, 125]);
});

test("arrows keep the session's scale where one is given, else a round one of this shot", () => {
  expect(planOf({}).arrowNPerM).toBe(1000);
  expect(sheetModel(handMadeShot(), [], { axes: "turf", arrowNPerM: 300 }).plan.arrowNPerM).toBe(300);
});

test("one plate for both feet: no soles stand alone and nothing breaks", () => {
  const model = sheetModel(handMadeShot({ isOnePlate: true, isTraced: false }), [], {
    axes: "turf",
    columns: ["push", "couple", "leadPush"],
  });
  expect(model.plan.soles).toEqual([]);
  expect(model.columns.map((column) => column.id)).toEqual(["push"]);
  expect(model.sole).toMatchObject({ kind: "missing", why: "No plate carries the lead foot alone." });
});

test("places in the sole agree with the foot coordinates of the measures", () => {
  const sole = {
    outline: [
      { targetM: 0, aheadM: 0 },
      { targetM: 0.1, aheadM: 0 },
      { targetM: 0.16, aheadM: 0.27 },
      { targetM: 0.06, aheadM: 0.28 },
    ],
    heel: { targetM: 0.05, aheadM: 0 },
    toe: { targetM: 0.11, aheadM: 0.275 },
  };
  const point = { targetM: 0.09, aheadM: 0.1 };
  for (const foot of ["lead", "trail"] as const) {
    const { lengthM, place } = soleAxes(sole, foot);
    const own = place(point);
    const { heelToe, innerOuter } = footCoordinates(sole, foot, point);
    expect((100 * own.alongM) / lengthM).toBeCloseTo(heelToe, 9);
    const isOuterHalf = own.acrossM > 0;
    expect(innerOuter > 50).toBe(isOuterHalf);
  }
});
