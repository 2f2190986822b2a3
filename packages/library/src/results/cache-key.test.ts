import { DEFAULT_SETTINGS } from "@underfoot/mechanics";
import { expect, test } from "vitest";
import { cacheKey, type ResultInputs } from "./cache-key.ts";

const inputs: ResultInputs = {
  recordingSha256: "a".repeat(64),
  stretch: { first: 0, end: 6000 },
  facts: {
    handed: "right",
    target: { x: 0, y: 1, z: 0 },
    plates: [{ plate: 1, foot: "lead" }],
    feet: [],
    events: [],
    keep: "kept",
  },
  mapping: undefined,
  settings: DEFAULT_SETTINGS,
};
const facts = inputs.facts!;

test("the order of fields does not matter", () => {
  const turned = Object.fromEntries(Object.entries(facts).reverse()) as unknown as typeof facts;
  expect(cacheKey({ ...inputs, facts: turned })).toBe(cacheKey(inputs));
});

test("what was asked, said of the ball and labelled moves no number and no key", () => {
  const said = {
    ...facts,
    keep: "set-aside",
    intent: "low",
    club: "58",
    note: "x",
    result: { carryM: 3 },
    player: "P01",
    lieName: "up",
  } as const;
  expect(cacheKey({ ...inputs, facts: said })).toBe(cacheKey(inputs));
});

test.each<[string, Partial<ResultInputs>]>([
  ["another recording", { recordingSha256: "b".repeat(64) }],
  ["another stretch", { stretch: { first: 1, end: 6000 } }],
  ["another hand", { facts: { ...facts, handed: "left" } }],
  ["a mark", { facts: { ...facts, events: [{ event: "top", timeS: 1, source: "marked" }] } }],
  ["a lie", { facts: { ...facts, lie: { pitchDeg: 3, rollDeg: 0, source: "inclinometer", sdDeg: 0.2 } } }],
  ["no facts", { facts: undefined }],
  ["another setting", { settings: { ...DEFAULT_SETTINGS, loadOnN: 31 } }],
])("%s is another key", (_, part) => {
  expect(cacheKey({ ...inputs, ...part })).not.toBe(cacheKey(inputs));
});

test("another version is another key", () => {
  expect(cacheKey(inputs, "0.0.0")).not.toBe(cacheKey(inputs));
});
