import type { ShotAgainstShot, ShotAgainstUsual, ShotPairRow, ShotUsualRow, UsualMeasure } from "@underfoot/compare";
import type { PronounForms } from "../pronoun.ts";
import { input } from "../sentence.ts";
import { differenceText, unitText } from "../unit-text.ts";
import {
  amountInput,
  countInput,
  countText,
  differenceInput,
  expectedText,
  resolutionOf,
  signedText,
  valueRangeText,
} from "./estimate-text.ts";
import { directionOf, isAmount, titleInside } from "./measure-words.ts";
import type { WordedRule } from "./worded-rule.ts";

/** A measure of one condition. */
export type BandFacts = Pick<UsualMeasure, "title" | "unit" | "band">;

function bandOf({ band }: BandFacts) {
  return band.kind === "band" ? band : undefined;
}

/** Where the next shot falls, and how well that is known. */
export const BAND_RULES: readonly WordedRule<BandFacts>[] = [
  {
    id: "band",
    condition: "Five shots of the condition or more.",
    templates: ["Usual: {mean}, most shots between {range} ({shots})."],
    maySay: (facts) => bandOf(facts) !== undefined,
    filled: (facts) => {
      const { value = Number.NaN, low = Number.NaN, high = Number.NaN, n = [] } = bandOf(facts) ?? {};
      const resolution = resolutionOf({ low, high });
      return {
        slots: {
          mean: unitText(value, facts.unit, resolution).text,
          range: valueRangeText(low, high, facts.unit, resolution).replace(" to ", " and "),
          shots: countText(n[0] ?? 0, "shot"),
        },
        inputs: [{ ...input(facts.title, value, facts.unit), low, high }, countInput("shots", n[0] ?? 0)],
      };
    },
  },
  {
    id: "band-rough",
    condition: "Five to seven shots.",
    templates: ["With {shots} the scatter itself is uncertain: between {sLow} and {sHigh}."],
    maySay: (facts) => bandOf(facts)?.findings.includes("band-rough") === true,
    filled: (facts) => {
      const { sd = Number.NaN, sdLow = Number.NaN, sdHigh = Number.NaN, n = [] } = bandOf(facts) ?? {};
      return {
        slots: {
          shots: countText(n[0] ?? 0, "shot"),
          sLow: differenceText(sdLow, facts.unit, sdLow).text,
          sHigh: differenceText(sdHigh, facts.unit, sdLow).text,
        },
        inputs: [differenceInput("scatter (one sd)", { value: sd, low: sdLow, high: sdHigh }, facts.unit)],
      };
    },
  },
  {
    id: "no-band",
    condition: "Fewer than five shots.",
    templates: ["{shots} so far; the usual band needs 5."],
    maySay: ({ band }) => band.kind === "withheld",
    filled: ({ band }) => ({
      slots: { shots: countText(band.n[0] ?? 0, "shot") },
      inputs: [countInput("shots", band.n[0] ?? 0)],
    }),
  },
];

/** One measure of one shot, and whether it stands on another lie than the shots of its band. */
export interface ShotUsualFacts {
  readonly row: ShotUsualRow;
  readonly countShots: number;
}

function shotSlots({ row }: ShotUsualFacts) {
  const { band, value, sigma, unit, title, slopeShare } = row;
  const { low, high } = band.kind === "withheld" ? { low: Number.NaN, high: Number.NaN } : band;
  const resolution = resolutionOf({ low, high }, sigma);
  const excess = band.kind === "withheld" ? Number.NaN : band.excess;
  const x = unitText(value, unit, resolution).text;
  // Digits of the excess are the shot's own: of the band it may be a small part.
  const excessText = differenceText(excess, unit, Math.max(sigma || 0, Math.min(resolution, excess)));
  const isAtEdge = band.kind === "unusual" && !/[1-9]/.test(excessText.number);
  return {
    template: (slopeShare !== 0 ? 2 : isAmount(directionOf(row, 1)) ? 0 : 1) + (isAtEdge ? 3 : 0),
    slots: {
      x,
      measure: titleInside(title),
      range: valueRangeText(low, high, unit, resolution),
      share: signedText(slopeShare, unit, resolution),
      excess: excessText.text,
      "above|below": band.kind !== "withheld" && band.distance > 0 ? "above" : "below",
    },
    inputs: [
      input(title, value, unit, sigma),
      { ...input("usual band", band.kind === "withheld" ? Number.NaN : band.mean, unit), low, high },
      countInput("shots of the band", band.n[0] ?? 0),
      ...(slopeShare === 0 ? [] : [amountInput("slope’s share against the band’s lie", slopeShare, unit)]),
    ],
  };
}

