import { expect, test } from "vitest";
import { handMadeShot } from "./hand-made-shot.ts";
import { rulerValues } from "./ruler-values.ts";
import { sheetModel } from "./sheet-model.ts";

const modelOf = (options: Parameters<typeof handMadeShot>[0] = {}, axes: "turf" | "level" = "turf") =>
  sheetModel(handMadeShot(options), [], { axes });

test("the ruler reads aloud time, event, lead share and push", () => {
  // 800 N sin 5° + 100 N sin²(0.8 π) = 69.7 + 34.5 N.
  const at = rulerValues(modelOf(), -80.4);
  expect(at.ariaText).toBe("minus 80 milliseconds, delivery, lead share 83 percent, push 104 newtons");
  expect([at.event, at.timeText]).toEqual(["delivery", "−80 ms"]);
});

test("values stand above their columns in the columns' units", () => {
  const at = rulerValues(modelOf(), -200);
  expect(at.columns.map(({ id, text }) => `${id} ${text.text}`)).toEqual([
    "travel −3.7 cm",
    "speed 0.049 m/s",
    "push 170 N",
    "ahead 8 N",
    "up 1.002 BW",
  ]);
});

test("each foot's push is the slope's part, by its load share, and what the player adds", () => {
  const at = rulerValues(modelOf(), -200);
  const push = at.feet.map((foot) => foot.slope.targetN + foot.player.targetN);
  expect(push[0]! + push[1]!).toBeCloseTo(169.7, 1);
  expect(at.feet[0]!.slope.targetN + at.feet[1]!.slope.targetN).toBeCloseTo(69.7, 1);
  expect(at.feet.map((foot) => foot.share.text)).toEqual(["76 %", "24 %"]);
  expect(at.feet[0]!.slope.targetN / at.feet[1]!.slope.targetN).toBeCloseTo(0.7614 / 0.2386, 2);
});

test("on level axes, and on a lie flat within its uncertainty, all of the push is the player's", () => {
  for (const model of [modelOf({}, "level"), modelOf({ pitchDeg: 0.3 })]) {
    expect(rulerValues(model, -200).feet.map((foot) => foot.slope.targetN)).toEqual([0, 0]);
  }
});

test("pressure is placed from the middle, and nothing stands where a foot is too light", () => {
  const at = rulerValues(modelOf({ lightS: [3.5, 5] }), 100);
  expect(at.cop).toEqual({ targetM: 0.04, aheadM: expect.closeTo(0.008, 3) });
  expect(at.feet.map((foot) => foot.cop === undefined)).toEqual([false, true]);
  expect(at.sole?.alongM).toBeCloseTo(0.155, 2);
});

test("in a gap nothing is known and nothing is made up", () => {
  const at = rulerValues(modelOf({ gapS: [3.3, 3.32] }), -190);
  expect(at.columns.map(({ text }) => text.text)).toEqual(Array(5).fill("not known"));
  expect(at.ariaText).toBe("minus 190 milliseconds, push not known");
  expect([at.cop, at.sole]).toEqual([undefined, undefined]);
});

test("the ruler stays on the sheet", () => {
  const model = modelOf();
  expect([rulerValues(model, -9999).timeMs, rulerValues(model, 9999).timeMs]).toEqual([-1150, expect.closeTo(650, 6)]);
});

test("without impact times are seconds of the recording", () => {
  const at = rulerValues(modelOf({ without: ["impact"], isTraced: false }), 3000);
  expect([at.timeText, at.sole]).toEqual(["3.00 s", undefined]);
});
