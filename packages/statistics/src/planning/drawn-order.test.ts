import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import { drawnOrder, withRepeat } from "./drawn-order.ts";
import type { Plan } from "./plan.ts";
import { binomial, planReach, planVerdict, smallestBlockedP, smallestFreeP } from "./plan-reach.ts";
import { williamsRows } from "./williams.ts";

const conditions = ["low", "high", "soft"];
const drawn = (plan: Plan, seed = 20250101, named: readonly string[] = conditions) =>
  drawnOrder({ plan, conditions: named, seed }, random);
const counted = (names: readonly string[]): Record<string, number> => {
  const counts: Record<string, number> = {};
  for (const name of names) counts[name] = (counts[name] ?? 0) + 1;
  return counts;
};
const blocked = (countBlocks: number, countEachPerBlock = 1): Plan => ({
  kind: "blocked",
  countBlocks,
  countEachPerBlock,
});

describe("a drawn order", () => {
  it("is the same for the same seed, another for another, and stores how it was drawn", () => {
    const order = drawn(blocked(6));
    expect(drawn(blocked(6))).toEqual(order);
    expect(drawn(blocked(6), 2).shots).not.toEqual(order.shots);
    expect(order).toMatchObject({ seed: 20250101, label: "order/blocked", plan: blocked(6) });
  });
  it("in blocks holds every condition equally often in each", () => {
    const { shots } = drawn(blocked(4, 2));
    expect(shots.length).toBe(24);
    for (let block = 0; block < 4; block++) {
      const here = shots.filter((shot) => shot.block === block).map((shot) => shot.condition);
      expect(Object.values(counted(here))).toEqual([2, 2, 2]);
    }
  });
  it("in blocks draws every order equally often (600 blocks of 3: 6 orders, 100 each, chi-squared below its 0.999 quantile 20.5)", () => {
    const { shots } = drawn(blocked(600));
    const orders = Array.from({ length: 600 }, (_, block) =>
      shots
        .slice(3 * block, 3 * block + 3)
        .map((shot) => shot.conditionIndex)
        .join(""),
    );
    const counts = Object.values(counted(orders));
    expect(counts.length).toBe(6);
    expect(counts.reduce((sum, count) => sum + (count - 100) ** 2 / 100, 0)).toBeLessThan(20.5);
  });
  it("drawn freely keeps the counts", () => {
    const { shots } = drawn({ kind: "free", countEach: [3, 5, 1] });
    expect(counted(shots.map((shot) => shot.condition))).toEqual({ low: 3, high: 5, soft: 1 });
  });
  it("by Williams takes whole sets of rows in shuffled order", () => {
    const { shots } = drawn({ kind: "williams", countSets: 2 });
    const rows = Array.from({ length: 12 }, (_, block) =>
      shots
        .filter((shot) => shot.block === block)
        .map((shot) => shot.conditionIndex)
        .join(""),
    );
    const wanted = williamsRows(3).map((row) => row.join(""));
    expect(rows.slice(0, 6).toSorted()).toEqual(wanted.toSorted());
    expect(rows.slice(6).toSorted()).toEqual(wanted.toSorted());
    expect(rows.slice(0, 6)).not.toEqual(wanted);
  });
  it("by lies goes there and back for two visits, and shuffles within a visit", () => {
    const named = ["flat low", "flat high", "up low", "up high"];
    const plan: Plan = { kind: "split", countVisits: 2, countEachPerVisit: 3, lieOfCondition: [0, 0, 1, 1] };
    const { shots } = drawn(plan, 7, named);
    const lies = [0, 1, 2, 3].map(
      (visit) => new Set(shots.filter((s) => s.block === visit).map((s) => s.condition.split(" ")[0])),
    );
    expect(lies.every((one) => one.size === 1)).toBe(true);
    expect(lies[0]).toEqual(lies[3]);
    expect(lies[1]).toEqual(lies[2]);
    expect(lies[0]).not.toEqual(lies[1]);
    expect(shots.filter((shot) => shot.block === 0).length).toBe(6);
  });
  it("by lies draws four visits and more freely: of 2,000 orders all 70 occur", () => {
    const plan: Plan = { kind: "split", countVisits: 4, countEachPerVisit: 1, lieOfCondition: [0, 1] };
    const seen = new Set(
      Array.from({ length: 2000 }, (_, seed) =>
        drawn(plan, seed, ["flat", "up"])
          .shots.map((s) => s.conditionIndex)
          .join(""),
      ),
    );
    expect(seen.size).toBe(70);
  });
  it("with three visits draws the third pass anew", () => {
    const plan: Plan = { kind: "split", countVisits: 3, countEachPerVisit: 1, lieOfCondition: [0, 1] };
    expect(drawn(plan, 1, ["flat", "up"]).shots.length).toBe(6);
  });
  it("puts a repeat at the end of its block", () => {
    const order = drawn(blocked(2));
    const again = withRepeat(order, 0);
    expect(again.shots.map((shot) => shot.block)).toEqual([0, 0, 0, 0, 1, 1, 1]);
    expect(again.shots[3]).toEqual(order.shots[0]);
    expect(order.shots.length).toBe(6);
    expect(() => withRepeat(order, 6)).toThrow(RangeError);
  });
  it("refuses plans that do not fit", () => {
    expect(() => drawn({ kind: "free", countEach: [1, 2] })).toThrow(RangeError);
    expect(() => drawn(blocked(0))).toThrow(RangeError);
    expect(() => drawn({ kind: "williams", countSets: 1 }, 1, ["only"])).toThrow(RangeError);
    expect(() => drawn({ kind: "split", countVisits: 1.5, countEachPerVisit: 1, lieOfCondition: [0, 0, 1] })).toThrow(
      RangeError,
    );
    expect(() => williamsRows(1)).toThrow(RangeError);
  });
});

