import { expect, test } from "vitest";
import { checkDetail } from "./check-detail.ts";

const part = { name: "Force, plate 1", plate: 1, allowed: 2, found: 1.2, unit: "N", isPassed: true };
const outline = {
  foot: "lead",
  frame: "plate",
  outline: [
    { x: 0, y: 0, z: 0 },
    { x: 0.1, y: 0, z: 0 },
    { x: 0, y: 0.3, z: 0 },
  ],
};

test("parts, words and walked outlines are read from what is kept beside a check", () => {
  const kept = {
    parts: [part],
    sentence: "All 2 hold.",
    remedy: "",
    cautions: ["Stop at pain."],
    detail: { outlines: [outline] },
  };
  expect(checkDetail(kept)).toEqual({
    parts: [{ name: "Force, plate 1", allowed: 2, found: 1.2, unit: "N", isPassed: true }],
    sentence: "All 2 hold.",
    remedy: undefined,
    cautions: ["Stop at pain."],
    outlines: [outline],
  });
});

test("a number that was not found is not known, and what cannot be read is left out", () => {
  const [read] = checkDetail({ parts: [{ ...part, found: null }, { name: 3 }, "odd"] }).parts;
  expect(read?.found).toBeNaN();
  expect(checkDetail({ parts: [{ name: 3 }] }).parts).toEqual([]);
  expect(checkDetail({ outlines: [{ ...outline, outline: [] }] }).outlines).toEqual([]);
  for (const odd of [undefined, null, 7, "text", []]) expect(checkDetail(odd).parts).toEqual([]);
});
