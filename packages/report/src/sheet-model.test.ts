import { expect, test } from "vitest";
import { handMadeShot } from "./hand-made-shot.ts";
import { rulerValues } from "./ruler-values.ts";
import { sheetModel } from "./sheet-model.ts";

test("the sheet shows 150 ms before start to 150 ms after finish, from impact", () => {
  const model = sheetModel(handMadeShot(), [], { axes: "turf" });
  expect([model.time.startMs, model.time.endMs]).toEqual([-1150, 650]);
  expect(model.timesMs.length).toBe(901);
  expect(model.columns.map((column) => column.id)).toEqual(["travel", "speed", "push", "ahead", "up"]);
});

test("the ruler reads aloud time, event, lead share and push", () => {
  const model = sheetModel(handMadeShot(), [], { axes: "turf" });
  const at = rulerValues(model, -80.4);
  expect(at.ariaText).toBe("minus 80 milliseconds, delivery, lead share 83 percent, push 104 newtons");
});
