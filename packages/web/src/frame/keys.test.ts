import { expect, test } from "vitest";
import { SHOT_KEYS } from "../shot/shot-keys.ts";
import { SHOTS_KEYS } from "../shots/shots-keys.ts";
import { deedOfKey, FRAME_KEYS, type KeyPress } from "./keys.ts";

const press = (key: string, held: Partial<KeyPress> = {}): KeyPress => ({
  key,
  shiftKey: false,
  ctrlKey: false,
  metaKey: false,
  altKey: false,
  ...held,
});

test("arrows move the ruler by one frame, with Shift by ten", () => {
  expect(deedOfKey(press("ArrowRight"), SHOT_KEYS, true)).toBe("later");
  expect(deedOfKey(press("ArrowLeft", { shiftKey: true }), SHOT_KEYS, true)).toBe("tenEarlier");
});

test("single letters can be switched off, the others stay", () => {
  expect(deedOfKey(press("e"), SHOT_KEYS, true)).toBe("mark");
  expect(deedOfKey(press("E", { shiftKey: true }), SHOT_KEYS, true)).toBe("mark");
  expect(deedOfKey(press("e"), SHOT_KEYS, false)).toBeUndefined();
  expect(deedOfKey(press("z", { ctrlKey: true }), SHOT_KEYS, false)).toBe("undo");
});

test("a browser's own combination is left alone", () => {
  expect(deedOfKey(press("p", { ctrlKey: true }), FRAME_KEYS, true)).toBeUndefined();
  expect(deedOfKey(press("ArrowLeft", { altKey: true }), SHOT_KEYS, true)).toBeUndefined();
});

test.each([
  ["shot", SHOT_KEYS],
  ["shots", SHOTS_KEYS],
])("no two keys of the %s screen are the same press, those of every screen included", (_, keys) => {
  const presses = [...keys, ...FRAME_KEYS].map((k) => `${k.control ?? false} ${k.shift ?? false} ${k.key}`);
  expect(new Set(presses).size).toBe(presses.length);
});
