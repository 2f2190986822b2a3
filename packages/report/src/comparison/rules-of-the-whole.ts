import type { ComparedMeasure, Comparison } from "@underfoot/compare";
import type { Looks } from "@underfoot/statistics";
import type { PronounForms } from "../pronoun.ts";
import {
  amountInput,
  countInput,
  countText,
  differenceInput,
  estimateText,
  expectedText,
  listText,
  shotCounts,
  thousands,
} from "./estimate-text.ts";
import {
  couldText,
  directionIn,
  freedOf,
  hasShare,
  LEAST_FOR_WORDS,
  type MeasureFacts,
  shareText,
  sigmaOf,
} from "./measure-facts.ts";
import { titleInside } from "./measure-words.ts";
import { reasonOf } from "./rules-of-measures.ts";
import type { WordedRule } from "./worded-rule.ts";

/** What rules of a comparison as a whole may look at. */
export interface WholeFacts {
  readonly comparison: Comparison;
  readonly player: PronounForms;
}

/** Measures named in the headline; of more only the number is said. */
const MOST_NAMED = 4;

const byRank = (one: ComparedMeasure, other: ComparedMeasure): number => Math.abs(other.steps) - Math.abs(one.steps);

const factsOf = ({ comparison, player }: WholeFacts, row: ComparedMeasure): MeasureFacts => ({
  comparison,
  player,
  row,
});

/** What stays beyond after allowing for looks, the largest in steps of scatter first. */
function beyond({ comparison }: WholeFacts): readonly ComparedMeasure[] {
  return comparison.measures.filter(({ verdict }) => verdict === "beyondScatter").toSorted(byRank);
}

/** "lead foot load share at impact (8 points less)"; between lies the slope's share stands beside it. */
function namedBeyond(facts: WholeFacts, row: ComparedMeasure): string {
  const measure = factsOf(facts, row);
  const freed = freedOf(measure);
  if (freed === undefined) return titleInside(row.title);
  const { size, signed } = estimateText(freed, row.unit, sigmaOf(row));
  const what = hasShare(measure)
    ? `${signed} beside the slope’s share of ${shareText(measure)}`
    : `${size} ${directionIn(measure, freed.value)}`;
  return `${titleInside(row.title)} (${what})`;
}

/** The measure whose reach is told where nothing is beyond: what was named or asked before what was merely looked at. */
function reachOf({ comparison }: WholeFacts): ComparedMeasure | undefined {
  return comparison.measures.find(({ verdict, detectable }) => verdict !== "tooFew" && detectable > 0);
}

const curvesBeyond = ({ comparison }: WholeFacts) =>
  (comparison.curves?.curves ?? []).filter(({ stretches }) => stretches.length > 0);

const isTooFew = ({ comparison: { a, b } }: WholeFacts): boolean =>
  Math.min(a.shotIds.length, b.shotIds.length) < LEAST_FOR_WORDS;

const hasMeasures = ({ comparison }: WholeFacts, verdict: ComparedMeasure["verdict"]): boolean =>
  comparison.measures.length > 0 && comparison.measures.every((row) => row.verdict === verdict);

