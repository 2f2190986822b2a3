import { random } from "@underfoot/domain";
import { expect, test } from "vitest";
import { comparison } from "./comparison.ts";
import { shotsOf } from "./hand-made-shots.ts";
import { allColumns } from "./row-of-measure.ts";

const COLUMNS = allColumns("turf").slice(0, 40);
const LOOKED_AT = COLUMNS.slice(0, 6);

/** 7 and 7 shots of 40 measures without a difference, those of B scattered so many times as much. */
function compared(ratio: number, measures: readonly string[] = LOOKED_AT) {
  const stream = random(12, "scatter");
  const values = (sd: number): Record<string, number[]> =>
    Object.fromEntries(COLUMNS.map((column) => [column, Array.from({ length: 7 }, () => sd * stream.normal())]));
  return comparison({
    a: { name: "a", shots: shotsOf("even", values(1)) },
    b: { name: "b", shots: shotsOf("b", values(ratio)) },
    ...{ measures, axes: "turf", seed: 1, streams: random, detail: "verdicts" },
  }).measures;
}

test("where the sides scatter differently as a whole, every measure takes the larger of max-T and Holm of Welch", () => {
  expect(new Set(compared(2).map(({ adjustedBy }) => adjustedBy))).toEqual(new Set(["max-t-and-holm"]));
  expect(new Set(compared(0.5).map(({ adjustedBy }) => adjustedBy))).toEqual(new Set(["max-t-and-holm"]));
  expect(compared(1).filter(({ adjustedBy }) => adjustedBy === "max-t").length).toBeGreaterThan(3);
});

test("it hangs on all the shots hold, not on what is looked at", () => {
  const [few] = compared(2, LOOKED_AT.slice(0, 1));
  expect(few?.adjustedBy).toBe("max-t-and-holm");
});
