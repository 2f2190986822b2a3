import { expect, test } from "vitest";
import { neededText, outcomeDomains, outcomeDots, SHAPES, shapedConditions } from "./outcome-dots.ts";

const CONDITIONS = [
  { intent: "low", lie: "flat", n: 4 },
  { intent: "low", lie: "flat", n: 5 },
  { intent: "low", lie: "up 5", club: "wedge 50", n: 3 },
];
const points = (values: readonly number[], of: (k: number) => { outcome: number; condition?: number }) =>
  values.map((value, k) => {
    const { outcome, condition = 0 } = of(k);
    return { shotId: `s${k}`, value, outcome, condition, isMishit: outcome === 1 };
  });

test("the same condition on two days has one shape and one name; others have shapes of their own", () => {
  expect(shapedConditions(CONDITIONS)).toEqual([
    { name: "low, flat", shape: "circle", countShots: 9 },
    { name: "low, up 5, wedge 50", shape: "square", countShots: 3 },
  ]);
  const many = Array.from({ length: 9 }, (_, k) => ({ lie: `lie ${k}`, n: 1 }));
  expect(shapedConditions(many).at(-1)?.shape).toBe(SHAPES.at(-1));
});

test("a shot without value or result is no dot", () => {
  const all = points([1, Number.NaN, 3], (k) => ({ outcome: k === 2 ? Number.NaN : 0 }));
  expect(outcomeDots({ points: all }, { outcome: "carry", conditions: CONDITIONS }, 1)).toHaveLength(1);
});

test("on a line of yes or no dots make room for each other; on a scale they stand where they are", () => {
  const all = points([5, 5, 5.1, 9, 5], (k) => ({ outcome: k === 4 ? 1 : 0, condition: 2 }));
  const asides = (outcome: "mishit" | "carry") =>
    outcomeDots({ points: all }, { outcome, conditions: CONDITIONS }, 0.5).map(({ aside }) => aside);
  expect(asides("mishit")).toEqual([0, 1, -1, 0, 0]);
  expect(asides("carry")).toEqual([0, 0, 0, 0, 0]);
});

test("both scales hold every dot", () => {
  const dots = outcomeDots(
    { points: points([41, 47, 99], (k) => ({ outcome: -16 + k })) },
    { outcome: "strikeToe", conditions: CONDITIONS },
    1,
  );
  const { across, up } = outcomeDomains(dots);
  expect([across.min <= 41, across.max >= 99, up.min <= -16, up.max >= -14]).toEqual([true, true, true, true]);
});

test("says how many are still needed: eight for a number, ten for words, four of each for mishits", () => {
  const dots = (count: number, outcome: number | ((k: number) => number) = 0) =>
    outcomeDots(
      {
        points: points(
          Array.from({ length: count }, (_, k) => k),
          (k) => ({ outcome: typeof outcome === "number" ? outcome : outcome(k) }),
        ),
      },
      { outcome: "carry", conditions: CONDITIONS },
      0,
    );
  expect(neededText(dots(7), "carry")).toBe(
    "7 shots with a known result: only the dots are shown. A number needs 1 more shot, words need 3 more shots.",
  );
  expect(neededText(dots(8), "carry")).toBe("8 shots with a known result: words need 2 more shots.");
  expect(neededText(dots(10), "carry")).toBe("");
  expect(
    neededText(
      dots(12, (k) => (k < 3 ? 1 : 0)),
      "mishit",
    ),
  ).toBe("3 mishits and 9 clean shots: a number needs 4 of each, and 10 together for words.");
  expect(
    neededText(
      dots(12, (k) => (k < 4 ? 1 : 0)),
      "mishit",
    ),
  ).toBe("");
});
