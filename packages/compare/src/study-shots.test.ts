import { random } from "@underfoot/domain";
import { expect, test } from "vitest";
import { shotsOf } from "./hand-made-shots.ts";
import { studyOf } from "./study.ts";

const PUSH = "both.target.peak turf";
const A = [1, 2, 3, 3];
const B = [4, 6, 8, 9];

/** Invented players of the same shots at levels of their own, each with a reaction of its own. */
function studied(count: number, pitchDegOf: (player: number, side: "a" | "b") => number = () => 0) {
  const sides = (["a", "b"] as const).map((side) => ({
    name: side,
    shots: Array.from({ length: count }, (_, k) =>
      shotsOf(
        side,
        { [PUSH]: (side === "a" ? A : B).map((value) => value + 30 * k + (side === "b" ? k % 3 : 0)) },
        { player: `P${k + 1}`, sessionId: `s${k + 1}`, pitchDeg: pitchDegOf(k, side), slopeShare: 1 },
      ),
    ).flat(),
  }));
  const [a, b] = sides;
  if (a === undefined || b === undefined) throw new RangeError("two sides");
  return studyOf({ a, b, measures: [PUSH], axes: "turf", seed: 1, streams: random });
}

test("a player's own difference carries Welch's interval", () => {
  const [first] = studied(3).measures[0]?.players ?? [];
  expect(first?.own).toBeCloseTo(4.5, 12);
  // SciPy 1.17.1, ttest_ind([4, 6, 8, 9], [1, 2, 3, 3], equal_var=False).confidence_interval()
  expect(first?.ownLow).toBeCloseTo(1.1732276143402793, 9);
  expect(first?.ownHigh).toBeCloseTo(7.826772385659721, 9);
});

test("without a model a shot is fitted by the mean of the player's own shots of that side", () => {
  const shots = studied(3).measures[0]?.shots ?? [];
  expect(shots).toHaveLength(24);
  expect(shots.filter(({ player, side }) => player === "P2" && side === "b").map(({ fitted }) => fitted)).toEqual(
    Array(4).fill(6.75 + 30 + 1),
  );
});

test("by the model what is left over has no side: it averages out over the shots of either", () => {
  const row = studied(8).measures[0];
  expect(row?.status).toBe("players");
  for (const side of ["a", "b"]) {
    const left = (row?.shots ?? []).filter((shot) => shot.side === side).map(({ value, fitted }) => value - fitted);
    expect(left).toHaveLength(32);
    // Balanced cells: the condition's means are fitted exactly, whatever the players are pulled to.
    expect(left.reduce((sum, one) => sum + one, 0) / 32).toBeCloseTo(0, 6);
    expect(Math.max(...left.map(Math.abs))).toBeLessThan(4);
  }
});

test("lies that differ between players only are no difference of lies; within a player they are", () => {
  expect(studied(6, (player) => player / 10).isBetweenLies).toBe(false);
  expect(studied(6, (_, side) => (side === "a" ? 0 : 4)).isBetweenLies).toBe(true);
});
