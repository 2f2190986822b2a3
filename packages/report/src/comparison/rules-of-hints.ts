import { differenceText } from "../unit-text.ts";
import { amountInput, countInput, differenceInput, estimateText, pInput, pText } from "./estimate-text.ts";
import { freedOf, hasShare, hasWords, type MeasureFacts, shareText, sigmaOf } from "./measure-facts.ts";
import { titleInside } from "./measure-words.ts";
import type { WordedRule } from "./worded-rule.ts";

/** Verdicts in words, as the marks' legend has them. */
const VERDICTS = {
  beyondScatter: "beyond scatter",
  beyondAlone: "beyond scatter by itself only",
  withinScatter: "within scatter",
  equivalent: "within the margin set before",
  unreachable: "out of reach of these counts",
  tooFew: "too few to tell",
  withheld: "without a verdict",
} as const;

/** A side whose measure moved during its session; undefined where neither did. */
function driftedSide({ row, comparison }: MeasureFacts) {
  const side = row.a.drift?.isDrift ? "a" : row.b.drift?.isDrift ? "b" : undefined;
  const drift = side && row[side].drift;
  return drift && { name: comparison[side].name, drift };
}

/** What may be said beside the sentence of a measure. */
export const HINT_RULES: readonly WordedRule<MeasureFacts>[] = [
  {
    id: "explore",
    condition:
      "Of the measures merely looked at: not beyond, but q after Benjamini and Hochberg at most 0.05. A hint what to test, no verdict.",
    templates: [
      "Worth a planned test: {measure} ({d}). About 1 in 20 of such hints is false.",
      "Worth a planned test: {measure} ({d} beside the slope’s share of {share}). About 1 in 20 of such hints is false.",
    ],
    maySay: (facts) => hasWords(facts) && facts.row.q <= 0.05 && isUndecided(facts),
    filled: (facts) => {
      const { row } = facts;
      const freed = freedOf(facts) ?? { value: Number.NaN, low: Number.NaN, high: Number.NaN };
      return {
        template: hasShare(facts) ? 1 : 0,
        slots: {
          measure: titleInside(row.title),
          d: estimateText(freed, row.unit, sigmaOf(row)).signed,
          share: shareText(facts),
        },
        inputs: [differenceInput(`${row.title}, difference`, freed, row.unit), pInput("q", row.q)],
      };
    },
  },
  {
    id: "mishits-decide",
    condition:
      "Verdicts without and with the mishits differ: leaving them out selects on the outcome, so both are said.",
    templates: [
      "Leaving out the mishits decides here: {without} without them, {with} with them ({nA} and {nB} shots).",
    ],
    maySay: ({ row }) => row.mishitsDecide && row.withMishits !== undefined,
    filled: ({ row }) => ({
      slots: {
        without: VERDICTS[row.verdict],
        with: VERDICTS[row.withMishits?.verdict ?? row.verdict],
        nA: String(row.withMishits?.countA ?? 0),
        nB: String(row.withMishits?.countB ?? 0),
      },
      inputs: [
        pInput("p without mishits", row.adjustedP),
        pInput("p with mishits", row.withMishits?.adjustedP ?? Number.NaN),
      ],
    }),
  },
  {
    id: "shared-error",
    condition:
      "The labels alone would say beyond, but the difference does not exceed twice what all shots of a side share.",
    templates: ["Shots of one side share an uncertainty of {shared}: a difference must exceed twice that."],
    maySay: ({ row }) => row.reasons.includes("shared-error") && row.sigmaShared > 0,
    filled: ({ row }) => ({
      slots: { shared: differenceText(row.sigmaShared, row.unit, row.sigmaShared).text },
      inputs: [amountInput("shared by all shots of a side", row.sigmaShared, row.unit)],
    }),
  },
  {
    id: "visits",
    condition: "Between lies: two visits to one lie differ by as much.",
    templates: ["Two visits to one lie differed by {between}: a difference between lies must exceed that."],
    maySay: ({ row }) => row.reasons.includes("visits") && row.visitDifference !== undefined,
    filled: ({ row: { visitDifference = Number.NaN, unit } }) => ({
      slots: { between: differenceText(visitDifference, unit, visitDifference).text },
      inputs: [amountInput("largest difference between visits", visitDifference, unit)],
    }),
  },
  {
    id: "drift",
    condition:
      "Eight shots of a side or more, rank correlation with the shot number, exact p below 0.05. Nothing is corrected.",
    templates: ["{measure} {rose|fell} during the session in {side} (shot order, p {p})."],
    maySay: (facts) => driftedSide(facts) !== undefined,
    filled: (facts) => {
      const moved = driftedSide(facts);
      const { rho = 0, p = Number.NaN, n = 0 } = moved?.drift ?? {};
      return {
        slots: {
          measure: titleInside(facts.row.title),
          "rose|fell": rho > 0 ? "rose" : "fell",
          side: moved?.name ?? "",
          p: pText(p),
        },
        inputs: [countInput("shots", n), pInput("p", p)],
      };
    },
  },
];

function isUndecided({ row }: MeasureFacts): boolean {
  return row.verdict === "withinScatter" || row.verdict === "beyondAlone";
}
