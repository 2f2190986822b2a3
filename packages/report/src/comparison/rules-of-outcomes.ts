import type { Outcome, OutcomeMeasure, OutcomeName } from "@underfoot/compare";
import { asRatio } from "../numbers.ts";
import { input } from "../sentence.ts";
import { countInput, countText, pInput, resolutionOf } from "./estimate-text.ts";
import { directionOf, titleInside } from "./measure-words.ts";
import type { WordedRule } from "./worded-rule.ts";

/** One measure against the results of one player's shots. */
export interface OutcomeFacts {
  readonly row: OutcomeMeasure;
  readonly outcome: Outcome;
}

/** What more of a result is called: rank correlation above 0 goes with this. */
export const OUTCOME_WORDS: Readonly<Record<OutcomeName, { readonly what: string; readonly more: string }>> = {
  strikeToe: { what: "strike place from heel to toe", more: "strikes nearer the toe" },
  strikeUp: { what: "strike height on the face", more: "strikes higher on the face" },
  startLine: { what: "start line", more: "starts farther right" },
  carry: { what: "carry", more: "longer carry" },
  mishit: { what: "mishits", more: "mishits" },
};

const MORE = "more|less|later|earlier|longer|shorter";

const correlationOf = ({ row }: OutcomeFacts) => (row.correlation?.kind === "withheld" ? undefined : row.correlation);
const areaOf = ({ row }: OutcomeFacts) => (row.area?.kind === "withheld" ? undefined : row.area);

function isClearMishit(facts: OutcomeFacts): boolean {
  const area = areaOf(facts);
  return facts.row.say === "link" && area !== undefined && (area.low > 0.5 || area.high < 0.5);
}

/** Shots with both numbers. */
const countOf = ({ row }: OutcomeFacts): number => row.points.filter(({ value }) => Number.isFinite(value)).length;

function noneSlots(facts: OutcomeFacts) {
  const shots = countOf(facts);
  return {
    slots: {
      measure: titleInside(facts.row.title),
      outcome: OUTCOME_WORDS[facts.outcome.outcome].what,
      n: String(shots),
      shots: countText(shots, "shot"),
    },
    inputs: [countInput("shots", shots), pInput("p after allowing for looks", facts.row.adjustedP)],
  };
}

/** What may be said of a measure and a result within one player: a link in these shots, never a cause. The first that may speak. */
export const OUTCOME_RULES: readonly WordedRule<OutcomeFacts>[] = [
  {
    id: "assoc",
    condition:
      "Ten shots or more with a result; rank correlation within conditions, p after allowing for all measures looked at no more than 0.05.",
    templates: [
      `In these {n} shots, {${MORE}} {measure} went with {outcome} (rank correlation {rho}, {interval}). That does not show that one causes the other.`,
      `In these {n} shots, {${MORE}} {measure} went with {outcome} (rank correlation {rho}). That does not show that one causes the other.`,
    ],
    maySay: (facts) => facts.row.say === "link" && correlationOf(facts) !== undefined,
    filled: (facts) => {
      const { value = Number.NaN, low = Number.NaN, high = Number.NaN } = correlationOf(facts) ?? {};
      const resolution = resolutionOf({ low, high });
      const number = (rho: number): string => asRatio(rho, resolution).text;
      return {
        template: Number.isFinite(low) ? 0 : 1,
        slots: {
          ...noneSlots(facts).slots,
          outcome: OUTCOME_WORDS[facts.outcome.outcome].more,
          [MORE]: directionOf(facts.row, value),
          rho: number(value),
          interval: `${number(low)} to ${number(high)}`,
        },
        inputs: [
          { ...input("rank correlation", value, "1"), ...(Number.isFinite(low) ? { low, high } : {}) },
          ...noneSlots(facts).inputs,
        ],
      };
    },
  },
  {
    id: "miss",
    condition:
      "Four mishits and four clean shots or more, ten shots together; p of Firth’s logistic regression after allowing for looks no more than 0.05, and the interval of the share of pairs leaves out one half.",
    templates: [
      `Mishits tended to have {${MORE}} {measure}: of a mishit and a clean shot, {auc} % of pairs in that order ({interval} %).`,
    ],
    maySay: isClearMishit,
    filled: (facts) => {
      const { value = Number.NaN, low = Number.NaN, high = Number.NaN } = areaOf(facts) ?? {};
      const isLess = value < 0.5;
      const share = (of: number): string => String(Math.round(100 * (isLess ? 1 - of : of)));
      const [from, to] = isLess ? [high, low] : [low, high];
      return {
        slots: {
          ...noneSlots(facts).slots,
          [MORE]: directionOf(facts.row, value - 0.5),
          auc: share(value),
          interval: `${share(from)} to ${share(to)}`,
        },
        inputs: [
          { ...input("share of pairs with the larger value at the mishit", value, "1"), low, high },
          ...noneSlots(facts).inputs,
        ],
      };
    },
  },
  {
    id: "assoc-few",
    condition: "Fewer than ten shots with a result, or fewer than four mishits or four clean shots.",
    templates: [
      "{shots} with a known result: too few for words on {measure} and {outcome}. Words need 10.",
      "{shots}, too few mishits or clean ones for words on {measure}: it needs 4 of each, and 10 together.",
    ],
    maySay: ({ row }) => row.say === "too-few",
    filled: (facts) => ({ ...noneSlots(facts), template: facts.outcome.outcome === "mishit" ? 1 : 0 }),
  },
  {
    id: "assoc-none",
    condition: "Ten shots or more with a result, and no link that stays after allowing for looks.",
    templates: ["No clear link between {measure} and {outcome} in these {n} shots."],
    maySay: () => true,
    filled: noneSlots,
  },
];

