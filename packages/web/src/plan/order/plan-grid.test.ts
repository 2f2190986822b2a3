import { describe, expect, test } from "vitest";
import {
  NO_PLAN,
  planGrid,
  rangeFault,
  type SessionPlanShape,
  withClub,
  withCount,
  withCountOfEach,
  withLie,
  withoutIntent,
  withoutLie,
} from "./plan-grid.ts";

const lie = (name: string, pitchDeg: number) => ({
  name,
  pitchDeg,
  rollDeg: 0,
  source: "inclinometer" as const,
  sdDeg: 0.2,
});
const lies = [lie("flat", 0), lie("up", 5)];
const empty: SessionPlanShape = { ...NO_PLAN, lies };
const counted = [
  { intent: "low", lieName: "flat", count: 6, club: "58" },
  { intent: "high", lieName: "flat", count: 6, club: "58" },
  { intent: "low", lieName: "up", count: 4, club: "58" },
].reduce<SessionPlanShape>((plan, at) => withCount(plan, at), empty);

describe("the grid of intents by lies", () => {
  test("adds up by rows, by columns and in all, and keeps a row that is only offered", () => {
    const grid = planGrid(counted, ["low", "steep"]);
    expect(grid.intents).toEqual(["low", "steep", "high"]);
    expect(grid.cells.map(({ total }) => total)).toEqual([10, 0, 6]);
    expect(grid.lieTotals).toEqual([12, 4]);
    expect(grid.total).toBe(16);
    expect(grid.club).toBe("58");
  });

  test("a count of 0 takes the condition out; a changed one keeps its place and its club", () => {
    const changed = withCount(counted, { intent: "high", lieName: "flat", count: 8, club: "54" });
    expect(changed.conditions[1]).toEqual({ intent: "high", lieName: "flat", count: 8, club: "58" });
    const gone = withCount(counted, { intent: "high", lieName: "flat", count: 0, club: undefined });
    expect(gone.conditions.map(({ intent, lieName }) => `${intent} ${lieName}`)).toEqual(["low flat", "low up"]);
    expect(withCountOfEach(counted, 12).conditions.map(({ count }) => count)).toEqual([12, 12, 12]);
  });

  test("a club is said for all or for one condition, and can be taken away", () => {
    const one = withClub(counted, "54", { intent: "low", lieName: "up" });
    expect(planGrid(one)).toMatchObject({ club: undefined, hasOneClub: false });
    expect(withClub(one, "50").conditions.every(({ club }) => club === "50")).toBe(true);
    expect("club" in (withClub(one, "").conditions[0] ?? {})).toBe(false);
  });

  test("a lie that is renamed takes its conditions along; one that goes takes them away", () => {
    const renamed = withLie(counted, 1, { ...lie("bank", 6) });
    expect(renamed.conditions.map(({ lieName }) => lieName)).toEqual(["flat", "flat", "bank"]);
    expect(withLie(counted, 2, lie("down", -4)).lies).toHaveLength(3);
    expect(withoutLie(counted, 0)).toMatchObject({ lies: [lie("up", 5)], conditions: [{ lieName: "up" }] });
  });

  test("an intent that goes takes what was asked of it", () => {
    const asked = [
      { measure: "lead.share.at.delivery", least: 80, intent: "low" },
      { measure: "lead.share.at.delivery", least: 70 },
    ];
    const without = withoutIntent({ ...counted, asked }, "low");
    expect(without.conditions).toHaveLength(1);
    expect(without.asked).toEqual([{ measure: "lead.share.at.delivery", least: 70 }]);
  });
});

test("a range must leave something", () => {
  expect(rangeFault(undefined, undefined)).toMatch(/^Say at least/);
  expect(rangeFault(80, 70)).toMatch(/nothing could be as asked/);
  expect(rangeFault(70, 70)).toBeUndefined();
  expect(rangeFault(undefined, 80)).toBeUndefined();
});
