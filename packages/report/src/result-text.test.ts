import { expect, test } from "vitest";
import { lieNameText, resultText } from "./result-text.ts";

test.each([
  [{ contact: "clean", startLineDeg: -1.1, carryM: 31.26 }, "clean, 1.1° left, 31.3 m"],
  [{ startLineDeg: 2 }, "2.0° right"],
  [{ startLineDeg: -0.04, carryM: 0 }, "on line, 0.0 m"],
  [{}, undefined],
])("result %j reads %s", (result, text) => expect(resultText(result)).toBe(text));

test.each([
  [{ lieName: "upslope", pitchDeg: 4.94, rollDeg: 0 }, "upslope 4.9°"],
  [{ lieName: "ball above feet", pitchDeg: 0, rollDeg: 2.8 }, "ball above feet 2.8°"],
  [{ lieName: "flat", pitchDeg: 0.2, rollDeg: 0.1 }, "flat"],
  [{ lieName: "upslope", pitchDeg: 5, rollDeg: 0.2 }, "upslope 5.0°"],
  [{ lieName: "bank", pitchDeg: -4, rollDeg: 2 }, "bank, pitch 4.0°, roll 2.0°"],
  [{ pitchDeg: -3, rollDeg: 0 }, "downslope 3.0°"],
  [{ pitchDeg: 0, rollDeg: -3 }, "ball below feet 3.0°"],
  [{ pitchDeg: 0, rollDeg: 0 }, "flat"],
  [{}, undefined],
])("lie %j reads %s", (lie, text) => expect(lieNameText(lie)).toBe(text));