/** What is said of results and measures together. */
export const OUTCOME_WHOLE_RULES: readonly WordedRule<{ readonly outcome: Outcome }>[] = [
  {
    id: "outcome-several-lies",
    condition: "Carry or start line of shots on several lies.",
    templates: ["{outcome} is not pooled across lies: a lie alone changes it. Choose one lie."],
    maySay: ({ outcome }) => outcome.withheld === "several-lies",
    filled: ({ outcome }) => ({ slots: { outcome: OUTCOME_WORDS[outcome.outcome].what }, inputs: [] }),
  },
  {
    id: "outcome-none",
    condition: "No shot has the result.",
    templates: ["No shot here has a known {outcome}. Enter results with the shots."],
    maySay: ({ outcome }) => outcome.n === 0,
    filled: ({ outcome }) => ({ slots: { outcome: OUTCOME_WORDS[outcome.outcome].what }, inputs: [] }),
  },
  {
    id: "links",
    condition: "Links that stay after allowing for all measures looked at.",
    templates: [
      "In these shots {k} of {measures} went with {outcome}. That does not show a cause.",
      "In these shots none of {measures} went clearly with {outcome}.",
      "Too few shots for words: {shots} with a known result, and words need 10.",
    ],
    maySay: () => true,
    filled: ({ outcome }) => {
      const count = outcome.measures.filter(({ say }) => say === "link").length;
      const isFew = outcome.measures.every(({ say }) => say === "too-few");
      return {
        template: isFew ? 2 : count > 0 ? 0 : 1,
        slots: {
          k: String(count),
          measures: countText(outcome.looks.countMeasures, "measure"),
          outcome: OUTCOME_WORDS[outcome.outcome].what,
          shots: countText(outcome.n, "shot"),
        },
        inputs: [countInput("shots", outcome.n), countInput("measures looked at", outcome.looks.countMeasures)],
      };
    },
  },
];

/** What must be known to read it. */
export const OUTCOME_NOTICE_RULES: readonly WordedRule<{ readonly outcome: Outcome }>[] = [
  {
    id: "within-conditions",
    condition: "Shots of several conditions.",
    templates: ["{count} conditions, compared within each, so that what was asked does not pose as a cause."],
    maySay: ({ outcome }) => outcome.conditions.length > 1,
    filled: ({ outcome: { conditions } }) => ({
      slots: { count: String(conditions.length) },
      inputs: [countInput("conditions", conditions.length)],
    }),
  },
  {
    id: "result-unknown",
    condition: "Some shots have no known result.",
    templates: ["{shots} without a known result left out."],
    maySay: ({ outcome }) => outcome.countUnknown > 0,
    filled: ({ outcome: { countUnknown } }) => ({
      slots: { shots: countText(countUnknown, "shot") },
      inputs: [countInput("shots without result", countUnknown)],
    }),
  },
  {
    id: "one-player",
    condition: "Always beside results.",
    templates: ["These shots are one player’s: what goes together here need not in others."],
    maySay: () => true,
    filled: () => ({ slots: {}, inputs: [] }),
  },
];
