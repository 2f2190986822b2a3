// Golden files: public recordings with the answers of a reader written separately from this one (golden/text/README.md).
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { UnderfootError } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import { columnMappingFromText } from "./column-mapping.ts";
import { recordingFromText } from "./recording-from-text.ts";
import { textSniff } from "./text-sniff.ts";

interface Expected {
  readonly rows: number;
  readonly columns: number;
  readonly header_rows: number;
  readonly header?: readonly string[];
  readonly first_row?: readonly number[];
  readonly last_row?: readonly number[];
  readonly rate: number | null;
  readonly time_column?: string | null;
  readonly counter_column?: string;
  readonly columns_stats?: Readonly<
    Record<string, { readonly mean: number; readonly min: number; readonly max: number }>
  >;
  readonly mean?: number;
  readonly min?: number;
  readonly max?: number;
  readonly first?: number;
  readonly last?: number;
  readonly plates?: readonly {
    readonly mean_force: readonly number[];
    readonly max_force: readonly number[];
    readonly min_force: readonly number[];
    readonly loaded_rows: number;
  }[];
}

const GOLDEN = new URL("../../../golden/text/", import.meta.url).pathname;
// The whole set lies outside the repository and is absent in most checkouts; the golden folder has the small ones.
const SHARED = new URL("../../../../shared/data/recordings/", import.meta.url).pathname;

const mean = (values: Iterable<number>): number => {
  const all = [...values];
  return all.reduce((total, value) => total + value, 0) / all.length;
};

function statistics(values: Iterable<number>): { mean: number; min: number; max: number } {
  const all = [...values];
  return { mean: mean(all), min: Math.min(...all), max: Math.max(...all) };
}

function check(folder: string, file: string, expected: Expected): void {
  const bytes = readFileSync(join(folder, file));
  const sniff = textSniff(bytes);
  expect(sniff.columns).toHaveLength(expected.columns);
  expect(sniff.dataRow.value).toBe(expected.header_rows + 1);
  if (expected.header) {
    const names = sniff.columns.map(({ name }) => name);
    expect(names.slice(0, expected.header.length)).toEqual(expected.header);
  }
  expect(sniff.time?.value.column ?? null).toBe(expected.time_column ?? null);
  if (expected.counter_column) {
    expect(sniff.columns.find(({ kind }) => kind === "counter")?.name).toBe(expected.counter_column);
  }
  if (expected.rate === null) {
    checkWithoutRate(bytes, expected);
    return;
  }
  const recording = recordingFromText(bytes);
  expect([recording.sampleCount, recording.rateHz]).toEqual([expected.rows, expected.rate]);
  expect(recording.plates).toEqual([]);
  recording.channels.forEach(({ label, values }) => {
    const k = sniff.columns.findIndex(({ name }) => name === label);
    if (expected.first_row?.[k] !== undefined) expect(values[0]).toBe(expected.first_row[k]);
    if (expected.last_row?.[k] !== undefined) expect(values.at(-1)).toBe(expected.last_row[k]);
    const stats = expected.columns_stats?.[label];
    if (stats === undefined) return;
    const own = statistics(values);
    expect([own.min, own.max]).toEqual([stats.min, stats.max]);
    // The expected means are printed with five decimals.
    expect(Math.abs(own.mean - stats.mean)).toBeLessThan(6e-6);
  });
}

