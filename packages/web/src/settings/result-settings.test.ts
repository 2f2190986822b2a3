import { DEFAULT_SETTINGS } from "@underfoot/mechanics";
import { expect, test } from "vitest";
import { changedPart, enteredNumber, NUMBER_SETTINGS, shownNumber } from "./result-settings.ts";

test("every number a result hangs on can be seen and changed", () => {
  const numbers = Object.entries(DEFAULT_SETTINGS).filter(([, value]) => typeof value === "number");
  expect(NUMBER_SETTINGS.map(({ name }) => name).sort()).toEqual(numbers.map(([name]) => name).sort());
});

test("what is shown and entered again is the same number, and every default is within its limits", () => {
  for (const setting of NUMBER_SETTINGS) {
    const text = shownNumber(DEFAULT_SETTINGS[setting.name], setting.factor);
    expect(enteredNumber(text, setting)).toEqual({ value: DEFAULT_SETTINGS[setting.name] });
    expect(text.length).toBeLessThan(7);
  }
});

test("a wrong number is refused with the range and the unit", () => {
  const [setting] = NUMBER_SETTINGS;
  if (setting === undefined) throw new RangeError("no settings");
  for (const text of ["", "many", "-1", "1e9"])
    expect(enteredNumber(text, setting)).toEqual({
      why: `A foot is loaded from: a number from 1 to 500 N is needed, not "${text}".`,
    });
  expect(enteredNumber("30,5", setting)).toEqual({ value: 30.5 });
});

test("only what changed is sent, and what is back at its default takes the setting away", () => {
  const defaults = { a: 1, b: 2, c: { kind: "none" } };
  const inForce = { a: 5, b: 2, c: { kind: "none" } };
  expect(changedPart({ a: 1, b: 3, c: { kind: "none" } }, inForce, defaults)).toEqual({ a: null, b: 3 });
});
