import type { ComparedLabel } from "@underfoot/compare";
import fc from "fast-check";
import { expect, test } from "vitest";
import type { Sentence } from "../sentence.ts";
import { sentenceInputText } from "../sentence-input-text.ts";
import { type ComparisonReading, comparisonReading } from "./comparison-reading.ts";
import { type HandMadeSide, handMadeComparison } from "./hand-made-comparison.ts";

const LEAD = "lead.share.at.impact";
const PUSH = "both.target.peak turf";
const WHEN = "both.target.peakTime turf";
const COLUMNS = [LEAD, PUSH, WHEN] as const;

/** Words that no reading may have, whatever the numbers. */
const FORBIDDEN =
  /significan|prove|\balways\b|\bnever\b|no difference|unchanged|improv|better|worse|because|p 0\.000|% (more|less|higher|lower)|going back|moves? back|NaN|undefined|Infinity|[{}]/;
/** Rules that give one of the four verdicts on a difference. */
const VERDICTS = /^(beyond|beyond-slope|slope-only|beyond-alone|within|equivalent|unreachable|beyond-here|explore)$/;

const labels = fc.array(fc.constantFrom<ComparedLabel>("kept", "kept", "kept", "kept", "mishit", "set-aside"), {
  minLength: 9,
  maxLength: 9,
});
const noise = fc.array(
  fc.integer({ min: -30, max: 30 }).map((tenths) => tenths / 10),
  { minLength: 3, maxLength: 7 },
);

const side = (name: string): fc.Arbitrary<HandMadeSide> =>
  fc
    .record({
      noises: fc.tuple(noise, noise, noise),
      effect: fc.constantFrom(0, 0, 2, 8, -30),
      missing: fc.boolean(),
      pitchDeg: fc.constantFrom(0, 0, 5),
      slopeShare: fc.constantFrom(0, 60),
      sigmaShared: fc.constantFrom(0, 0.5, 12),
      club: fc.constantFrom("sand wedge", "lob wedge"),
      isBlocked: fc.boolean(),
      labels,
    })
    .map(({ noises, effect, missing, isBlocked, ...facts }) => {
      const count = Math.min(...noises.map(({ length }) => length));
      const values = noises.map((own, c) =>
        own.slice(0, count).map((value, k) => (missing && k === 1 && c === 1 ? Number.NaN : 50 + effect + value)),
      );
      return {
        name,
        ...facts,
        ...(isBlocked ? { ordinals: values[0]?.map((_, k) => (name === "low" ? k : 50 + k)) ?? [] } : {}),
        values: Object.fromEntries(COLUMNS.map((column, c) => [column, values[c] ?? []])),
      };
    });

const margins = fc.option(fc.constant(new Map([[LEAD, 6]])), { nil: undefined });

function sentencesIn(reading: ComparisonReading): readonly Sentence[] {
  const { different, headline, lines, looks, notices, curves, rows } = reading;
  return [
    ...[headline, ...different, ...lines, ...looks, ...notices, ...curves],
    ...rows.flatMap(({ sentence, hints }) => [sentence, ...hints]),
  ];
}

const comparisons = fc
  .tuple(side("low"), side("high"), margins)
  .map(([a, b, given]) => handMadeComparison(a, b, given === undefined ? {} : { margins: given }));
// A failure is shown as found: shrinking would compare thousands of times.
const cheap = { numRuns: 25, endOnFailure: true } as const;

test("no reading makes a forbidden claim, and every sentence is whole and carries its rule", () => {
  fc.assert(
    fc.property(comparisons, fc.constantFrom("she", "he", "they", "player"), (comparison, pronoun) => {
      const all = sentencesIn(comparisonReading(comparison, { pronoun }));
      for (const { text, rule, condition, inputs } of all) {
        expect(text).not.toMatch(FORBIDDEN);
        expect(text).toMatch(/^[A-Z0-9−].*\.$/);
        expect(text).not.toMatch(/(^|[\s(])-\d/);
        if (/the same/.test(text)) expect(["equivalent", "order", "lie-once"]).toContain(rule);
        expect(condition).not.toBe("");
        for (const one of inputs) expect(sentenceInputText(one)).not.toMatch(/undefined/);
      }
    }),
    cheap,
  );
});

test("below five shots a side there is no verdict, in no sentence", () => {
  fc.assert(
    fc.property(comparisons, (comparison) => {
      const reading = comparisonReading(comparison);
      comparison.measures.forEach((row, m) => {
        if (Math.min(row.a.n, row.b.n) >= 5) return;
        const { sentence, hints, lozenge } = reading.rows[m] ?? {};
        expect(
          [sentence, ...(hints ?? [])].map((one) => one?.rule).filter((rule) => VERDICTS.test(rule ?? "")),
        ).toEqual([]);
        expect(lozenge).not.toBe("beyond");
      });
    }),
    cheap,
  );
});

test("the headline names what survives the correction for looks, and only that", () => {
  fc.assert(
    fc.property(comparisons, (comparison) => {
      const { headline } = comparisonReading(comparison);
      const beyond = comparison.measures.filter(({ verdict }) => verdict === "beyondScatter");
      const isSaid = headline.rule === "beyond-here";
      // One side may be too thin as a whole: then nothing is said of any measure.
      if (isSaid) expect(beyond.length).toBeGreaterThan(0);
      if (headline.rule === "nothing-beyond") expect(beyond).toEqual([]);
      expect(isSaid ? headline.inputs.length : beyond.length).toBe(beyond.length);
    }),
    cheap,
  );
});

test("between lies no sentence gives a difference that gravity has a share in without that share", () => {
  fc.assert(
    fc.property(comparisons, (comparison) => {
      if (!comparison.design.isBetweenLies) return;
      const reading = comparisonReading(comparison);
      comparison.measures.forEach((row, m) => {
        const { sentence, hints } = reading.rows[m] ?? {};
        for (const one of [sentence, ...(hints ?? [])]) {
          if (one === undefined || !VERDICTS.test(one.rule) || one.rule === "unreachable") continue;
          if (row.slopeShare !== 0) expect(one.text).toMatch(/slope’s share of|the slope alone gives/);
          else if (one.rule !== "explore" && one.rule !== "equivalent") expect(one.text).toMatch(/slope share/);
        }
      });
    }),
    cheap,
  );
});

test("no digit is finer than what all shots of a side share", () => {
  fc.assert(
    fc.property(comparisons, (comparison) => {
      const reading = comparisonReading(comparison);
      comparison.measures.forEach((row, m) => {
        const sigma = Math.max(row.a.sigmaShared, row.b.sigmaShared);
        if (sigma < 10 || row.freed.kind === "withheld") return;
        const { difference = "", interval = "" } = reading.rows[m] ?? {};
        for (const number of `${difference} ${interval}`.match(/\d+(\.\d+)?/g) ?? [])
          expect(Number(number) % 10).toBe(0);
      });
    }),
    cheap,
  );
});

test("swapping the sides turns the direction and keeps size and verdict", () => {
  fc.assert(
    fc.property(side("low"), side("high"), (a, b) => {
      const [one, other] = [handMadeComparison(a, b), handMadeComparison(b, a)].map((each) => comparisonReading(each));
      one?.rows.forEach(({ verdict, difference }, m) => {
        expect(other?.rows[m]?.verdict).toBe(verdict);
        const bare = (text = ""): string => text.replace(/^[+−]/, "");
        expect(bare(other?.rows[m]?.difference)).toBe(bare(difference));
      });
    }),
    { ...cheap, numRuns: 10 },
  );
});
