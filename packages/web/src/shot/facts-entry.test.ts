import { expect, test } from "vitest";
import { factsFromForm, firstFacts } from "./facts-entry.ts";

const plates = [
  { index: 1, centreM: { x: 0, y: 0, z: 0 } },
  { index: 2, centreM: { x: 0.1, y: 0.5, z: 0 } },
];

test("with two plates the target lies from the trail plate to the lead plate, and turns with them", () => {
  const form = firstFacts(plates);
  expect(factsFromForm(form, plates)).toMatchObject({
    target: { x: 0.1, y: 0.5, z: 0 },
    plates: [
      { plate: 1, foot: "trail" },
      { plate: 2, foot: "lead" },
    ],
  });
  expect(factsFromForm({ ...form, leadPlate: 1, trailPlate: 2 }, plates)).toMatchObject({
    target: { x: -0.1, y: -0.5, z: 0 },
  });
});

test("one plate carries both feet and needs an axis for the target", () => {
  const one = plates.slice(0, 1);
  const form = firstFacts(one);
  expect(factsFromForm(form, one)).toMatchObject({
    target: { x: 1, y: 0, z: 0 },
    plates: [{ plate: 1, foot: "both" }],
  });
  expect(factsFromForm({ ...form, direction: "trail to lead" }, one)).toContain("choose an axis");
});

test("a third plate carries nobody, and an empty angle is asked for", () => {
  const three = [...plates, { index: 3, centreM: { x: 2, y: 0, z: 0 } }];
  expect(factsFromForm(firstFacts(three), three)).toMatchObject({ plates: [{}, {}, { plate: 3, foot: "none" }] });
  expect(factsFromForm({ ...firstFacts(three), pitchDeg: Number.NaN }, three)).toContain("degrees");
});
