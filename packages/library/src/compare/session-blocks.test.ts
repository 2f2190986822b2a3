import { drawnPlan, type PlanAsked } from "@underfoot/pipeline";
import { expect, test } from "vitest";
import type { SessionPlan } from "../records/sessions.ts";
import { type HitShot, planOfSessions } from "./session-blocks.ts";

const conditions = [
  { intent: "stock", lieName: "flat", count: 4 },
  { intent: "low", lieName: "flat", count: 4 },
];

function planned(asked: Partial<PlanAsked> = {}): { readonly plan: SessionPlan; readonly blocks: readonly number[] } {
  const { order = "blocked", seed = 5, conditions: of = conditions, visits } = asked;
  const { shots } = drawnPlan({ conditions: of, order, seed, ...(visits === undefined ? {} : { visits }) });
  const drawn = shots.map(({ intent, lieName }) => ({ intent, lieName }));
  const plan: SessionPlan = { order, seed, lies: [], conditions: [...of], asked: [], drawn };
  return { plan, blocks: shots.map(({ block }) => block) };
}

const hit = (plan: SessionPlan, name = "s"): HitShot[] =>
  plan.drawn.map(({ intent, lieName }, k) => ({ shotId: `${name}${k}`, label: "kept", intent, lieName }));

test("shots hit as planned stand in the blocks that were drawn", () => {
  const { plan, blocks } = planned();
  const found = planOfSessions([{ plan, shots: hit(plan) }]);
  expect(found?.order).toBe("blocked");
  expect([...(found?.blockOf.values() ?? [])]).toEqual(blocks);
  expect(blocks).toEqual([0, 0, 1, 1, 2, 2, 3, 3]);
});

test("a mishit leaves its place to the shot that is hit again in the same block", () => {
  const { plan } = planned();
  const shots = hit(plan);
  const [first, second] = shots as [HitShot, HitShot];
  const again = { ...first, shotId: "again" };
  const found = planOfSessions([{ plan, shots: [{ ...first, label: "mishit" }, second, again, ...shots.slice(2)] }]);
  expect(["s0", "again", "s1", "s2"].map((id) => found?.blockOf.get(id))).toEqual([0, 0, 0, 1]);
  expect(found?.blockOf.get("s7")).toBe(3);
});

test("a mishit that was not hit again keeps its place, and so do those after it", () => {
  const { plan, blocks } = planned();
  const shots = hit(plan).map((shot, k) => (k === 0 ? { ...shot, label: "mishit" } : shot));
  expect([...(planOfSessions([{ plan, shots }])?.blockOf.values() ?? [])]).toEqual(blocks);
});

test("more shots than planned, and those of other conditions, stand outside the plan", () => {
  const { plan } = planned();
  const more = [
    { shotId: "ninth", label: "kept", intent: "stock", lieName: "flat" },
    { shotId: "other", label: "kept", intent: "high", lieName: "flat" },
  ];
  const found = planOfSessions([{ plan, shots: [...hit(plan), ...more] }]);
  expect(found?.blockOf.size).toBe(8);
});

test("visits are found again, whichever number of them was drawn", () => {
  const lies = ["flat", "up"].map((lieName) => ({ intent: "low", lieName, count: 8 }));
  for (const visits of [2, 4]) {
    const { plan, blocks } = planned({ order: "split", conditions: lies, visits });
    const found = planOfSessions([{ plan, shots: hit(plan) }]);
    expect(found?.order).toBe("split");
    expect([...(found?.blockOf.values() ?? [])]).toEqual(blocks);
  }
});

test("an order that was changed by hand is no plan; unequal counts are one shuffle; as written is as written", () => {
  const { plan } = planned();
  const turned = { ...plan, drawn: plan.drawn.toReversed().toSpliced(0, 1) };
  expect(planOfSessions([{ plan: turned, shots: hit(plan) }])).toBeUndefined();
  const unequal = planned({ conditions: [{ ...conditions[0]!, count: 3 }, conditions[1]!] }).plan;
  expect(planOfSessions([{ plan: unequal, shots: hit(unequal) }])).toEqual({ order: "free", blockOf: new Map() });
  const given = planned({ order: "as-given" }).plan;
  expect(planOfSessions([{ plan: given, shots: hit(given) }])?.order).toBe("as-given");
});

test("sessions drawn in different ways, or one without a plan, have none in common", () => {
  const one = planned().plan;
  const other = planned({ seed: 6 }).plan;
  const both = planOfSessions([
    { plan: one, shots: hit(one) },
    { plan: other, shots: hit(other, "t") },
  ]);
  expect(both?.blockOf.size).toBe(16);
  expect(
    planOfSessions([
      { plan: one, shots: hit(one) },
      { plan: undefined, shots: [] },
    ]),
  ).toBeUndefined();
  const given = planned({ order: "as-given" }).plan;
  expect(
    planOfSessions([
      { plan: one, shots: hit(one) },
      { plan: given, shots: hit(given, "t") },
    ]),
  ).toBeUndefined();
  expect(planOfSessions([])).toBeUndefined();
});
