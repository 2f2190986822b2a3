import type { Outcome, OutcomeMeasure } from "@underfoot/compare";
import { expect, test } from "vitest";
import { linkNumber } from "./link-number.ts";

const outcome = (countMeasures: number) => ({ looks: { countMeasures, countPairs: 1, times: 1 } }) as Outcome;
const row = (part: object) => ({ p: 0.004, adjustedP: 0.02, ...part }) as OutcomeMeasure;

test("a rank correlation stands on a scale from −1 to +1, its interval decides the digits", () => {
  const correlation = { kind: "association", value: -0.424, low: -0.71, high: -0.021 };
  expect(linkNumber(outcome(3), row({ correlation }))).toMatchObject({
    text: "−0.4 (−0.7 to 0.0)",
    pText: "p 0.004 alone, 0.020 after allowing for the 3 measures looked at.",
  });
  expect(linkNumber(outcome(1), row({ correlation }))?.at).toBeCloseTo(0.288, 12);
  expect(linkNumber(outcome(1), row({ correlation }))?.pText).toBe("p 0.020, one measure looked at.");
});

test("eight or nine shots have a coefficient and no interval", () => {
  const correlation = { kind: "association", value: 0.5, low: Number.NaN, high: Number.NaN };
  const found = linkNumber(outcome(1), row({ correlation }));
  expect(found?.text).toBe("0.5, no interval from so few");
  expect(found?.low).toBeNaN();
});

test("for mishits the share of pairs, with its interval; nothing where it is withheld", () => {
  const area = { kind: "area-under-curve", value: 0.815, low: 0.61, high: 0.93 };
  expect(linkNumber(outcome(1), row({ area }))).toMatchObject({ at: 0.815, text: "82 % (61 to 93 %)" });
  expect(linkNumber(outcome(1), row({ area: { kind: "withheld", reason: "too-few", n: [3, 9] } }))).toBeUndefined();
  expect(linkNumber(outcome(1), row({}))).toBeUndefined();
});
