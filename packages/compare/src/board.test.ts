import { random } from "@underfoot/domain";
import { expect, test } from "vitest";
import { type BoardOptions, boardOf } from "./board.ts";
import type { ComparedShot } from "./compared-shot.ts";
import { shotsOf } from "./hand-made-shots.ts";

const PUSH = "both.target.peak turf";
const numbers = (seed: number, mean: number, count = 8): number[] => {
  const stream = random(seed, "board");
  return Array.from({ length: count }, () => mean + stream.normal());
};
const flat = { lieName: "flat", pitchDeg: 0 };
const up = { lieName: "up", pitchDeg: 4, slopeShare: 50 };
const down = { lieName: "down", pitchDeg: -4, slopeShare: -50 };
let place = 0;
/** Shots of one intent on one lie, hit after all that came before. */
const cell = (intent: string, of: readonly number[], facts: Parameters<typeof shotsOf>[2]): ComparedShot[] =>
  shotsOf(intent, { [PUSH]: of }, { ...facts, ordinals: of.map(() => ++place) }).map((shot, k) => ({
    ...shot,
    shotId: `${intent}-${facts?.lieName}-${k}`,
    result: { strikeMm: [k, -k] },
  }));
const board = (shots: readonly ComparedShot[], more: Partial<BoardOptions> = {}) =>
  boardOf({ shots, measure: PUSH, axes: "turf", seed: 1, streams: random, ...more });

const all = [
  ...cell("stock", numbers(1, 100), flat),
  ...cell("stock", numbers(2, 150), up),
  ...cell("stock", numbers(3, 70), down),
  ...cell("low", numbers(4, 120, 3), flat),
  ...cell("low", numbers(5, 170, 2), { ...up, labels: ["mishit", "mishit"] }),
];

test("intents down, lies across from down to up, every cell with its state", () => {
  const found = board(all, { planned: [{ intent: "high", lieName: "flat" }] });
  expect(found.intents).toEqual(["stock", "low", "high"]);
  expect(found.lies.map(({ name, isFlat }) => [name, isFlat])).toEqual([
    ["down", false],
    ["flat", true],
    ["up", false],
  ]);
  expect(found.cells.map(({ intent, lie, state }) => [intent, lie, state])).toEqual([
    ["stock", "down", "ok"],
    ["stock", "flat", "ok"],
    ["stock", "up", "ok"],
    ["low", "down", "not-hit"],
    ["low", "flat", "too-few"],
    ["low", "up", "only-mishits"],
    ["high", "down", "not-hit"],
    ["high", "flat", "not-hit"],
    ["high", "up", "not-hit"],
  ]);
  const mishits = found.cells.find(({ state }) => state === "only-mishits");
  expect(mishits).toMatchObject({ tally: { kept: 0, mishit: 2 }, n: 0 });
  expect(mishits?.strikes).toHaveLength(2);
});

test("against the flat the slope's share is taken off: gravity alone is within, what the player adds is beyond", () => {
  const [onDown, onFlat, onUp] = board(all).cells;
  expect(onFlat?.againstFlat).toBeUndefined();
  expect(onUp?.againstFlat).toMatchObject({ slopeShare: 50, verdict: "withinScatter", lozenge: "within" });
  expect(onDown?.againstFlat).toMatchObject({ slopeShare: -50, verdict: "beyondScatter", lozenge: "beyond" });
  expect(onDown?.mean).toBeGreaterThan(onDown?.againstFlat?.allowedHigh ?? Number.NaN);
  expect(onUp?.mean).toBeLessThan(onUp?.againstFlat?.allowedHigh ?? Number.NaN);
});

test("the cells are one family: p is Holm's over those that were compared", () => {
  const found = board(all);
  const compared = found.cells.flatMap(({ againstFlat }) =>
    againstFlat && againstFlat.pMethod !== "none" ? [againstFlat] : [],
  );
  expect(compared).toHaveLength(2);
  const smallest = Math.min(...compared.map(({ p }) => p));
  expect(Math.min(...compared.map(({ adjustedP }) => adjustedP))).toBeCloseTo(2 * smallest, 12);
  expect(found.looks.countPairs).toBe(4);
});

test("without a flat lie nothing is compared", () => {
  const found = board(all.filter(({ lieName }) => lieName !== "flat"));
  expect(found.cells.every(({ againstFlat }) => againstFlat === undefined)).toBe(true);
});
