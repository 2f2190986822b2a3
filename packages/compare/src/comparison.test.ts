import { random } from "@underfoot/domain";
import { expect, test } from "vitest";
import { comparison } from "./comparison.ts";
import { shotsOf } from "./hand-made-shots.ts";

const LEAD = "lead.share.at.impact";
const PUSH = "both.target.peak turf";

test("two conditions of one lie: difference, interval, p and verdict", () => {
  const a = { name: "low", shots: shotsOf("low", { [LEAD]: [70, 72, 71, 73, 70, 72] }) };
  const b = { name: "high", shots: shotsOf("high", { [LEAD]: [78, 80, 79, 81, 80, 79] }) };
  const found = comparison({ a, b, measures: [LEAD], axes: "turf", seed: 1, streams: random });
  const [row] = found.measures;
  expect(row).toMatchObject({ verdict: "beyondScatter", lozenge: "beyond", unit: "%", slopeShare: 0, sigmaShared: 0 });
  expect(row?.a).toMatchObject({ n: 6 });
  // All of one side above all of the other: 2 of the C(12, 6) = 924 labellings are as extreme.
  expect(row?.p).toBeCloseTo(2 / 924, 12);
  expect(found.summary).toEqual({ countMeasures: 1, expectedByChance: 0.05, countAlone: 1, countBeyond: 1 });
});

test("between lies the slope's share is taken off before anything is judged", () => {
  const values = [100, 103, 98, 101, 99, 102];
  const up = { pitchDeg: 4, slopeShare: 50 };
  const a = { name: "flat", shots: shotsOf("flat", { [PUSH]: values }) };
  const b = { name: "up", shots: shotsOf("up", { [PUSH]: values.map((value) => value + 50) }, up) };
  const [row] = comparison({ a, b, measures: [PUSH], axes: "turf", seed: 1, streams: random }).measures;
  expect(row?.raw).toMatchObject({ value: 50 });
  expect(row?.slopeShare).toBe(50);
  expect(row?.freed).toMatchObject({ value: 0 });
  expect(row).toMatchObject({ verdict: "withinScatter", lozenge: "within" });
});

test("lies that an inclinometer cannot tell apart are one lie in words; those it can are said", () => {
  const values = [70, 72, 71, 73, 70, 72];
  const onTwo = (secondDeg: number) => {
    const flat = [
      ...shotsOf("low", { [LEAD]: values }, { pitchDeg: 0.1, lieName: "flat" }),
      ...shotsOf(
        "low",
        { [LEAD]: values },
        { pitchDeg: secondDeg, lieName: "flat", ordinals: [21, 23, 25, 27, 29, 31] },
      ).map((shot) => ({ ...shot, shotId: `${shot.shotId}-again` })),
    ];
    const b = { name: "high", shots: shotsOf("high", { [LEAD]: values }, { pitchDeg: 5, lieName: "upslope" }) };
    return comparison({ a: { name: "low", shots: flat }, b, measures: [LEAD], axes: "turf", seed: 1, streams: random });
  };
  const codes = (secondDeg: number) => onTwo(secondDeg).notices.map(({ code }) => code);
  expect(codes(0.4)).not.toContain("several-lies");
  expect(codes(0.4)).toContain("between-lies");
  expect(onTwo(1.2).notices).toContainEqual({ code: "several-lies", sides: ["a"] });
});
