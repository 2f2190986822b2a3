import type { Measure } from "@underfoot/mechanics";
import { expect, test } from "vitest";
import { COLUMN_KINDS, type ColumnKindId, columnKind } from "./column-kinds.ts";
import { handMadeShot } from "./hand-made-shot.ts";
import { type SheetOptions, sheetModel } from "./sheet-model.ts";

const columnsOf = (
  options: Parameters<typeof handMadeShot>[0] = {},
  sheet: Partial<SheetOptions> = {},
  measures: readonly Measure[] = [],
) => sheetModel(handMadeShot(options), measures, { axes: "turf", ...sheet }).columns;
const columnOf = (id: ColumnKindId, ...rest: Parameters<typeof columnsOf>) =>
  columnsOf(rest[0], { columns: [id], ...rest[1] }, rest[2])[0]!;

test("every kind of column can be drawn and written, and five at most stand beside each other", () => {
  const ids = COLUMN_KINDS.map((kind) => kind.id);
  expect(new Set(ids).size).toBe(ids.length);
  for (const id of ids) {
    const column = columnOf(id);
    expect(column.values.length, id).toBe(901);
    expect(column.domain.min, id).toBeLessThanOrEqual(column.zero);
    expect(columnKind(id).write(column.values[400]!).unit, id).toBe(column.unit);
  }
  expect(columnsOf({}, { columns: ids })).toHaveLength(5);
});

test("an unknown column is a fault of the caller", () => {
  expect(() => columnKind("sideways" as ColumnKindId)).toThrow(RangeError);
});

test("on turf axes the push stands on the slope's share; on level axes and on the flat there is none", () => {
  // 800 N · sin 5° = 69.7 N.
  expect(columnOf("push").base).toEqual({ value: expect.closeTo(69.72, 1), text: "slope 70" });
  expect(columnOf("push", {}, { axes: "level" }).base).toBeUndefined();
  expect(columnOf("push", { pitchDeg: 0 }).base).toBeUndefined();
  expect(columnOf("push", { pitchDeg: 0.3 }).base).toBeUndefined();
  expect(columnOf("ahead", { pitchDeg: 0, rollDeg: 4 }).base?.value).toBeCloseTo(55.8, 1);
  expect(columnOf("push", { pitchDeg: 0, rollDeg: 4 }).base).toBeUndefined();
  expect(columnOf("up").base).toBeUndefined();
});

test("the caption says which axes these are and where the slope's share went", () => {
  const caption = (options: Parameters<typeof handMadeShot>[0], axes: "turf" | "level"): string =>
    sheetModel(handMadeShot(options), [], { axes }).caption;
  expect(caption({}, "turf")).toContain("Hachured: the slope’s share");
  expect(caption({}, "level")).toContain("the slope has no share");
  expect(caption({ pitchDeg: 0 }, "turf")).toBe("Turf axes.");
  expect(caption({ isLieKnown: false }, "turf")).toContain("flat is assumed");
});

test("the peak is written with the measure's uncertainty where there is one", () => {
  const peak: Measure = {
    id: "both.target.peak",
    value: 169.7,
    unit: "N",
    sigma: 4,
    sigmaShared: 3,
    axes: "turf",
    isValid: true,
  };
  const time: Measure = {
    ...peak,
    id: "both.target.peakTime",
    value: NaN,
    unit: "ms",
    isValid: false,
    why: "two peaks",
  };
  expect(columnOf("push", {}, {}, [peak, time]).peak).toMatchObject({ label: "170", why: "two peaks" });
  expect(columnOf("push", {}, {}, [peak, time]).peak?.text.plusMinus).toBe("±4");
  expect(columnOf("push").peak).toMatchObject({ timeMs: expect.closeTo(-200, 6), label: "170" });
  expect(columnOf("push", {}, {}, [{ ...peak, isValid: false }]).peak).toBeUndefined();
});

test("a saturated peak reads at least", () => {
  expect(columnOf("up", { saturatedS: [3.44, 3.46] }).peak).toMatchObject({ label: "at least 1.196", isAtLeast: true });
  expect(columnOf("up").peak?.isAtLeast).toBe(false);
});

test("notes come in the order in which they are placed: peak, gain and loss, slope, words", () => {
  const kinds = columnOf("push").notes.map((note) => note.kind);
  expect(kinds).toEqual(["peak", "loss", "gain", "loss", "slope", "word"]);
  expect(columnOf("push").notes.at(-1)?.text).toBe("slowing, not going back");
});

test("words beside the speed follow the speed", () => {
  const words = (braking: number): string[] => columnOf("speed", { braking }).notes.map((note) => note.text);
  expect(words(1)).toEqual(["0.172", "still to target"]);
  expect(words(3)).toContain("going back");
});

test("given scales are kept, so that shots of a session can be compared by eye", () => {
  const domain = { min: -100, max: 300 };
  expect(columnOf("push", {}, { domains: { push: domain } }).domain).toBe(domain);
});

test("a gap stays a gap in every column", () => {
  for (const column of columnsOf({ gapS: [3.3, 3.32] })) {
    expect(
      column.values.filter((value) => Number.isNaN(value)),
      column.id,
    ).toHaveLength(10);
  }
});
