import { expect, test } from "vitest";
import { groupName, groupNames } from "./group-name.ts";

const shots = [{ ordinal: 3, day: "2026-03-10" }];
const later = [{ ordinal: 1, day: "2026-03-17" }];

test("shots are called by what they were asked for, days in words", () => {
  expect(groupName({ asked: { sessionId: "s", lieName: "flat" }, shots })).toBe("flat, 10 Mar 2026");
  expect(groupName({ asked: { shotIds: ["x"] }, shots })).toBe("shot 3 of 10 Mar 2026");
  expect(groupName({ asked: { fromDay: "2026-03-01", toDay: "2026-03-31", pitchDeg: [2, 6] }, shots })).toBe(
    "pitch 2 to 6°, from 1 Mar 2026, to 31 Mar 2026",
  );
  expect(groupName({ asked: {}, shots })).toBe("all shots");
});

test("two sides of one session or of one day: the day is not repeated", () => {
  const flat = { asked: { sessionId: "s", lieName: "flat" }, shots };
  const up = { asked: { sessionId: "s", lieName: "upslope" }, shots };
  expect(groupNames(flat, up)).toEqual(["flat", "upslope"]);
  const afternoon = { ...up, asked: { ...up.asked, sessionId: "t" } };
  expect(groupNames(flat, afternoon)).toEqual(["flat", "upslope"]);
  const since = (lieName: string) => ({ asked: { lieName, fromDay: "2026-03-01" }, shots });
  expect(groupNames(since("flat"), since("upslope"))).toEqual(["flat", "upslope"]);
});

test("days that differ are named, and so is the day of a side that has no other name", () => {
  const flat = { asked: { sessionId: "s", lieName: "flat" }, shots };
  expect(groupNames(flat, { asked: { sessionId: "t", lieName: "flat" }, shots: later })).toEqual([
    "flat, 10 Mar 2026",
    "flat, 17 Mar 2026",
  ]);
  expect(groupNames(flat, { asked: { lieName: "upslope" }, shots: later })).toEqual(["flat, 10 Mar 2026", "upslope"]);
  expect(groupNames(flat, { asked: { sessionId: "s" }, shots })).toEqual(["flat, 10 Mar 2026", "10 Mar 2026"]);
  expect(groupNames({ asked: { fromDay: "2026-03-01" }, shots }, { asked: { fromDay: "2026-03-09" }, shots })).toEqual([
    "from 1 Mar 2026",
    "from 9 Mar 2026",
  ]);
});

test("the same words on both sides: a letter each", () => {
  const flat = { asked: { lieName: "flat" }, shots };
  expect(groupNames(flat, flat)).toEqual(["flat, A", "flat, B"]);
});
