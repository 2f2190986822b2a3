import { levelOfLook, smallestFreeP, type VerdictReason } from "@underfoot/statistics";
import { differenceText } from "../unit-text.ts";
import { amountInput, differenceInput, estimateText, resolutionOf } from "./estimate-text.ts";
import {
  couldText,
  countsOf,
  differenceInputs,
  differenceSlots,
  directionIn,
  freedOf,
  hasShare,
  hasWords,
  LEAST_FOR_WORDS,
  LOOKED,
  type MeasureFacts,
  sigmaOf,
} from "./measure-facts.ts";
import { isAmount, titleInside } from "./measure-words.ts";
import { addingUp } from "./share-text.ts";
import type { Filling, WordedRule } from "./worded-rule.ts";

type MeasureRule = WordedRule<MeasureFacts>;

/** A count above this is no help. */
const MOST_NEEDED = 60;

const AMOUNT = "{more|less}";
const PLACE = "{higher|lower|later|earlier|longer|shorter}";
const BRACKETS = `({interval}; {slopeNote}{nA} and {nB} shots; p {p}, {M} {${LOOKED}} looked at)`;
const SLOPE = `the slope alone gives {share}; {subject} {adds|add} {d} ({interval}; {nA} and {nB} shots; p {p}, {M} {${LOOKED}} looked at)`;

/** Between lies raw, share and the player's part add up as they are written. */
function slopeSlots(facts: MeasureFacts): Readonly<Record<string, string>> {
  const { row, player } = facts;
  const freed = freedOf(facts);
  if (freed === undefined || row.raw.kind === "withheld") return {};
  const least = Math.max(sigmaOf(row), resolutionOf(row.raw));
  const { raw, share, left } = addingUp(
    freed,
    { raw: row.raw.value, slopeShare: row.slopeShare, unit: row.unit },
    least,
  );
  return {
    ...{ raw, share, d: left },
    subject: player.subject,
    "adds|add": player.s === "s" ? "adds" : "add",
  };
}

function filledWith(facts: MeasureFacts, sign: number, slots: Filling["slots"]): Filling {
  const freed = freedOf(facts);
  if (freed === undefined) throw new RangeError("a measure without a difference has no sentence about one");
  const word = directionIn(facts, sign);
  return {
    template: isAmount(word) ? 0 : 1,
    slots: { ...differenceSlots(facts, freed), ...slots, [(isAmount(word) ? AMOUNT : PLACE).slice(1, -1)]: word },
    inputs: differenceInputs(facts, freed),
  };
}

/** The difference as it is, in the direction of the difference. */
function plain(facts: MeasureFacts, slots: Filling["slots"] = {}): Filling {
  return filledWith(facts, freedOf(facts)?.value ?? 0, slots);
}

/** Raw difference, slope's share, and what is left; the interval then carries its own signs. */
function withShare(facts: MeasureFacts): Filling {
  const { row } = facts;
  const freed = freedOf(facts);
  const raw = row.raw.kind === "withheld" ? 0 : row.raw.value;
  const range = freed === undefined ? "" : estimateText(freed, row.unit, sigmaOf(row)).range;
  return filledWith(facts, raw, { ...slopeSlots(facts), interval: range });
}

const is = (verdict: string) => (facts: MeasureFacts) => hasWords(facts) && facts.row.verdict === verdict;

/** With the slope's share in it the difference leaves the scatter. */
function isRawBeyond({ row: { raw } }: MeasureFacts): boolean {
  return raw.kind !== "withheld" && raw.low * raw.high > 0;
}

/** Shots a side that could reach the level of this look; undefined where the plan's blocks decide it. */
function shotsNeeded({ row, comparison }: MeasureFacts): number | undefined {
  const { kind } = comparison.design;
  if (kind !== "free" && kind !== "paired") return undefined;
  const level = levelOfLook({ kind: "unplanned", times: comparison.looks.times });
  const counted = row.adjustedBy === "holm" ? comparison.looks.countMeasures : 1;
  const smallest = (n: number): number => (kind === "free" ? smallestFreeP(n, n) : 2 ** (1 - n));
  return Array.from({ length: MOST_NEEDED }, (_, k) => k + LEAST_FOR_WORDS).find((n) => smallest(n) * counted <= level);
}

/** Why no verdict is given. */
const REASONS: Readonly<Partial<Record<VerdictReason, string>>> = {
  "lie-once": "a lie was visited once, so lie and time cannot be told apart",
  "order-confounded": "order and condition cannot be told apart",
  dependent: "no session holds both sides",
  "no-scatter": "the values do not vary",
  "too-few": "too few shots have it",
};

/** Why there is no verdict, in words. */
export const reasonOf = (reasons: readonly VerdictReason[]): string =>
  reasons.map((reason) => REASONS[reason]).find((words) => words !== undefined) ?? "some values are missing";

