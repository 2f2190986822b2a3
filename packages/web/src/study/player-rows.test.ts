import type { StudyPlayer } from "@underfoot/compare";
import { expect, test } from "vitest";
import { playerRows } from "./player-rows.ts";

const player = (code: string, own: number, pulled?: number): StudyPlayer => ({
  ...{ player: code, n: [5, 5], own, ownLow: own - 2, ownHigh: own + 2 },
  ...(pulled === undefined ? {} : { pulled: { value: pulled, low: pulled - 1, high: pulled + 1 } }),
});

test("sorted by the pulled estimate, not by name and not by the own one; who has none stands last", () => {
  const { rows } = playerRows({
    players: [player("A", Number.NaN), player("B", 9, 4), player("C", 5, 5), player("D", -3, -2)],
  });
  expect(rows.map((row) => row.player)).toEqual(["C", "B", "D", "A"]);
});

test("one scale holds zero and every estimate; an interval far wider than the rest is cut off at its edge", () => {
  const wide = { ...player("B", 6, 5), ownLow: -400, ownHigh: 412 };
  const { domain, share, isOutside } = playerRows({ players: [player("A", 8, 7), wide] });
  expect(domain.min).toBeLessThanOrEqual(0);
  expect(domain.max).toBeGreaterThanOrEqual(10);
  expect(domain.max).toBeLessThan(40);
  expect(isOutside(wide.ownHigh)).toBe(true);
  expect([share(wide.ownLow), share(wide.ownHigh)]).toEqual([0, 1]);
});

test("a lone player without a difference still has a scale", () => {
  const { domain } = playerRows({ players: [player("A", Number.NaN)] });
  expect(domain.max).toBeGreaterThan(domain.min);
});
