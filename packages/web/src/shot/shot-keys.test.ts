import { expect, test } from "vitest";
import { deedOfKey, SHOT_KEYS } from "./shot-keys.ts";

const press = (key: string, held: Partial<Parameters<typeof deedOfKey>[0]> = {}) => ({
  key,
  shiftKey: false,
  ctrlKey: false,
  metaKey: false,
  altKey: false,
  ...held,
});

test("arrows move the ruler by one frame, with Shift by ten", () => {
  expect(deedOfKey(press("ArrowRight"), true)).toBe("later");
  expect(deedOfKey(press("ArrowLeft", { shiftKey: true }), true)).toBe("tenEarlier");
});

test("single letters can be switched off, the others stay", () => {
  expect(deedOfKey(press("e"), true)).toBe("mark");
  expect(deedOfKey(press("E", { shiftKey: true }), true)).toBe("mark");
  expect(deedOfKey(press("e"), false)).toBeUndefined();
  expect(deedOfKey(press("z", { ctrlKey: true }), false)).toBe("undo");
});

test("a browser's own combination is left alone", () => {
  expect(deedOfKey(press("p", { ctrlKey: true }), true)).toBeUndefined();
  expect(deedOfKey(press("ArrowLeft", { altKey: true }), true)).toBeUndefined();
});

test("no two keys of the list are the same press", () => {
  const presses = SHOT_KEYS.map((k) => `${k.control ?? false} ${k.shift ?? false} ${k.key}`);
  expect(new Set(presses).size).toBe(presses.length);
});
