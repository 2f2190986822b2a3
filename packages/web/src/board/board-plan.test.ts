import { expect, test } from "vitest";
import { askedOfCell, askedText, plannedCell } from "./board-plan.ts";

const shot = (intent: string, lieName: string) => ({ intent, lieName });
const times = (count: number, intent: string, lieName: string) =>
  Array.from({ length: count }, () => shot(intent, lieName));

test("a plan that goes through its conditions one by one names the block of a cell", () => {
  const drawn = [...times(9, "low", "flat"), ...times(9, "high", "flat"), ...times(5, "low", "upslope")];
  expect(plannedCell({ drawn }, shot("low", "upslope"))).toEqual({ count: 5, place: "block 3, 5 shots" });
  expect(plannedCell({ drawn }, shot("high", "upslope"))).toBeUndefined();
});

test("a plan in mixed order names the first shot of a cell", () => {
  const drawn = [shot("low", "flat"), shot("high", "flat"), shot("low", "flat")];
  expect(plannedCell({ drawn }, shot("low", "flat"))).toEqual({ count: 2, place: "2 shots, the first as shot 1" });
  expect(plannedCell({ drawn }, shot("high", "flat"))).toEqual({ count: 1, place: "1 shot, the first as shot 2" });
});

test("what was asked of one intent goes before what was asked of all; of other measures and axes nothing is taken", () => {
  const asked = [
    { measure: "lead.share.at.delivery", most: 90 },
    { measure: "lead.share.at.delivery", intent: "low", least: 80 },
    { measure: "both.target.peak", axes: "level" as const, least: 50 },
  ];
  const of = (measure: string, intent: string, axes?: "turf" | "level") =>
    askedOfCell(asked, { measure, axes, intent });
  expect(askedText(of("lead.share.at.delivery", "low"), "%")).toBe("asked: 80 % or more");
  expect(askedText(of("lead.share.at.delivery", "high"), "%")).toBe("asked: 90 % or less");
  expect(of("both.target.peak", "low", "turf")).toBeUndefined();
  expect(askedText(of("both.target.peak", "low", "level"), "N")).toBe("asked: 50 N or more");
  expect(askedText(undefined, "N")).toBe("nothing asked");
});
