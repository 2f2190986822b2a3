import { columnMappingFromText, columnMappingText, mappingProposal, textSniff } from "@underfoot/formats";
import { expect, test } from "vitest";
import {
  choiceOf,
  meaningChoices,
  meaningFromChoice,
  meaningOf,
  unitsFor,
  withMeaning,
  withUnit,
} from "./mapping-edit.ts";

const table = (names: string): Uint8Array =>
  new TextEncoder().encode(
    `${names}\n${Array.from({ length: 100 }, (_, i) => [i / 500, 2, 3, 700, 10, 11, 0.5].join("\t")).join("\n")}\n`,
  );
const proposed = (names: string) => mappingProposal(textSniff(table(names))).mapping;
const mapping = proposed("Time [s]\tFx [N]\tFy [N]\tFz [N]\tPx [mm]\tPy [mm]\tTrig [V]");
const RATE = { rateHz: 500 };

test("what a mapping says of each column is shown, and said again changes nothing", () => {
  expect(mapping.match.columns.map((column) => choiceOf(meaningOf(mapping, column)))).toEqual([
    "time",
    "1 F x",
    "1 F y",
    "1 F z",
    "1 P x",
    "1 P y",
    "ignored",
  ]);
  for (const column of mapping.match.columns) {
    const again = withMeaning(mapping, column, meaningOf(mapping, column), RATE);
    for (const other of mapping.match.columns) expect(meaningOf(again, other)).toEqual(meaningOf(mapping, other));
  }
});

test("every choice can be chosen and is then the column's meaning, with a unit it may have", () => {
  for (const [choice] of meaningChoices(mapping).flatMap(({ choices }) => choices)) {
    const meaning = meaningFromChoice(choice, meaningOf(mapping, "Trig [V]"));
    const next = withMeaning(mapping, "Trig [V]", meaning, RATE);
    expect(choiceOf(meaningOf(next, "Trig [V]"))).toBe(choice);
    if (meaning.kind === "plate") expect(["", ...unitsFor(meaning)]).toContain(meaning.unit);
  }
});

test("a column takes the place of the one that had its meaning", () => {
  const next = withMeaning(mapping, "Trig [V]", meaningFromChoice("1 F z", meaningOf(mapping, "Trig [V]")), RATE);
  expect(meaningOf(next, "Fz [N]")).toEqual({ kind: "ignored" });
  expect(next.plates[0]?.force.map(({ column }) => column)).toEqual(["Fx [N]", "Fy [N]", "Trig [V]"]);
});

test("the sign turns the axis, and the unit is taken as said", () => {
  const before = meaningOf(mapping, "Fz [N]");
  if (before.kind !== "plate") throw new Error("not of a plate");
  const next = withMeaning(mapping, "Fz [N]", { ...before, axis: "-z", unit: "kN" }, RATE);
  expect(meaningOf(next, "Fz [N]")).toEqual({ ...before, axis: "-z", unit: "kN" });
});

test("without its time column a mapping counts by the rate", () => {
  expect(withMeaning(mapping, "Time [s]", { kind: "ignored" }, RATE).time).toEqual({ rateHz: 500 });
});

test("a plate without columns at the end is gone, and what a plate gives follows from its columns", () => {
  const onSecond = withMeaning(mapping, "Trig [V]", meaningFromChoice("2 F z", meaningOf(mapping, "Trig [V]")), RATE);
  expect(onSecond.plates).toHaveLength(2);
  expect(withMeaning(onSecond, "Trig [V]", { kind: "ignored" }, RATE).plates).toHaveLength(1);
  const bare = ["Px [mm]", "Py [mm]"].reduce(
    (before, column) => withMeaning(before, column, { kind: "ignored" }, RATE),
    mapping,
  );
  expect([mapping.plates[0]?.gives, bare.plates[0]?.gives]).toEqual(["force+cop", "force"]);
});

test("what was said here is a mapping that can be kept and read again", () => {
  const trigger = withMeaning(mapping, "Trig [V]", { kind: "trigger", unit: "V" }, RATE);
  const read = columnMappingFromText(columnMappingText({ ...trigger, name: "one plate" }));
  expect(meaningOf(read, "Trig [V]")).toEqual({ kind: "trigger", unit: "V" });
  expect(read.plates).toEqual(trigger.plates);
});

test("a unit said of one column counts for those of its kind that have none, and for no other", () => {
  const bare = proposed("Time [s]\tFx\tFy [kN]\tFz\tPx\tPy\tTrig");
  const units = (of: typeof bare) =>
    of.match.columns.map((column) => meaningOf(of, column)).map((one) => "unit" in one && one.unit);
  expect(units(bare)).toEqual(["s", "", "kN", "", "", "", false]);
  expect(units(withUnit(bare, "Fx", "N"))).toEqual(["s", "N", "kN", "N", "", "", false]);
  expect(units(withUnit(bare, "Px", "mm"))).toEqual(["s", "", "kN", "", "mm", "mm", false]);
});
