import fc from "fast-check";
import { expect, test } from "vitest";
import { brokenInTwo, type NoteWish, placedNotes, spreadApart } from "./placed-notes.ts";

const within = { left: 0, right: 400, top: 0, bottom: 400 };
const wish = (key: string, x: number, y: number): NoteWish => ({
  key,
  lines: ["gains 0.29 m/s"],
  x,
  y,
  sides: ["right", "left"],
  gapPx: 8,
  reachPx: 30,
});

test("two words at one point do not cover each other", () => {
  const [first, second] = placedNotes([wish("a", 200, 100), wish("b", 200, 100)], [], within);
  expect(first).toMatchObject({ key: "a", x: 208, anchor: "start" });
  expect(second).toMatchObject({ key: "b", x: 192, anchor: "end" });
});

test("a word without room is left out, the ones before it stay", () => {
  const crowd = Array.from({ length: 30 }, (_, k) => wish(`${k}`, 100, 100));
  const placed = placedNotes(crowd, [], within);
  expect(placed.length).toBeLessThan(30);
  expect(placed[0]?.key).toBe("0");
});

test("a word at the right edge turns to the left of its point", () => {
  expect(placedNotes([wish("a", 390, 100)], [], within)[0]?.anchor).toBe("end");
});

test("a long word breaks at the space nearest its middle", () => {
  expect(brokenInTwo("slowing, not going back", 14)).toEqual(["slowing, not", "going back"]);
  expect(brokenInTwo("going back", 14)).toEqual(["going back"]);
  expect(brokenInTwo("Couple of the feet", 12)).toEqual(["Couple of", "the feet"]);
});

test("event names are pushed apart and stay in order", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 400 }), { minLength: 1, maxLength: 6 }), (places) => {
      const wanted = [...places].sort((a, b) => a - b);
      const out = spreadApart(
        wanted,
        wanted.map(() => 30),
        430,
      );
      for (let k = 1; k < out.length; k++) expect(out[k]! - out[k - 1]!).toBeGreaterThanOrEqual(30 - 1e-9);
      expect(out.at(-1)!).toBeLessThanOrEqual(430 + 1e-9);
    }),
  );
});
