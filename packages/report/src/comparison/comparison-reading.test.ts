import { describe, expect, test } from "vitest";
import { comparisonReading } from "./comparison-reading.ts";
import { handMadeComparison } from "./hand-made-comparison.ts";

const LEAD = "lead.share.at.impact";
const PUSH = "both.target.peak turf";
const WHEN = "both.target.peakTime turf";
const she = { pronoun: "she" } as const;
const LOW = [70, 72, 71, 73, 70, 72, 71, 73, 72];
const less = (values: readonly number[], by: number): number[] => values.map((value, k) => value - by + (k % 2) / 5);

describe("one measure", () => {
  test("beyond scatter: difference, interval, counts and p, all in the direction of the difference", () => {
    const { headline, rows, lines, looks } = comparisonReading(
      handMadeComparison({ name: "low", values: { [LEAD]: LOW } }, { name: "high", values: { [LEAD]: less(LOW, 8) } }),
      she,
    );
    expect(headline.text).toBe(
      "High, against low: beyond her scatter: lead foot load share at impact (8 points less).",
    );
    expect(rows[0]?.sentence.text).toBe(
      "High: 8 points less lead foot load share at impact than low (7 to 9 points; 9 and 9 shots; p below 0.001, exact, 1 measure looked at).",
    );
    expect(lines).toEqual([rows[0]?.sentence]);
    expect(rows[0]).toMatchObject({
      a: "71.6 %",
      b: "63.6 %",
      difference: "−8 points",
      interval: "−9 to −7 points",
      verdict: "beyond scatter",
    });
    expect(rows[0]?.sentence.inputs[0]).toMatchObject({
      unit: "points",
      name: "Lead foot load share at impact, difference",
    });
    expect(looks.map(({ rule }) => rule)).toEqual(["looks"]);
  });

  test("within scatter: what so many shots could have shown", () => {
    const b = { name: "high", values: { [LEAD]: [71, 72, 70, 73, 71, 72, 70, 73, 72] } };
    const { headline, rows, lines } = comparisonReading(
      handMadeComparison({ name: "low", values: { [LEAD]: LOW } }, b),
      she,
    );
    expect(headline.text).toMatch(
      /^Nothing here is beyond her scatter\. 9 shots could have shown [12](\.\d)? points?\.$/,
    );
    expect(rows[0]?.sentence.text).toMatch(
      /^No change beyond scatter in lead foot load share at impact \(−1.* to 1.* points?; 9 and 9 shots\)\. 9 shots could/,
    );
    expect(lines).toEqual([]);
  });

  test("a time is later or earlier, not more or less", () => {
    const a = { name: "low", values: { [WHEN]: [-60, -58, -62, -61, -59, -60] } };
    const b = { name: "high", values: { [WHEN]: [-20, -18, -22, -21, -19, -24] } };
    expect(comparisonReading(handMadeComparison(a, b)).rows[0]?.sentence.text).toMatch(
      /^High: time of peak target force 39 ms later than low \(37 to 42 ms;/,
    );
  });

  test("four shots a side are too few for any word", () => {
    const [a, b] = [LOW.slice(0, 4), less(LOW, 30).slice(0, 4)];
    const { headline, rows } = comparisonReading(
      handMadeComparison({ name: "low", values: { [LEAD]: a } }, { name: "high", values: { [LEAD]: b } }),
    );
    expect(headline.text).toBe("Too few to tell: 4 shots. Words need 5 of each.");
    expect(rows[0]?.sentence.rule).toBe("too-few");
  });
});

describe("between lies", () => {
  const values = [100, 103, 98, 101, 99, 102, 100];
  const flat = { name: "flat", values: { [PUSH]: values } };
  const up = (added: number) => ({
    name: "upslope",
    values: { [PUSH]: values.map((value, k) => value + 68 + added + (k % 2)) },
    slopeShare: 68,
    pitchDeg: 5,
  });

  test("what the slope alone gives is said, and nothing beyond it", () => {
    const reading = comparisonReading(handMadeComparison(flat, up(0)), she);
    expect(reading.rows[0]?.sentence.text).toBe(
      "Upslope: 68 N more peak target force than flat, of which the slope alone gives +68 N. Nothing beyond that and the scatter.",
    );
    expect(reading.headline.rule).toBe("nothing-beyond");
    expect(reading.notices.map(({ rule }) => rule)).toContain("between-lies");
  });

  test("what she adds stands beside the slope's share, and the parts add up", () => {
    const [row] = comparisonReading(handMadeComparison(flat, up(20)), she).rows;
    expect(row?.sentence.text).toMatch(
      /^Upslope: 88 N more peak target force than flat; the slope alone gives \+68 N; she adds \+20 N \(18 to 23 N;/,
    );
    expect(row?.slopeShare).toBe("+68 N");
  });
});

test("other clubs are named before the headline; order that cannot be told from time, in the notices", () => {
  const a = { name: "low", values: { [LEAD]: LOW }, ordinals: [1, 2, 3, 4, 5, 6, 7, 8, 9] };
  const b = {
    name: "high",
    values: { [LEAD]: less(LOW, 8) },
    ordinals: [11, 12, 13, 14, 15, 16, 17, 18, 19],
    club: "lob wedge",
  };
  const { different, headline, notices, rows } = comparisonReading(handMadeComparison(a, b));
  expect(different.map(({ text }) => text)).toEqual([
    "Different clubs: low sand wedge, high lob wedge. What differs may be theirs.",
  ]);
  expect(notices.map(({ text }) => text)).toContain(
    "All low came before all high: a change with time would look the same.",
  );
  expect(headline.rule).toBe("no-verdict-here");
  expect(rows[0]?.verdict).toBe("no verdict");
});