/** One shot against the usual of its condition. A shot is usual or not; that is no verdict on a change. */
export const SHOT_USUAL_RULES: readonly WordedRule<ShotUsualFacts>[] = [
  {
    id: "shot-usual",
    condition: "Five other shots or more; within the interval for one more shot of the condition.",
    templates: [
      "{x} {measure}: usual for this player ({range}).",
      "{measure} {x}: usual for this player ({range}).",
      "{measure} {x}, of which the slope’s share gives {share} against the lie of the band: the rest is usual for this player ({range}).",
    ],
    maySay: ({ row }) => row.band.kind === "usual",
    filled: shotSlots,
  },
  {
    id: "shot-unusual",
    condition: "Five other shots or more; outside the interval for one more shot of the condition.",
    templates: [
      "{x} {measure}: {excess} {above|below} the usual band. About 1 shot in 20 falls outside by chance.",
      "{measure} {x}: {excess} {above|below} the usual band. About 1 shot in 20 falls outside by chance.",
      "{measure} {x}, of which the slope’s share gives {share} against the lie of the band: the rest lies {excess} {above|below} the usual band. About 1 shot in 20 falls outside by chance.",
      "{x} {measure}: at the edge of the usual band ({range}). About 1 shot in 20 falls outside by chance.",
      "{measure} {x}: at the edge of the usual band ({range}). About 1 shot in 20 falls outside by chance.",
      "{measure} {x}, of which the slope’s share gives {share} against the lie of the band: the rest lies at the edge of the usual band ({range}). About 1 shot in 20 falls outside by chance.",
    ],
    maySay: ({ row }) => row.band.kind === "unusual",
    filled: shotSlots,
  },
  {
    id: "shot-no-band",
    condition: "Fewer than five other shots, or the shot lacks the measure.",
    templates: [
      "{x} {measure}; {shots} beside it so far, the usual band needs 5.",
      "{measure} {x}; {shots} beside it so far, the usual band needs 5.",
      "{measure} is missing in this shot.",
    ],
    maySay: ({ row }) => row.band.kind === "withheld",
    filled: ({ row, countShots }) => ({
      template: Number.isNaN(row.value) ? 2 : isAmount(directionOf(row, 1)) ? 0 : 1,
      slots: {
        x: unitText(row.value, row.unit, row.sigma).text,
        measure: titleInside(row.title),
        shots: countText(countShots, "shot"),
      },
      inputs: [input(row.title, row.value, row.unit, row.sigma), countInput("shots beside it", countShots)],
    }),
  },
];

/** One shot over all measures that were looked at. */
export const SHOT_MANY_RULE: WordedRule<Pick<ShotAgainstUsual, "overall">> = {
  id: "shot-many",
  condition: "Two measures or more looked at.",
  templates: ["{k} of {M} measures outside the usual band; about {expected} would be by chance."],
  maySay: ({ overall }) => overall.countMeasures >= 2,
  filled: ({ overall: { countOutside, countMeasures, expected } }) => ({
    slots: { k: String(countOutside), M: String(countMeasures), expected: expectedText(expected) },
    inputs: [countInput("outside", countOutside), countInput("measures looked at", countMeasures)],
  }),
};

/** One measure of two single shots. */
export interface ShotPairFacts {
  readonly row: ShotPairRow;
  /** "low runner"; of two conditions both names. */
  readonly condition: string;
}

