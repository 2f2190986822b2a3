import type { PointShape } from "@underfoot/protocol";
import { expect, test } from "vitest";
import { earlierConditions } from "./earlier-values.ts";

const point = (value: number | null, part: Partial<PointShape> = {}): PointShape => ({
  shotId: `k${value}`,
  sessionId: "s1",
  day: "2026-03-09",
  ordinal: 1,
  label: "kept",
  intent: "low",
  lieName: "flat",
  value,
  sigma: 0.2,
  ...part,
});

test("earlier shots are grouped by condition and session, those with most shots first", () => {
  const points = [
    point(80),
    point(70, { intent: "high" }),
    point(82),
    point(60, { sessionId: "s2", day: "2026-03-10" }),
    point(71, { intent: "high", club: "58" }),
  ];
  const found = earlierConditions(points, "today");
  expect(found.map(({ values }) => values)).toEqual([[80, 82], [70], [60], [71]]);
  expect(found[0]?.words).toBe("low on flat, 2026-03-09");
});

test("shots of today, mishits, shots without a value or without a condition say nothing about the scatter", () => {
  const points = [
    point(1, { sessionId: "today" }),
    point(2, { label: "mishit" }),
    point(null),
    point(3, { intent: undefined } as Partial<PointShape>),
  ];
  expect(earlierConditions(points, "today")).toEqual([]);
});
