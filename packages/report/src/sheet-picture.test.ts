import { expect, test } from "vitest";
import { handMadeShot } from "./hand-made-shot.ts";
import { sheetModel } from "./sheet-model.ts";
import { thinned } from "./thinned.ts";

/** Columns as text, time falling, target on the right: `|` zero, `:` slope's share, `o` the curve. */
function picture(options: Parameters<typeof handMadeShot>[0], rows: number, width: number): string[] {
  const domains = { speed: { min: -0.2, max: 0.2 }, push: { min: -20, max: 180 } };
  const model = sheetModel(handMadeShot(options), [], { axes: "turf", columns: ["speed", "push"], domains });
  const lines = Array.from({ length: rows }, () => "");
  for (const { values, domain, zero, base } of model.columns) {
    const x = (value: number): number => Math.round(((value - domain.min) / (domain.max - domain.min)) * (width - 1));
    const cells = Array.from({ length: rows }, () => Array<string>(width).fill(" "));
    for (const row of cells) {
      row[x(zero)] = "|";
      if (base !== undefined) row[x(base.value)] = ":";
    }
    for (const k of thinned(values, rows)) {
      const row = Math.ceil(((k + 1) * rows) / values.length) - 1;
      if (!Number.isNaN(values[k]!)) cells[row]![x(values[k]!)] = "o";
    }
    cells.forEach((row, k) => {
      lines[k] += `${row.join("")}  `;
    });
  }
  return lines.map((line) => line.trimEnd());
}

/** Speed on the left, push on the right: it leans left in the backswing, right in the downswing, left again after impact. */
const FALLING = [
  "          o              |      o",
  "          o              |      o",
  "         oo              |   o  o",
  "       o o|              |   o  :",
  "      oo  |              |   o o:",
  "      o   |              |      o",
  "      o   |              |      o",
  "      o   |              |      oo",
  "      o  o|              |      :o      o",
  "          o    o         |      :        oo",
  "          |    o  o      |      : o      o",
  "          |       oo     |     o:o",
  "          |      o o     |  o  o:",
  "          |   o  o       | oo   :",
  "          |  oo          |  o  o:",
  "          | oo           |     oo",
  "          | o            |      o",
  "          | o            |      o",
];

test("the push falls back over the slope's share while the speed stays right of zero", () => {
  expect(picture({}, 18, 21)).toEqual(FALLING);
});

test("a gap is a gap", () => {
  const rows = picture({ gapS: [3.3, 3.45] }, 18, 21);
  expect(rows.filter((row) => !row.includes("o"))).toHaveLength(1);
});
