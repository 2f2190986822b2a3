import type { Comparison, ShotAgainstShot, ShotAgainstUsual } from "@underfoot/compare";
import {
  comparisonReading,
  curveReading,
  type Pronoun,
  pairReading,
  type Sentence,
  usualReading,
} from "@underfoot/report";
import type { AnyComparison } from "./drawn-comparison.ts";
import { fromTo, type RowWords } from "./measures/row-words.ts";

/** All words of a comparison, each sentence with its rule. */
export interface ComparisonWords {
  /** Named before the headline: clubs, shoes, plate layouts that differ. */
  readonly before: readonly Sentence[];
  readonly headline: Sentence;
  readonly lines: readonly Sentence[];
  /** Of the whole curves. */
  readonly curves: readonly Sentence[];
  readonly looks: readonly Sentence[];
  readonly notices: readonly Sentence[];
  /** By column. */
  readonly rows: ReadonlyMap<string, RowWords>;
}

/** Nothing where it is nought to the last digit that counts. */
const slopeWords = (slopeShare: string): string => (/[1-9]/.test(slopeShare) ? `slope ${slopeShare}` : "");
const NOTHING_BESIDE = { before: [], lines: [], curves: [], notices: [] } as const;

function ofConditions(comparison: Comparison, pronoun: Pronoun): ComparisonWords {
  const { different, headline, lines, looks, notices, rows } = comparisonReading(comparison, { pronoun });
  const units = new Map(comparison.measures.map(({ column, unit }) => [column, unit]));
  const words = rows.map(({ column, a, b, difference, interval, slopeShare, verdict, sentence, hints }) => {
    const values = fromTo(a, b, units.get(column) ?? "");
    return [column, { values, difference, interval, verdict, sentence, hints, slope: slopeWords(slopeShare) }] as const;
  });
  const curves = comparison.curves === undefined ? [] : curveReading(comparison.curves, comparison);
  return { before: different, headline, lines, curves, looks, notices, rows: new Map(words) };
}

function ofUsual(found: ShotAgainstUsual): ComparisonWords {
  const { headline, lines, looks, rows } = usualReading(found);
  const words = rows.map(({ column, value, usual, isOutside, slopeShare, sentence }): [string, RowWords] => [
    column,
    {
      values: "",
      difference: value,
      interval: usual === "" ? "" : `usual ${usual}`,
      slope: slopeWords(slopeShare),
      verdict: usual === "" ? "too few to tell" : isOutside ? "outside the usual band" : "usual",
      sentence,
      hints: [],
    },
  ]);
  return { ...NOTHING_BESIDE, headline, lines, looks, rows: new Map(words) };
}

function ofShots(pair: ShotAgainstShot, pronoun: Pronoun, condition: string): ComparisonWords {
  const { headline, looks, rows } = pairReading(pair, { pronoun, condition });
  const units = new Map(pair.measures.map(({ column, unit }) => [column, unit]));
  const words = rows.map(({ column, a, b, difference, usualDifference, slopeShare, sentence }): [string, RowWords] => [
    column,
    {
      values: fromTo(a, b, units.get(column) ?? ""),
      difference,
      interval: usualDifference === "" ? "" : `usually ${usualDifference}`,
      slope: slopeWords(slopeShare),
      verdict: "",
      sentence,
      hints: [],
    },
  ]);
  return { ...NOTHING_BESIDE, headline, looks, rows: new Map(words) };
}

/**
 * The words of whatever was compared.
 * @param condition  of two shots, or of both: "low, flat"
 */
export function comparisonWords(compared: AnyComparison, pronoun: Pronoun, condition: string): ComparisonWords {
  switch (compared.kind) {
    case "conditions":
      return ofConditions(compared, pronoun);
    case "shot-usual":
      return ofUsual(compared);
    case "shot-pair":
      return ofShots(compared, pronoun, condition);
  }
}
