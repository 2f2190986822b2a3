import { expect, test } from "vitest";
import { cellBeside } from "./cell-moves.ts";

const wide = { rows: 2, columns: 3, isStacked: false };

test("arrows go to the cell beside, and stay at the edges", () => {
  expect(cellBeside({ row: 0, column: 0 }, "ArrowRight", wide)).toEqual({ row: 0, column: 1 });
  expect(cellBeside({ row: 0, column: 2 }, "ArrowDown", wide)).toEqual({ row: 1, column: 2 });
  expect(cellBeside({ row: 0, column: 2 }, "ArrowRight", wide)).toBeUndefined();
  expect(cellBeside({ row: 0, column: 0 }, "ArrowUp", wide)).toBeUndefined();
  expect(cellBeside({ row: 0, column: 0 }, "Enter", wide)).toBeUndefined();
});

test("where all cells stand under each other, up and down go through all of them", () => {
  const stacked = { ...wide, isStacked: true };
  expect(cellBeside({ row: 0, column: 2 }, "ArrowDown", stacked)).toEqual({ row: 1, column: 0 });
  expect(cellBeside({ row: 1, column: 0 }, "ArrowUp", stacked)).toEqual({ row: 0, column: 2 });
  expect(cellBeside({ row: 1, column: 2 }, "ArrowDown", stacked)).toBeUndefined();
});
