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

test("a cell's band and its difference from the flat on a textbook's data", () => {
  // Student's sleep data (Biometrika 6, 1908; in R as `sleep`), hours gained: group 1 as the flat, group 2 as the other lie.
  const one = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2];
  const two = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
  const lie = (name: string, pitchDeg: number, values: readonly number[], ordinals: readonly number[]) =>
    shotsOf("stock", { [PUSH]: values }, { lieName: name, pitchDeg, ordinals });
  const shots = [
    ...lie("flat", 0, one, [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]),
    ...lie("up", 4, two, [11, 12, 13, 14, 15, 16, 17, 18, 19, 20]).map((shot) => ({
      ...shot,
      shotId: `up ${shot.shotId}`,
    })),
  ];
  const [onFlat, onUp] = board(shots).cells;
  expect(onFlat?.mean).toBeCloseTo(0.75, 12);
  expect(onUp?.mean).toBeCloseTo(2.33, 12);
  // 0.75 ± t(0.975; 9) s sqrt(1 + 1/10) with t = 2.262157 (table of Student's t) and s = 1.789010.
  expect(onFlat?.usual).toMatchObject({ low: expect.closeTo(-3.4946, 3), high: expect.closeTo(4.9946, 3) });
  // t.test(extra ~ group, data = sleep) of R 4, from memory: Welch's interval -3.3654832 to 0.2054832 for 1 minus 2.
  expect(onUp?.againstFlat?.raw).toMatchObject({
    low: expect.closeTo(-0.2054832, 6),
    high: expect.closeTo(3.3654832, 6),
  });
});