/** What may be said of one measure of condition against condition: the first that may speak is the row's sentence. */
export const MEASURE_RULES: readonly MeasureRule[] = [
  {
    id: "beyond-slope",
    condition:
      "As beyond, between lies, where gravity has a share in the measure: judged is what is left without the slope's share.",
    templates: [
      `{B}: {raw} ${AMOUNT} {measure} than {A}; ${SLOPE}.`,
      `{B}: {measure} {raw} ${PLACE} than {A}; ${SLOPE}.`,
    ],
    maySay: (facts) => is("beyondScatter")(facts) && hasShare(facts),
    filled: withShare,
  },
  {
    id: "beyond",
    condition:
      "Five shots a side or more; p after allowing for the family at most 0.05 (at looks between shots less); the 95 % interval leaves out no difference; more than twice what all shots of a side share.",
    templates: [
      `{B}: {d} ${AMOUNT} {measure} than {A} ${BRACKETS}.`,
      `{B}: {measure} {d} ${PLACE} than {A} ${BRACKETS}.`,
    ],
    maySay: is("beyondScatter"),
    filled: plain,
  },
  {
    id: "slope-only",
    condition: "Between lies: with the slope's share the difference leaves the scatter, without it not.",
    templates: [
      `{B}: {raw} ${AMOUNT} {measure} than {A}, of which the slope alone gives {share}. Nothing beyond that and the scatter.`,
      `{B}: {measure} {raw} ${PLACE} than {A}, of which the slope alone gives {share}. Nothing beyond that and the scatter.`,
    ],
    maySay: (facts) =>
      (is("withinScatter")(facts) || is("beyondAlone")(facts)) && hasShare(facts) && isRawBeyond(facts),
    filled: withShare,
  },
  {
    id: "beyond-alone",
    condition: "As beyond by p of this measure alone, not after allowing for all that was looked at.",
    templates: [
      `{B}: {d} ${AMOUNT} {measure} than {A} ({interval}; {slopeNote}{nA} and {nB} shots): beyond scatter by itself, not after {M} {${LOOKED}} looked at (p {p}).`,
      `{B}: {measure} {d} ${PLACE} than {A} ({interval}; {slopeNote}{nA} and {nB} shots): beyond scatter by itself, not after {M} {${LOOKED}} looked at (p {p}).`,
      `Less the slope’s share of {share}, {measure} differs by {d} ({interval}; {nA} and {nB} shots): beyond scatter by itself, not after {M} {${LOOKED}} looked at (p {p}).`,
    ],
    maySay: is("beyondAlone"),
    filled: (facts) => (hasShare(facts) ? { ...withShare(facts), template: 2 } : plain(facts)),
  },
  {
    id: "equivalent",
    condition:
      "A margin was set before, and two one-sided tests lie at 0.05 or below: the 90 % interval lies within the margin.",
    templates: [
      "{Measure} is the same to within {delta}, the margin set before ({interval}).",
      "Less the slope’s share of {share}, {measure} is the same to within {delta}, the margin set before ({interval}).",
    ],
    maySay: (facts) => is("equivalent")(facts) && facts.row.equivalence?.isEquivalent === true,
    filled: (facts) => {
      const { row } = facts;
      const { low90: low = Number.NaN, high90: high = Number.NaN, margin = Number.NaN } = row.equivalence ?? {};
      const value = freedOf(facts)?.value ?? Number.NaN;
      const { range } = estimateText({ value, low, high }, row.unit, sigmaOf(row));
      return {
        template: hasShare(facts) ? 1 : 0,
        slots: {
          ...plain(facts).slots,
          ...slopeSlots(facts),
          Measure: row.title,
          delta: differenceText(margin, row.unit, margin / 10).text,
          interval: range,
        },
        inputs: [
          differenceInput(`${row.title}, difference, 90 % interval`, { value, low, high }, row.unit),
          amountInput("margin", margin, row.unit),
        ],
      };
    },
  },
  {
    id: "unreachable",
    condition: "The smallest p that these counts can give exceeds the level.",
    templates: [
      `{nA} and {nB} shots cannot show a difference in {M} {${LOOKED}}, however large; {need} of each could.`,
      `{nA} and {nB} shots in this order cannot show a difference in {M} {${LOOKED}}, however large.`,
    ],
    maySay: is("unreachable"),
    filled: (facts) => {
      const need = shotsNeeded(facts);
      return { ...plain(facts, { need: String(need) }), template: need === undefined ? 1 : 0 };
    },
  },
  {
    id: "within",
    condition: "Five shots a side or more, not beyond. Not the same as shown to be alike.",
    templates: [
      "No change beyond scatter in {measure} ({interval}; {slopeNote}{nA} and {nB} shots).{could}",
      "Less the slope’s share of {share}, no change beyond scatter in {measure} ({interval}; {nA} and {nB} shots).{could}",
    ],
    maySay: is("withinScatter"),
    filled: (facts) => {
      const { row } = facts;
      const freed = freedOf(facts);
      const range = freed === undefined ? "" : estimateText(freed, row.unit, sigmaOf(row)).range;
      const base = hasShare(facts) ? withShare(facts) : plain(facts);
      return {
        template: hasShare(facts) ? 1 : 0,
        slots: { ...base.slots, interval: range, could: couldText(facts) },
        inputs: [...base.inputs, amountInput("so many shots could have shown", row.detectable, row.unit)],
      };
    },
  },
  {
    id: "too-few",
    condition: "Fewer than five shots on a side.",
    templates: ["{nA} and {nB} shots: too few to tell. Words need 5 of each."],
    maySay: ({ row }) => row.verdict === "tooFew",
    filled: (facts) => ({ slots: countsOf(facts), inputs: [] }),
  },
  {
    id: "withheld",
    condition: "Order, lie, sessions or the values forbid a verdict.",
    templates: ["No verdict on {measure}: {reason}."],
    maySay: ({ row }) => row.verdict === "withheld",
    filled: ({ row }) => ({
      slots: { measure: titleInside(row.title), reason: reasonOf(row.reasons) },
      inputs: [],
    }),
  },
];
