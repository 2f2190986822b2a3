import type { Comparison, MeasureRow } from "@underfoot/compare";
import { comparisonReading, type Pronoun, type Sentence } from "@underfoot/report";
import type { AnyComparison } from "./drawn-comparison.ts";
import { fromTo, pairWords, type RowWords, usualWords } from "./measures/row-words.ts";

/** All words of a comparison, each sentence with its rule. */
export interface ComparisonWords {
  /** Named before the headline: clubs, shoes, plate layouts that differ. */
  readonly before: readonly Sentence[];
  readonly headline: Sentence | undefined;
  readonly lines: readonly Sentence[];
  readonly looks: readonly Sentence[];
  readonly notices: readonly Sentence[];
  readonly wordsOf: (row: MeasureRow) => RowWords;
}

function ofConditions(comparison: Comparison, pronoun: Pronoun): ComparisonWords {
  const { different, headline, lines, looks, notices, rows } = comparisonReading(comparison, { pronoun });
  const byColumn = new Map(rows.map((row) => [row.column, row]));
  return {
    ...{ before: different, headline, lines, looks, notices },
    wordsOf: (row) => {
      const said = byColumn.get(row.column);
      if (said === undefined || row.kind !== "conditions") throw new RangeError(`no words for ${row.column}`);
      const { a, b, difference, interval, slopeShare, verdict, sentence } = said;
      return {
        values: fromTo(a, b, row.unit),
        ...{ difference, interval, verdict, sentence },
        slope: slopeShare === "" ? "" : `slope ${slopeShare}`,
      };
    },
  };
}

/** The words of whatever was compared. */
export function comparisonWords(compared: AnyComparison, pronoun: Pronoun): ComparisonWords {
  if (compared.kind === "conditions") return ofConditions(compared, pronoun);
  return {
    ...{ before: [], headline: undefined, lines: [], looks: [], notices: [] },
    wordsOf: (row) => {
      if (row.kind === "conditions") throw new RangeError(`${row.column} is not of single shots`);
      return row.kind === "shot-pair" ? pairWords(row) : usualWords(row);
    },
  };
}