function pairSlots({ row, condition }: ShotPairFacts) {
  const { difference, slopeShare, sigmaMeasurement, mdcSingle = Number.NaN, unit, title } = row;
  const resolution = Math.max(sigmaMeasurement || 0, (mdcSingle || 0) / 10);
  const freed = difference - slopeShare;
  return {
    template: slopeShare === 0 ? 0 : 1,
    slots: {
      d: differenceText(Math.abs(freed), unit, resolution).text,
      raw: signedText(difference, unit, resolution),
      share: signedText(slopeShare, unit, resolution),
      condition: condition === "" ? "such" : condition,
      mdc: differenceText(mdcSingle, unit, mdcSingle).text,
    },
    inputs: [
      { ...amountInput(`${title}, apart`, difference, unit), sigma: sigmaMeasurement },
      ...(slopeShare === 0 ? [] : [amountInput("slope’s share", slopeShare, unit)]),
      ...(Number.isNaN(mdcSingle) ? [] : [amountInput("two such shots usually differ by", mdcSingle, unit)]),
    ],
  };
}

const apart = ({ row }: ShotPairFacts): number => Math.abs(row.difference - row.slopeShare);

/** Two single shots: how far apart, and what two such shots usually differ by. Never a verdict. */
export const SHOT_PAIR_RULES: readonly WordedRule<ShotPairFacts>[] = [
  {
    id: "pair-within",
    condition: "Two shots, no farther apart than two shots of the condition usually are.",
    templates: [
      "{d} apart, within what two {condition} shots usually differ by ({mdc}); one shot each.",
      "{raw} apart, of which the slope alone gives {share}; the rest, {d}, is within what two {condition} shots usually differ by ({mdc}); one shot each.",
    ],
    maySay: (facts) => facts.row.mdcSingle !== undefined && apart(facts) <= facts.row.mdcSingle,
    filled: pairSlots,
  },
  {
    id: "pair-larger",
    condition: "Two shots, farther apart than two shots of the condition usually are. One shot each shows nothing.",
    templates: [
      "{d} apart, more than two {condition} shots usually differ by ({mdc}); one shot each, so no conclusion.",
      "{raw} apart, of which the slope alone gives {share}; the rest, {d}, is more than two {condition} shots usually differ by ({mdc}); one shot each, so no conclusion.",
    ],
    maySay: (facts) => facts.row.mdcSingle !== undefined && apart(facts) > facts.row.mdcSingle,
    filled: pairSlots,
  },
  {
    id: "pair-no-band",
    condition: "Two shots of a condition with fewer than five, or of none.",
    templates: [
      "{d} apart; what such shots usually differ by is not known yet: that needs 5 of the condition. One shot each.",
      "{raw} apart, of which the slope alone gives {share}; what such shots usually differ by is not known yet: that needs 5 of the condition. One shot each.",
    ],
    maySay: ({ row }) => row.mdcSingle === undefined && !Number.isNaN(row.difference),
    filled: pairSlots,
  },
  {
    id: "pair-missing",
    condition: "One of the two shots lacks the measure.",
    templates: ["{measure} is missing in one of the two shots."],
    maySay: ({ row }) => Number.isNaN(row.difference),
    filled: ({ row }) => ({ slots: { measure: titleInside(row.title) }, inputs: [] }),
  },
];

export interface TwoShotsFacts {
  readonly pair: ShotAgainstShot;
  readonly player: PronounForms;
}

/** Headline of two single shots. */
export const TWO_SHOTS_RULE: WordedRule<TwoShotsFacts> = {
  id: "two-shots",
  condition: "Two single shots, whatever the numbers.",
  templates: [
    "Two shots cannot show a difference. {own} vary by {mdc} in {measure}.",
    "Two shots cannot show a difference.",
  ],
  maySay: () => true,
  filled: ({ pair, player }) => {
    const row = pair.measures.find(({ mdcSingle = Number.NaN }) => mdcSingle > 0);
    const { mdcSingle: mdc = Number.NaN, unit = "", title = "" } = row ?? {};
    return {
      template: row === undefined ? 1 : 0,
      slots: {
        own: `${player.own.charAt(0).toUpperCase()}${player.own.slice(1)}`,
        mdc: differenceText(mdc, unit, mdc).text,
        measure: titleInside(title),
      },
      inputs: row === undefined ? [] : [amountInput("two such shots usually differ by", mdc, unit)],
    };
  },
};
