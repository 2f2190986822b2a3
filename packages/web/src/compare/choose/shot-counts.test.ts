import { expect, test } from "vitest";
import { type CountedShot, countedWords, daysOf, firstConditions, shotsOfSide } from "./shot-counts.ts";

let shots: CountedShot[] = [];
const add = (
  intent: string,
  lieName: string,
  count: number,
  label: CountedShot["label"] = "kept",
  day = "2026-03-17",
): void => {
  for (let k = 0; k < count; k++)
    shots.push({
      shotId: `${shots.length}`,
      intent,
      lieName,
      club: "wedge 56",
      sessionId: day,
      label,
      day,
      ordinal: k + 1,
    });
};
shots = [];
add("low", "flat", 6);
add("low", "flat", 2, "mishit");
add("high", "flat", 3);
add("low", "upslope", 7, "kept", "2026-03-10");

test("words are counted among kept shots under the other facts that are chosen", () => {
  expect(countedWords(shots, {}, "intent")).toEqual([
    { word: "low", countKept: 13 },
    { word: "high", countKept: 3 },
  ]);
  expect(countedWords(shots, { intent: "high", lieName: "flat" }, "intent")).toEqual([
    { word: "low", countKept: 6 },
    { word: "high", countKept: 3 },
  ]);
  expect(countedWords(shots, { intent: "high" }, "lieName")).toContainEqual({ word: "upslope", countKept: 0 });
});

test("a side holds its mishits too; days are those of kept shots", () => {
  expect(shotsOfSide(shots, { intent: "low", lieName: "flat" })).toHaveLength(8);
  expect(daysOf(shots)).toEqual(["2026-03-10", "2026-03-17"]);
});

test("one begins with the two conditions that have the most kept shots, the one first hit as A", () => {
  expect(firstConditions(shots)).toEqual([
    { intent: "low", lieName: "flat" },
    { intent: "low", lieName: "upslope" },
  ]);
  expect(firstConditions(shots.slice(0, 3))).toBeUndefined();
});