/** The headline: the first that may speak. Nothing is said that does not survive the correction for looks. */
export const HEADLINE_RULES: readonly WordedRule<WholeFacts>[] = [
  {
    id: "only-mishits",
    condition: "A side has shots, but none that counts.",
    templates: ["No kept shot in {side}: only mishits and shots left out, so there is nothing to compare."],
    maySay: ({ comparison: { a, b } }) => [a, b].some((side) => side.shotIds.length === 0),
    filled: ({ comparison: { a, b } }) => ({
      slots: { side: listText([a, b].filter(({ shotIds }) => shotIds.length === 0).map(({ name }) => name)) },
      inputs: [],
    }),
  },
  {
    id: "too-few-here",
    condition: "Fewer than five shots that count on a side.",
    templates: ["Too few to tell: {shots}. Words need 5 of each."],
    maySay: isTooFew,
    filled: ({ comparison: { a, b } }) => ({
      slots: { shots: shotCounts(a.shotIds.length, b.shotIds.length) },
      inputs: [countInput(`shots of ${a.name}`, a.shotIds.length), countInput(`shots of ${b.name}`, b.shotIds.length)],
    }),
  },
  {
    id: "no-verdict-here",
    condition: "Order, lies, sessions or the values forbid a verdict on every measure.",
    templates: ["No verdict here: {reason}."],
    maySay: (facts) => hasMeasures(facts, "withheld"),
    filled: ({ comparison: { measures } }) => ({
      slots: { reason: reasonOf(measures.flatMap(({ reasons }) => reasons)) },
      inputs: [],
    }),
  },
  {
    id: "unreachable-here",
    condition: "The smallest p that these counts can give exceeds the level for every measure.",
    templates: ["{shots} in this order cannot show a difference in {measures}, however large."],
    maySay: (facts) => hasMeasures(facts, "unreachable"),
    filled: ({ comparison: { a, b, looks } }) => ({
      slots: {
        shots: shotCounts(a.shotIds.length, b.shotIds.length),
        measures: countText(looks.countMeasures, "measure"),
      },
      inputs: [countInput("measures looked at", looks.countMeasures)],
    }),
  },
  {
    id: "beyond-here",
    condition: "Measures that stay beyond scatter after allowing for all that was looked at.",
    templates: [
      "{B}, against {A}: 1 of {M} measures is beyond {possessive} scatter: {list}.",
      "{B}, against {A}: {k} of {M} measures are beyond {possessive} scatter: {list}.",
      "{B}, against {A}: beyond {possessive} scatter: {list}.",
    ],
    maySay: (facts) => beyond(facts).length > 0,
    filled: (facts) => {
      const { comparison, player } = facts;
      const found = beyond(facts);
      const named = found.slice(0, MOST_NAMED).map((row) => namedBeyond(facts, row));
      const rest = found.length - named.length;
      return {
        template: comparison.measures.length === 1 ? 2 : found.length === 1 ? 0 : 1,
        slots: {
          A: comparison.a.name,
          B: comparison.b.name,
          k: String(found.length),
          M: String(comparison.measures.length),
          possessive: player.possessive,
          list: listText([...named, ...(rest > 0 ? [`${rest} more`] : [])]),
        },
        inputs: found.flatMap((row) => {
          const freed = freedOf(factsOf(facts, row));
          return freed === undefined ? [] : [differenceInput(row.title, freed, row.unit)];
        }),
      };
    },
  },
  {
    id: "curve-beyond-here",
    condition: "No measure stays beyond scatter, but over the whole curve there is a stretch that does.",
    templates: [
      "No single measure is beyond {possessive} scatter; over time {list} {is|are}.",
      "No single measure is beyond {possessive} scatter and the slope’s share; over time {list} {is|are}.",
    ],
    maySay: (facts) => curvesBeyond(facts).length > 0,
    filled: (facts) => {
      const found = curvesBeyond(facts);
      return {
        template: facts.comparison.design.isBetweenLies ? 1 : 0,
        slots: {
          possessive: facts.player.possessive,
          list: listText(found.map(({ title }) => titleInside(title))),
          "is|are": found.length === 1 ? "is" : "are",
        },
        inputs: [countInput("curves beyond scatter", found.length)],
      };
    },
  },
  {
    id: "nothing-beyond",
    condition: "No measure stays beyond scatter after allowing for all that was looked at.",
    templates: [
      "Nothing here is beyond {possessive} scatter.{could}",
      "Nothing here is beyond {possessive} scatter. {shots} could have shown {detectable} in {measure}.",
    ],
    maySay: () => true,
    filled: (facts) => {
      const { comparison, player } = facts;
      const row = reachOf(facts);
      const [nA = 0, nB = nA] = row === undefined || row.freed.kind === "withheld" ? [] : row.freed.n;
      const isNamed = row !== undefined && comparison.measures.length > 1 && row.freed.kind !== "withheld";
      return {
        template: isNamed ? 1 : 0,
        slots: {
          possessive: player.possessive,
          could: row === undefined ? "" : couldText(factsOf(facts, row)),
          shots: shotCounts(nA, nB),
          detectable: row === undefined ? "" : reachText(row),
          measure: titleInside(row?.title ?? ""),
        },
        inputs: [
          countInput("measures looked at", comparison.looks.countMeasures),
          ...(row === undefined ? [] : [amountInput("so many shots could have shown", row.detectable, row.unit)]),
        ],
      };
    },
  },
];

