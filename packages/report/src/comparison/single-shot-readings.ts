import type { ShotAgainstShot, ShotAgainstUsual, ShotPairRow, ShotUsualRow, Usual } from "@underfoot/compare";
import { PRONOUNS } from "../pronoun.ts";
import type { Sentence } from "../sentence.ts";
import { differenceText, unitText } from "../unit-text.ts";
import type { ComparisonReadingOptions } from "./comparison-reading.ts";
import { resolutionOf, signedText, valueRangeText } from "./estimate-text.ts";
import {
  BAND_RULES,
  SHOT_MANY_RULE,
  SHOT_PAIR_RULES,
  SHOT_USUAL_RULES,
  TWO_SHOTS_RULE,
} from "./rules-of-single-shots.ts";
import { LOOKS_RULE } from "./rules-of-the-whole.ts";
import { neededSentence, sentenceOf, sentencesOf } from "./worded-rule.ts";

interface SingleRow {
  /** "both.target.peak turf" */
  readonly column: string;
  readonly measure: string;
  readonly title: string;
  /** "+12 N"; empty where the slope has no share in what is compared. */
  readonly slopeShare: string;
  readonly sentence: Sentence;
}

/** The usual band of one condition in words. */
export interface BandReading {
  readonly rows: readonly (Pick<SingleRow, "column" | "measure" | "title"> & {
    readonly sentences: readonly Sentence[];
  })[];
}

/** Where the next shot of a condition will fall, measure by measure. */
export function bandReading(usual: Usual): BandReading {
  return {
    rows: usual.measures.map(({ column, measure, title, unit, band }) => ({
      ...{ column, measure, title },
      sentences: sentencesOf(BAND_RULES, { title, unit, band }),
    })),
  };
}

/** One measure of a shot against the usual. */
export interface UsualRowReading extends SingleRow {
  /** "83 %" */
  readonly value: string;
  /** "73 to 80 %"; empty without a band. */
  readonly usual: string;
  readonly isOutside: boolean;
}

/** One shot against the usual of its condition, in words. */
export interface UsualReading {
  readonly headline: Sentence;
  /** The measures outside the band, the farthest in steps of its half width first. */
  readonly lines: readonly Sentence[];
  readonly looks: readonly Sentence[];
  readonly rows: readonly UsualRowReading[];
}

function usualRow(row: ShotUsualRow, countShots: number): UsualRowReading {
  const { column, measure, title, unit, value, sigma, band, slopeShare } = row;
  const { low, high } = band.kind === "withheld" ? { low: Number.NaN, high: Number.NaN } : band;
  const resolution = resolutionOf({ low, high }, sigma);
  return {
    ...{ column, measure, title },
    value: unitText(value, unit, resolution).text,
    usual: band.kind === "withheld" ? "" : valueRangeText(low, high, unit, resolution),
    slopeShare: slopeShare === 0 ? "" : signedText(slopeShare, unit, resolution),
    isOutside: band.kind === "unusual",
    sentence: neededSentence(SHOT_USUAL_RULES, { row, countShots }),
  };
}

const byDistance = (one: { readonly steps: number }, other: { readonly steps: number }): number =>
  Math.abs(other.steps) - Math.abs(one.steps);

/**
 * One shot against the usual of its condition: usual or not, measure by measure, with how many would be outside by chance.
 * @throws RangeError where no measure was asked for
 */
export function usualReading(found: ShotAgainstUsual): UsualReading {
  const countShots = found.usual.shotIds.length;
  const rows = found.measures.map((row) => usualRow(row, countShots));
  const said = new Map(rows.map(({ column, sentence }) => [column, sentence]));
  const outside = found.measures.filter(({ band }) => band.kind === "unusual").toSorted(byDistance);
  const [first] = rows;
  if (first === undefined) throw new RangeError("a shot is held against its usual by one measure at least");
  return {
    headline: SHOT_MANY_RULE.maySay(found) ? sentenceOf(SHOT_MANY_RULE, found) : first.sentence,
    lines: outside.flatMap(({ column }) => said.get(column) ?? []),
    looks: [sentenceOf(LOOKS_RULE, { looks: found.usual.looks, corrected: [] })],
    rows,
  };
}

/** One measure of two single shots. */
export interface PairRowReading extends SingleRow {
  readonly a: string;
  readonly b: string;
  /** "−8 points", with the slope's share in it. */
  readonly difference: string;
  /** "6 points": what two such shots usually differ by; empty where that is not known. */
  readonly usualDifference: string;
}

/** Two single shots in words. There is no verdict in it. */
export interface PairReading {
  readonly headline: Sentence;
  readonly looks: readonly Sentence[];
  readonly rows: readonly PairRowReading[];
}

function pairRow(row: ShotPairRow, condition: string): PairRowReading {
  const { column, measure, title, unit, a, b, difference, slopeShare, sigmaMeasurement, mdcSingle } = row;
  const each = sigmaMeasurement / Math.SQRT2;
  return {
    ...{ column, measure, title },
    a: unitText(a, unit, each).text,
    b: unitText(b, unit, each).text,
    difference: signedText(difference, unit, sigmaMeasurement),
    usualDifference: mdcSingle === undefined ? "" : differenceText(mdcSingle, unit, mdcSingle).text,
    slopeShare: slopeShare === 0 ? "" : signedText(slopeShare, unit, sigmaMeasurement),
    sentence: neededSentence(SHOT_PAIR_RULES, { row, condition }),
  };
}

export interface PairReadingOptions extends ComparisonReadingOptions {
  /** Name of the condition of both shots, or of both conditions: "low runner". */
  readonly condition?: string;
}

/** Two single shots: how far apart, and what two such shots usually differ by. Never a verdict. */
export function pairReading(
  pair: ShotAgainstShot,
  { pronoun = "player", condition = "" }: PairReadingOptions = {},
): PairReading {
  const looks = { countMeasures: pair.measures.length, countPairs: 1, times: 1 };
  return {
    headline: sentenceOf(TWO_SHOTS_RULE, { pair, player: PRONOUNS[pronoun] }),
    looks: [sentenceOf(LOOKS_RULE, { looks, corrected: [] })],
    rows: pair.measures.map((row) => pairRow(row, condition)),
  };
}
