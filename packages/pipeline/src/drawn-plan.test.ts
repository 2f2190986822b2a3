import { UnderfootError } from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import { drawnPlan, type PlanAsked } from "./drawn-plan.ts";

const lies = (count: number): PlanAsked["conditions"] => [
  { intent: "low", lieName: "flat", count },
  { intent: "high", lieName: "flat", count },
  { intent: "low", lieName: "upslope", count },
  { intent: "high", lieName: "upslope", count },
];
const two = (count: number): PlanAsked["conditions"] => lies(count).slice(0, 2);
const codes = (asked: PlanAsked): string[] => drawnPlan(asked).findings.map(({ code }) => code);
const faultOf = (asked: PlanAsked): string => {
  try {
    drawnPlan(asked);
    return "none";
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return fault.code;
  }
};

describe("a drawn plan", () => {
  test.each(["blocked", "balanced", "split", "as-given"] as const)(
    "%s: every shot asked for, once, numbered",
    (order) => {
      const asked: PlanAsked = { conditions: lies(4), order, seed: 7 };
      const { shots } = drawnPlan(asked);
      expect(shots.map(({ number }) => number)).toEqual(Array.from({ length: 16 }, (_, k) => k + 1));
      for (const [k, { intent, lieName, count }] of asked.conditions.entries()) {
        const own = shots.filter(({ condition }) => condition === k);
        expect(own).toHaveLength(count);
        expect(own.every((shot) => shot.intent === intent && shot.lieName === lieName)).toBe(true);
      }
      expect(drawnPlan(asked)).toEqual(drawnPlan(asked));
    },
  );

  test("another seed draws another order, and blocks hold each condition once", () => {
    const a = drawnPlan({ conditions: lies(6), order: "blocked", seed: 1 });
    expect(drawnPlan({ conditions: lies(6), order: "blocked", seed: 2 }).shots).not.toEqual(a.shots);
    for (let block = 0; block < 6; block++) {
      const inBlock = a.shots.filter((shot) => shot.block === block).map(({ condition }) => condition);
      expect(inBlock.toSorted()).toEqual([0, 1, 2, 3]);
    }
  });

  test("balanced: each condition follows each other one equally often within the rows (Williams 1949)", () => {
    const { shots } = drawnPlan({ conditions: lies(4), order: "balanced", seed: 3 });
    const follows = new Map<string, number>();
    for (const [k, shot] of shots.entries()) {
      const before = shots[k - 1];
      if (before?.block !== shot.block) continue;
      const pair = `${before.condition}>${shot.condition}`;
      follows.set(pair, (follows.get(pair) ?? 0) + 1);
    }
    expect(follows.size).toBe(12);
    expect(new Set(follows.values())).toEqual(new Set([1]));
  });

  test("split: one lie a visit, there and back", () => {
    const { shots, findings } = drawnPlan({ conditions: lies(6), order: "split", seed: 3 });
    const visits = [0, 1, 2, 3].map((block) => [
      ...new Set(shots.filter((shot) => shot.block === block).map(({ lieName }) => lieName)),
    ]);
    expect(visits.every((names) => names.length === 1)).toBe(true);
    expect(visits[0]).toEqual(visits[3]);
    expect(visits[1]).toEqual(visits[2]);
    expect(findings).toEqual([]);
  });
});

describe("what a plan cannot show", () => {
  // 2/2^5 and 2/2^6: the two-sided sign-flip p of 5 and 6 pairs, by counting (Fisher 1935; from memory).
  test("two conditions once a block: 5 shots stop at 0.0625 and 6 reach 0.031", () => {
    const five = drawnPlan({ conditions: two(5), order: "blocked", seed: 1 });
    expect(five.smallestP).toBe(2 / 2 ** 5);
    expect(five.findings[0]).toMatchObject({ code: "plan-cannot-show" });
    expect(five.findings[0]!.sentence).toContain("0.063");
    expect(five.findings[0]!.remedy).toBe("Plan 6 shots of each condition: the smallest p is then 0.031.");
    const six = drawnPlan({ conditions: two(6), order: "blocked", seed: 1 });
    expect(six.smallestP).toBe(2 / 2 ** 6);
    expect(six.findings).toEqual([]);
  });

  test("a lie visited once, few shots, unequal counts, an order that was not drawn", () => {
    expect(codes({ conditions: lies(5), order: "split", seed: 1 })).toEqual(["lie-once"]);
    expect(codes({ conditions: lies(6), order: "split", seed: 1, visits: 1 })).toEqual(["lie-once"]);
    expect(codes({ conditions: two(4), order: "blocked", seed: 1 })).toEqual(["too-few-for-words", "plan-cannot-show"]);
    const unequal = [...two(6).slice(0, 1), { intent: "high", lieName: "flat", count: 9 }];
    expect(codes({ conditions: unequal, order: "blocked", seed: 1 })).toEqual(["counts-differ"]);
    expect(codes({ conditions: two(6), order: "as-given", seed: 1 })).toEqual(["order-not-drawn"]);
    expect(codes({ conditions: two(6).slice(0, 1), order: "as-given", seed: 1 })).toEqual([]);
  });

  test("what cannot be drawn is refused with what to do", () => {
    expect(faultOf({ conditions: [], order: "blocked", seed: 1 })).toBe("plan-empty");
    expect(faultOf({ conditions: two(0), order: "blocked", seed: 1 })).toBe("plan-count");
    expect(faultOf({ conditions: two(1.5), order: "blocked", seed: 1 })).toBe("plan-count");
    expect(faultOf({ conditions: two(6), order: "blocked", seed: -1 })).toBe("plan-seed");
    expect(faultOf({ conditions: [...two(6), ...two(6)], order: "blocked", seed: 1 })).toBe("plan-twice");
    expect(faultOf({ conditions: lies(6), order: "balanced", seed: 1 })).toBe("plan-not-balanced");
    expect(faultOf({ conditions: two(6).slice(0, 1), order: "balanced", seed: 1 })).toBe("plan-not-balanced");
    expect(faultOf({ conditions: lies(5), order: "split", seed: 1, visits: 2 })).toBe("plan-visits");
    expect(faultOf({ conditions: two(6), order: "blocked", seed: 1, alphaOfOne: 0 })).toBe("plan-level");
  });
});
