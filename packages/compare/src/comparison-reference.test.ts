// A worked example against SciPy: reference/compare.json, made by reference/compare.py (its sources are named there).
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { random } from "@underfoot/domain";
import { expect, test } from "vitest";
import type { ComparedShot } from "./compared-shot.ts";
import { comparison } from "./comparison.ts";

interface Row {
  readonly raw: readonly number[];
  readonly slopeShare: readonly number[] | null;
  readonly difference: number;
  readonly low: number;
  readonly high: number;
  readonly nu: number;
  readonly welchP: number;
  readonly p: number;
  readonly adjustedP: number;
  readonly q: number;
  readonly g: readonly [number, number, number];
}
const reference = JSON.parse(readFileSync(join(import.meta.dirname, "../../../reference/compare.json"), "utf8")) as {
  readonly nA: number;
  readonly countArrangements: number;
  readonly measures: Readonly<Record<string, Row>>;
};
const { nA, measures } = reference;
const columns = Object.keys(measures);
const count = measures[columns[0] ?? ""]?.raw.length ?? 0;

const shots = Array.from({ length: count }, (_, k): ComparedShot => {
  const isB = k >= nA;
  return {
    ...{ shotId: `s${k}`, label: "kept", sessionId: "s", day: "2026-03-17", impactSource: "marked" },
    // One visit to each lie, so that shots are exchanged.
    ordinal: k + 1,
    ...{ pitchDeg: isB ? 3 : 0, rollDeg: 0 },
    measures: new Map(
      columns.map((column) => {
        const { raw, slopeShare } = measures[column] as Row;
        const share = slopeShare === null ? {} : { slopeShare: slopeShare[k] ?? Number.NaN };
        return [column, { value: raw[k] ?? Number.NaN, sigma: 0, sigmaShared: 0, ...share }];
      }),
    ),
  };
});
test("differences, intervals, exact p, max-T, q and g of a comparison between lies are SciPy's", () => {
  const found = comparison({
    a: { name: "flat", shots: shots.slice(0, nA) },
    b: { name: "up", shots: shots.slice(nA) },
    ...{ measures: columns, axes: "turf", seed: 1, streams: random },
  });
  expect(found.measures.map(({ column }) => column)).toEqual(columns);
  for (const row of found.measures) {
    const wanted = measures[row.column] as Row;
    if (row.freed.kind === "withheld" || row.effect.kind === "withheld") throw new RangeError("withheld");
    expect(row.freed.value).toBeCloseTo(wanted.difference, 10);
    expect(row.freed.low).toBeCloseTo(wanted.low, 9);
    expect(row.freed.high).toBeCloseTo(wanted.high, 9);
    expect(row.freed.nu).toBeCloseTo(wanted.nu, 9);
    expect(row.freed.p).toBeCloseTo(wanted.welchP, 10);
    expect(row.countArrangements).toBe(reference.countArrangements);
    expect(row.p).toBeCloseTo(wanted.p, 12);
    expect(row.adjustedP).toBeCloseTo(wanted.adjustedP, 12);
    expect(row.q).toBeCloseTo(wanted.q, 12);
    [row.effect.value, row.effect.low, row.effect.high].forEach((one, k) => {
      expect(one).toBeCloseTo(wanted.g[k] ?? Number.NaN, 7);
    });
  }
  expect(found.measures[0]).toMatchObject({ slopeShare: 40, verdict: "beyondScatter" });
});
