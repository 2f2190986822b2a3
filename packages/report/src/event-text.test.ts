import { expect, test } from "vitest";
import { eventSourceText } from "./event-text.ts";
import { lieText } from "./lie-text.ts";
import { signedMs } from "./time-text.ts";

test.each([
  ["estimated", 15, "est. ±15"],
  ["marked", 4, "marked ±4"],
  ["signal", 1, "signal ±1"],
  ["signal", 0.25, "signal ±0.3"],
  ["marked", 0, "marked"],
] as const)("%s within %s ms reads %s", (source, sigmaMs, text) => {
  expect(eventSourceText({ source, sigmaMs })).toBe(text);
});

test("a channel that told the time is named", () => {
  expect(eventSourceText({ source: "signal", signal: "sound", sigmaMs: 1 })).toBe("sound ±1");
  expect(eventSourceText({ source: "signal", signal: "trigger", sigmaMs: 0.5 })).toBe("trigger ±0.5");
});

test("a time says on which side of impact it lies", () => {
  expect([signedMs(90), signedMs(-40), signedMs(0.2)]).toEqual(["+90", "−40", "0"]);
});

test.each([
  [5, 0, "upslope 5.0°, ball level"],
  [-3, 2, "downslope 3.0°, ball above feet 2.0°"],
  [0, -4, "ball below feet 4.0°"],
  [0, 0, "flat"],
  [-0.2, 0.3, "flat"],
  [5, -0.2, "upslope 5.0°, ball level"],
])("pitch %s and roll %s read %s", (pitchDeg, rollDeg, text) => {
  expect(lieText({ pitchDeg, rollDeg, source: "inclinometer", sdDeg: 0.2 })).toBe(text);
});

test("a lie that nobody gave is not called flat without saying so", () => {
  expect(lieText({ pitchDeg: 0, rollDeg: 0, source: "assumed", sdDeg: 1 }, false)).toBe("lie not known, flat assumed");
});