describe("Williams rows", () => {
  it.each([2, 3, 4, 5, 6, 7, 8, 9])("for %d conditions let each follow each other one equally often", (k) => {
    const pairs = new Map<string, number>();
    for (const row of williamsRows(k)) {
      expect(new Set(row).size).toBe(k);
      for (let i = 1; i < k; i++) pairs.set(`${row[i - 1]}-${row[i]}`, (pairs.get(`${row[i - 1]}-${row[i]}`) ?? 0) + 1);
    }
    expect(pairs.size).toBe(k * (k - 1));
    expect(new Set(pairs.values()).size).toBe(1);
  });
});

describe("what a plan can show", () => {
  it("has the smallest p of an exact test, by counting labellings", () => {
    expect([3, 4, 5, 6, 8].map((n) => smallestFreeP(n, n))).toEqual([2 / 20, 2 / 70, 2 / 252, 2 / 924, 2 / 12870]);
    expect(smallestFreeP(4, 6)).toBe(1 / 210);
    expect([5, 6, 8].map((n) => smallestBlockedP(n, 1))).toEqual([0.0625, 0.03125, 0.0078125]);
    expect([3, 4].map((n) => smallestBlockedP(n, 2))).toEqual([2 / 216, 2 / 1296]);
    expect(binomial(20, 10)).toBe(184756);
    expect(binomial(300, 150) / 9.375970277282e88).toBeCloseTo(1, 9);
  });
  it("is refused with the next plan that works", () => {
    const refused = planVerdict({ plan: blocked(5), countConditions: 2 });
    expect(refused).toMatchObject({
      kind: "refused",
      reach: { smallestP: 0.0625 },
      next: blocked(6),
      nextReach: { smallestP: 0.03125 },
    });
    expect(planVerdict({ plan: blocked(6), countConditions: 2 })).toMatchObject({ kind: "accepted" });
    expect(planVerdict({ plan: blocked(1, 2), countConditions: 4 })).toMatchObject({
      kind: "refused",
      next: blocked(3, 2),
    });
    expect(planVerdict({ plan: { kind: "free", countEach: [3, 3, 8] }, countConditions: 3 })).toMatchObject({
      kind: "refused",
      next: { kind: "free", countEach: [4, 4, 8] },
    });
    expect(planVerdict({ plan: { kind: "williams", countSets: 1 }, countConditions: 2 })).toMatchObject({
      next: { countSets: 3 },
    });
    expect(planVerdict({ plan: blocked(6), countConditions: 2, alphaOfOne: 0.01 })).toMatchObject({ next: blocked(8) });
    expect(() => planVerdict({ plan: blocked(6), countConditions: 2, alphaOfOne: 0 })).toThrow(RangeError);
  });
  it("with one condition has nothing to compare", () => {
    expect(planVerdict({ plan: blocked(3), countConditions: 1 })).toMatchObject({
      kind: "accepted",
      reach: { smallestP: undefined },
    });
    expect(planReach({ kind: "free", countEach: [4] }, 1).smallestP).toBeUndefined();
  });
  it("says when a lie is visited once, and when there are too few shots for words", () => {
    const split = (countVisits: number, lieOfCondition: readonly number[] = [0, 0, 1, 1]): Plan => ({
      kind: "split",
      countVisits,
      countEachPerVisit: 3,
      lieOfCondition,
    });
    expect(planReach(split(1), 4).findings).toEqual(["lie-once", "too-few-for-words"]);
    expect(planReach(split(1, [0, 0, 0, 0]), 4).findings).toEqual(["too-few-for-words"]);
    expect(planReach(split(2), 4)).toMatchObject({ findings: [], smallestP: 2 / 400, smallestPOfLies: undefined });
    expect(planReach(split(4), 4).smallestPOfLies).toBe(2 / 70);
    expect(planReach(split(2, [0, 1, 2, 3]), 4).smallestP).toBeUndefined();
    expect(planVerdict({ plan: split(4), countConditions: 4, alphaOfOne: 0.01 })).toMatchObject({
      next: { countVisits: 5 },
    });
    expect(planReach(blocked(4), 2).findings).toEqual(["too-few-for-words"]);
  });
});

const beside = join(import.meta.dirname, "../../../../../shared/data/checks/statistics");
describe.skipIf(!existsSync(beside))("against the check values beside the repository", () => {
  it("gives the rows of spec/orders.json and planning.json exactly", () => {
    const orders = JSON.parse(readFileSync(join(beside, "spec/orders.json"), "utf8")).cases;
    expect(orders.length).toBe(6);
    for (const one of orders) expect(williamsRows(one.k)).toEqual(one.rows);
    const planning = JSON.parse(readFileSync(join(beside, "planning.json"), "utf8")).cases;
    for (const one of planning)
      if (one.id.startsWith("williams")) expect(williamsRows(one.input.conditions)).toEqual(one.expected.rows);
  });
});