function reachText({ detectable, unit }: ComparedMeasure): string {
  const value = estimateText({ value: detectable, low: 0, high: 2 * detectable }, unit);
  return value.size;
}

/** How levels were corrected, in words, by what was done to the measures. */
const CORRECTIONS = {
  none: "not corrected where one measure stands alone",
  "max-t": "corrected for all measures of a family at once (largest t over common labellings)",
  "max-t-and-holm": "by the stricter of that and Holm’s rule where scatters differ",
  holm: "by Holm’s rule where values are missing",
} as const satisfies Record<ComparedMeasure["adjustedBy"], string>;

/** What the `looks` sentence is made of. */
export interface LooksFacts {
  readonly looks: Looks;
  /** How levels were corrected, in words; none where nothing was judged. */
  readonly corrected: readonly string[];
  /** Curves beside the measures, a family of their own; none by default. */
  readonly countCurves?: number;
}

/** The corrections that were used in a comparison, in words. */
export function correctionsOf(measures: Comparison["measures"]): readonly string[] {
  const used = new Set(measures.filter(({ pMethod }) => pMethod !== "none").map(({ adjustedBy }) => adjustedBy));
  const order = ["max-t", "max-t-and-holm", "holm", "none"] as const;
  return order.filter((one) => used.has(one)).map((one) => CORRECTIONS[one]);
}

/** Said under everything that holds a comparison. */
export const LOOKS_RULE: WordedRule<LooksFacts> = {
  id: "looks",
  condition: "Always.",
  templates: [
    "{measures}, {pairs}, looked at {times}; levels {corrected}.",
    "{measures}, {pairs}, looked at {times}; no level to correct.",
  ],
  maySay: () => true,
  filled: ({ looks, corrected, countCurves = 0 }) => ({
    template: corrected.length === 0 ? 1 : 0,
    slots: {
      measures: `${countText(looks.countMeasures, "measure")}${countCurves > 0 ? ` and ${countText(countCurves, "curve")}` : ""}`,
      pairs: countText(looks.countPairs, "comparison"),
      times: looks.times === 1 ? "once" : `${thousands(looks.times)} times`,
      corrected: listText(corrected),
    },
    inputs: [
      countInput("measures", looks.countMeasures),
      ...(countCurves > 0 ? [countInput("curves", countCurves)] : []),
      countInput("comparisons", looks.countPairs),
      countInput("looks", looks.times),
    ],
  }),
};

/** What chance alone gives. */
export const CHANCE_RULES: readonly WordedRule<Pick<WholeFacts, "comparison">>[] = [
  {
    id: "by-chance",
    condition: "Several measures were looked at and judged.",
    templates: [
      "If nothing had changed, about {expected} of {M} would still fall beyond by chance. Here {alone} did, {beyond} after allowing for looks.",
    ],
    maySay: ({ comparison }) =>
      comparison.summary.countMeasures > 1 && comparison.measures.some(({ pMethod }) => pMethod !== "none"),
    filled: ({ comparison: { summary } }) => ({
      slots: {
        expected: expectedText(summary.expectedByChance),
        M: String(summary.countMeasures),
        alone: String(summary.countAlone),
        beyond: String(summary.countBeyond),
      },
      inputs: [
        countInput("beyond by themselves", summary.countAlone),
        countInput("beyond after allowing for looks", summary.countBeyond),
      ],
    }),
  },
];
