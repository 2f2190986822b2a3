import type { Board, BoardCell, UsualCurve } from "@underfoot/compare";
import { expect, test } from "vitest";
import { askedAtMs, boardScale, lineOf } from "./cell-scale.ts";

const curve = (mean: readonly number[], parts: Partial<UsualCurve> = {}): UsualCurve => ({
  ...{ column: "lead.share", title: "Lead foot load share", unit: "%", status: "band", mean, low: [], high: [] },
  ...{ slopeShare: [], factor: 3, pointwiseFactor: 2, n: 6 },
  ...parts,
});
const cell = (parts: Partial<BoardCell>): BoardCell => ({
  ...{ intent: "low", lie: "flat", state: "ok", shotIds: [], n: 0, mean: Number.NaN, values: [], slopeShare: 0 },
  tally: { kept: 0, mishit: 0, "set-aside": 0, invalid: 0 },
  usual: { kind: "withheld", reason: "too-few", n: [0], needed: 5 },
  ...{ eventsMs: {}, strikes: [] },
  ...parts,
});
const board = (cells: readonly BoardCell[]): Board => ({
  ...{ kind: "board", column: "lead.share.at.delivery", measure: "lead.share.at.delivery", axes: undefined },
  ...{ title: "Lead foot load share at delivery", unit: "%", decimals: 1, intents: [], lies: [], clubs: [] },
  ...{ cells, grid: { kind: "impact", firstMs: -4, stepMs: 2 }, levelOfOne: 0.95, seed: 1 },
  looks: { countMeasures: 1, countPairs: 1, times: 1 },
});

test("one scale holds the curves of all cells, their bands, and what was asked", () => {
  const cells = [
    cell({ curve: curve([60, 70], { low: [55, 65], high: [65, 75] }) }),
    cell({ curve: curve([62, 66], { status: "too-few", singles: [[62, 66]] }) }),
  ];
  const { min, max } = boardScale(board(cells), [{ measure: "lead.share.at.delivery", least: 90 }]);
  expect(min).toBeLessThanOrEqual(55);
  expect(max).toBeGreaterThanOrEqual(90);
  expect(boardScale(board(cells), []).max).toBeLessThan(90);
});

test("without curves the scale is that of the values", () => {
  const { min, max } = boardScale(board([cell({ values: [41, Number.NaN, 52] })]), []);
  expect([min <= 41, max >= 52, max - min < 40]).toEqual([true, true, true]);
});

test("an ask stands at the measure's event, of a peak where the mean curve is largest, else nowhere", () => {
  const own = cell({ curve: curve([1, 3, Number.NaN, 2, 0]), eventsMs: { delivery: -62 } });
  const { grid } = board([]);
  expect(askedAtMs({ statistic: "at", event: "delivery" }, own, grid)).toBe(-62);
  expect(askedAtMs({ statistic: "at", event: "top" }, own, grid)).toBeUndefined();
  expect(askedAtMs({ statistic: "peak", event: undefined }, own, grid)).toBe(-2);
  expect(askedAtMs({ statistic: "min", event: undefined }, own, grid)).toBe(4);
  expect(askedAtMs({ statistic: "impulse", event: undefined }, own, grid)).toBeUndefined();
});

test("a foot's curve has the foot's colour and dashes, those of both feet have the direction's", () => {
  expect(lineOf("lead.share")).toEqual({ token: "lead", dash: undefined });
  expect(lineOf("trail.target turf")).toEqual({ token: "trail", dash: "8 5" });
  expect(lineOf("both.speedTarget turf").token).toBe("target");
  expect(lineOf("both.travelAhead level")).toEqual({ token: "ahead", dash: "11 4 2 4" });
  expect(lineOf("both.up level").token).toBe("up");
  expect(lineOf("both.turn").token).toBe("both");
});
