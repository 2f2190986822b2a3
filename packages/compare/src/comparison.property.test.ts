// Laws of a comparison, whatever the shots.
import { random } from "@underfoot/domain";
import fc from "fast-check";
import { expect, test } from "vitest";
import { asJson } from "./as-json.ts";
import type { ComparedShot } from "./compared-shot.ts";
import { type Comparison, comparison } from "./comparison.ts";
import { shotsOf } from "./hand-made-shots.ts";

const COLUMNS = [
  "lead.share.at.impact",
  "both.target.peak turf",
  "both.turn.peak",
  "both.speedTarget.peak turf",
] as const;
const [FIRST, ...OTHERS] = COLUMNS;

/** Values of one side: a row a measure, a column a shot. */
const side = fc.integer({ min: 3, max: 6 }).chain((count) =>
  fc.array(fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: count, maxLength: count }), {
    minLength: COLUMNS.length,
    maxLength: COLUMNS.length,
  }),
);

const shots = (name: string, rows: readonly (readonly number[])[]): readonly ComparedShot[] =>
  shotsOf(name, Object.fromEntries(COLUMNS.map((column, m) => [column, rows[m] ?? []])));

function compared(
  a: readonly ComparedShot[],
  b: readonly ComparedShot[],
  measures: readonly string[] = COLUMNS,
  detail: "full" | "verdicts" = "verdicts",
): Comparison {
  return comparison({
    a: { name: "a", shots: a },
    b: { name: "b", shots: b },
    ...{ measures, axes: "turf", seed: 3, streams: random, detail },
  });
}

const runs = { numRuns: 25 };

test("swapping A and B turns the signs and keeps p and verdict", () => {
  fc.assert(
    fc.property(side, side, (a, b) => {
      const [there, back] = [compared(shots("even", a), shots("b", b)), compared(shots("b", b), shots("even", a))];
      there.measures.forEach((row, m) => {
        const other = back.measures[m];
        if (row.freed.kind === "withheld" || other?.freed.kind === "withheld") {
          expect(other?.freed.kind).toBe(row.freed.kind);
          return;
        }
        expect(other?.freed.value).toBeCloseTo(-row.freed.value, 9);
        expect(other?.freed.low).toBeCloseTo(-row.freed.high, 6);
        expect(other?.p).toBeCloseTo(row.p, 12);
        expect(other?.adjustedP).toBeCloseTo(row.adjustedP, 12);
        expect(other?.verdict).toBe(row.verdict);
        expect(other?.steps).toBeCloseTo(-row.steps, 9);
      });
    }),
    runs,
  );
});

test("adding a measure never lowers another's adjusted p, and moves no other number of it", () => {
  fc.assert(
    fc.property(side, side, (a, b) => {
      const [ofA, ofB] = [shots("even", a), shots("b", b)];
      const few = compared(ofA, ofB, [FIRST]).measures[0];
      const many = compared(ofA, ofB).measures[0];
      expect(many?.p).toBe(few?.p);
      expect(many?.raw).toEqual({
        ...few?.raw,
        ...("looks" in (few?.raw ?? {})
          ? { looks: many?.raw && "looks" in many.raw ? many.raw.looks : undefined }
          : {}),
      });
      if (!Number.isNaN(few?.adjustedP)) expect(many?.adjustedP).toBeGreaterThanOrEqual((few?.adjustedP ?? 1) - 1e-12);
    }),
    runs,
  );
});

test("adjusted p is never below raw p; p is a share of the arrangements and never below one of them", () => {
  fc.assert(
    fc.property(side, side, (a, b) => {
      for (const { p, adjustedP, countArrangements, pMethod } of compared(shots("even", a), shots("b", b)).measures) {
        if (pMethod === "none") continue;
        expect(adjustedP).toBeGreaterThanOrEqual(p - 1e-12);
        expect(p * countArrangements).toBeCloseTo(Math.round(p * countArrangements), 6);
        expect(p).toBeGreaterThanOrEqual(1 / countArrangements - 1e-12);
      }
    }),
    runs,
  );
});

test("shifting and scaling the values does the same to the differences and nothing to verdicts", () => {
  fc.assert(
    fc.property(side, side, fc.integer({ min: -50, max: 50 }), (a, b, shift) => {
      const moved = (rows: readonly (readonly number[])[]) => rows.map((row) => row.map((value) => 4 * value + shift));
      const plain = compared(shots("even", a), shots("b", b));
      const scaled = compared(shots("even", moved(a)), shots("b", moved(b)));
      plain.measures.forEach((row, m) => {
        const other = scaled.measures[m];
        expect(other?.verdict).toBe(row.verdict);
        if (row.freed.kind === "withheld" || other?.freed.kind === "withheld") return;
        expect(other?.freed.value).toBeCloseTo(4 * row.freed.value, 6);
        expect(other?.adjustedP).toBeCloseTo(row.adjustedP, 12);
        expect(other?.steps).toBeCloseTo(row.steps, 9);
      });
    }),
    runs,
  );
});

test("equal seeds give equal bytes, whatever order the shots are given in", () => {
  fc.assert(
    fc.property(side, side, (a, b) => {
      const [ofA, ofB] = [shots("even", a), shots("b", b)];
      const text = (one: Comparison): string => JSON.stringify(asJson({ ...one, a: undefined, b: undefined }));
      expect(text(compared(ofA, ofB, COLUMNS, "full"))).toBe(
        text(compared(ofA.toReversed(), ofB.toReversed(), COLUMNS, "full")),
      );
    }),
    runs,
  );
});

test("drawn labellings are those of the seed: another seed, other arrangements; a new measure moves no other's p", () => {
  const stream = random(5, "laws");
  const rows = COLUMNS.map(() => Array.from({ length: 11 }, () => stream.normal()));
  const [a, b] = [
    shots("even", rows),
    shots(
      "b",
      rows.map((row) => row.map((value) => value + 0.8 * stream.normal())),
    ),
  ];
  const [many, few] = [compared(a, b), compared(a, b, OTHERS)];
  expect(many.measures[0]?.pMethod).toBe("drawn");
  for (const row of few.measures) expect(row.p).toBe(many.measures.find(({ column }) => column === row.column)?.p);
});