/** Nothing but a mapping can give what the file does not say. */
function checkWithoutRate(bytes: Uint8Array, expected: Expected): void {
  let code = "";
  try {
    recordingFromText(bytes);
  } catch (error) {
    if (!(error instanceof UnderfootError)) throw error;
    code = error.code;
  }
  expect(code).toBe("no-rate");
  const mapping = columnMappingFromText(
    JSON.stringify({
      ...{
        underfoot: "column-mapping",
        version: 1,
        name: "one column",
        match: { columns: ["Column 1"] },
        time: { rate: 1000 },
      },
      plates: [{ plate: "1", gives: "force", force: [{ column: "Column 1", unit: "N", axis: "+z" }] }],
    }),
  );
  const { channels, plates, sampleCount } = recordingFromText(bytes, { mapping });
  const values = [...(channels[0]?.values ?? [])];
  expect(sampleCount).toBe(expected.rows);
  // A lone vertical force lies along the plate's z, which points into the ground.
  expect(plates[0]).toMatchObject({ type: 0, channels: [0], hasMoments: false, isPlaced: false });
  expect([-(values[0] ?? 0), -(values.at(-1) ?? 0)]).toEqual([expected.first, expected.last]);
  const own = statistics(values.map((value) => -value));
  expect([own.min, own.max]).toEqual([expected.min, expected.max]);
  expect(Math.abs(own.mean - (expected.mean ?? 0))).toBeLessThan(6e-5);
}

const answers = (folder: string): [string, Expected][] => {
  const file = join(folder, "expected.json");
  if (!existsSync(file)) return [];
  const parsed = JSON.parse(readFileSync(file, "utf8"));
  return Object.entries((parsed.files ?? parsed) as Record<string, Expected>).filter(([name]) => name.endsWith(".txt"));
};

describe("golden text recordings", () => {
  it.each(answers(GOLDEN))("%s is read as expected", (file, expected) => check(GOLDEN, file, expected));

  it("has an answer for every file", () => {
    const files = readdirSync(GOLDEN).filter((name) => name.endsWith(".txt"));
    expect(
      answers(GOLDEN)
        .map(([name]) => name)
        .sort(),
    ).toEqual(files.sort());
    expect(files.length).toBeGreaterThan(1);
  });
});

describe.skipIf(!existsSync(SHARED))("all text recordings (only where the shared set is at hand)", () => {
  it.each(answers(SHARED))("%s is read as expected", (file, expected) => check(SHARED, file, expected));

  it("the walk over seven plates, mapped, has the expected force of each plate along laboratory axes", () => {
    const expected = answers(SHARED).find(([name]) => name.startsWith("walk-seven"))?.[1].plates ?? [];
    const bytes = readFileSync(join(SHARED, "walk-seven-plates-y-up.txt"));
    const plate = (k: number) => ({
      ...{ plate: `${k}`, gives: "force+cop" },
      force: ["x", "y", "z"].map((letter) => ({
        column: `F${letter.toUpperCase()}${k}`,
        unit: "N",
        axis: `+${letter}`,
      })),
      cop: ["x", "z"].map((letter) => ({
        column: `${letter.toUpperCase()}${k}`,
        unit: "mm",
        axis: `+${letter}`,
        from: "lab",
      })),
      freeMoment: { column: `MZ${k}`, unit: "N mm", axis: "+y" },
    });
    const mapping = columnMappingFromText(
      JSON.stringify({
        ...{
          underfoot: "column-mapping",
          version: 1,
          name: "seven plates",
          match: { columns: ["#Sample"] },
          time: { rate: 450 },
        },
        plates: [1, 2, 3, 4, 5, 6, 7].map(plate),
      }),
    );
    const { plates, channels, guesses } = recordingFromText(bytes, { mapping });
    expect(guesses.map(({ code, sentence }) => [code, sentence.slice(0, 22)])).toEqual([
      ["guess-up", "Up is taken to be +y: "],
    ]);
    expect(plates).toHaveLength(7);
    plates.forEach((description, k) => {
      // Plate axes of a y-up laboratory: x along x, y along z, z along -y (into the ground).
      const [fx, fy, fz] = description.channels.map((at) => channels[at]?.values ?? new Float64Array());
      const lab = [fx!, fz!.map((value) => -value), fy!];
      const want = expected[k]!;
      lab.forEach((values, axis) => {
        const own = statistics(values);
        expect([own.min + 0, own.max + 0]).toEqual([want.min_force[axis]! + 0, want.max_force[axis]! + 0]);
        // Printed with three decimals.
        expect(Math.abs(own.mean - want.mean_force[axis]!)).toBeLessThan(6e-4);
      });
    });
  });
});
