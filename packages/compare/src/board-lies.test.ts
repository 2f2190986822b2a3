import { random } from "@underfoot/domain";
import { expect, test } from "vitest";
import { boardOf } from "./board.ts";
import { boardLies } from "./board-lies.ts";
import { shotsOf } from "./hand-made-shots.ts";

const on = (lieName: string, pitchDeg: number, sessionId: string, values: readonly number[]) =>
  shotsOf("stock", { "lead.share.at.impact": values }, { lieName, pitchDeg, sessionId, day: `2026-03-${sessionId}` });

const SIX = [80, 82, 81, 79, 83, 80];

test("a lie of one name stays one column although its angle was read a tenth differently on another day", () => {
  const shots = [
    ...on("flat", -0.1, "10", SIX),
    ...on("flat", 0.1, "17", SIX),
    ...on("upslope", 5.1, "10", SIX),
    ...on("upslope", 4.9, "17", SIX),
  ];
  const board = boardOf({ shots, measure: "lead.share.at.impact", axes: "turf", seed: 1, streams: random });
  expect(board.lies.map(({ name, isFlat }) => [name, isFlat])).toEqual([
    ["flat", true],
    ["upslope", false],
  ]);
  expect(board.lies[1]?.pitchDeg).toBeCloseTo(5, 12);
  expect(board.cells.map(({ n }) => n)).toEqual([12, 12]);
  expect(board.looks.countPairs).toBe(1);
});

test("lies stand from down to up, and one that is only planned is there too", () => {
  const shots = [...on("upslope", 5, "10", SIX), ...on("downslope", -4, "10", SIX)];
  expect(boardLies(shots, [{ lieName: "flat" }]).map(({ name }) => name)).toEqual(["downslope", "flat", "upslope"]);
});

test("lies that nobody named stand apart by their angles, and nearly level counts as flat", () => {
  const unnamed = (pitchDeg: number) =>
    shotsOf("stock", { "lead.share.at.impact": SIX }, { pitchDeg, sessionId: `${pitchDeg}` });
  expect(boardLies([...unnamed(0.5), ...unnamed(3)]).map(({ key, isFlat }) => [key, isFlat])).toEqual([
    ["0.5 0", true],
    ["3 0", false],
  ]);
});

test("a cell tells when its events were on average", () => {
  const shots = on("flat", 0, "10", SIX).map((shot, k) => ({ ...shot, eventsMs: { delivery: -40 - k, impact: 0 } }));
  const [cell] = boardOf({ shots, measure: "lead.share.at.impact", axes: "turf", seed: 1, streams: random }).cells;
  expect(cell?.eventsMs).toEqual({ delivery: -42.5, impact: 0 });
});
