import { describe, expect, test } from "vitest";
import { NO_PLAN, type SessionPlanShape } from "./plan-grid.ts";
import { nextSentence, orderOf, redrawn } from "./plan-order.ts";

const plan: SessionPlanShape = {
  ...NO_PLAN,
  seed: 7,
  lies: [{ name: "flat", pitchDeg: 0, rollDeg: 0, source: "inclinometer", sdDeg: 0.2 }],
  conditions: [
    { intent: "low", lieName: "flat", count: 6, club: "58" },
    { intent: "high", lieName: "flat", count: 6 },
  ],
};

describe("the order of a plan", () => {
  test("holds every shot that is asked for, the same for the same seed, another for the next", () => {
    const [one, again, other] = [redrawn(plan), redrawn(plan), redrawn({ ...plan, seed: 8 })];
    expect(one.drawn).toHaveLength(12);
    expect(one.drawn.filter(({ intent }) => intent === "low")).toHaveLength(6);
    expect(one.drawn.find(({ intent }) => intent === "low")).toEqual({ intent: "low", lieName: "flat", club: "58" });
    expect(again).toEqual(one);
    expect(other.drawn).not.toEqual(one.drawn);
  });

  test("is empty, with a sentence, where none can be drawn", () => {
    const uneven = { ...plan, order: "balanced" as const, conditions: plan.conditions.slice(0, 1) };
    expect(redrawn(uneven).drawn).toEqual([]);
    const order = orderOf(uneven);
    expect(order.kind === "none" && order.sentence).toMatch(/^With one condition there is nothing to balance\./);
  });
});

test("what comes next", () => {
  expect(nextSentence(NO_PLAN, 0)).toBe("Next: write down the lie that is hit from.");
  expect(nextSentence({ ...plan, conditions: [] }, 0)).toMatch(/^Next: say which shots/);
  const drawn = [
    { intent: "low", lieName: "flat", club: "58" },
    { intent: "high", lieName: "flat" },
  ];
  expect(nextSentence({ ...plan, drawn }, 0)).toBe("Next: shot 1 of 2, low on flat with 58.");
  expect(nextSentence({ ...plan, drawn }, 1)).toBe("Next: shot 2 of 2, high on flat.");
  expect(nextSentence({ ...plan, drawn }, 2)).toBe("All 2 planned shots are stored.");
  expect(nextSentence(plan, 0)).toMatch(/^Next: mend the plan/);
});
