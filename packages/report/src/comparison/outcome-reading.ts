import type { Outcome } from "@underfoot/compare";
import type { Sentence } from "../sentence.ts";
import { OUTCOME_NOTICE_RULES, OUTCOME_RULES, OUTCOME_WHOLE_RULES, OUTCOME_WORDS } from "./rules-of-outcomes.ts";
import { LOOKS_RULE } from "./rules-of-the-whole.ts";
import { neededSentence, sentenceOf, sentencesOf } from "./worded-rule.ts";

/** Results of shots against measures in words, within one player. */
export interface OutcomeReading {
  readonly headline: Sentence;
  /** The links that stay after allowing for looks. */
  readonly lines: readonly Sentence[];
  readonly looks: readonly Sentence[];
  readonly notices: readonly Sentence[];
  /** "carry", "strike place from heel to toe". */
  readonly outcome: string;
  readonly rows: readonly {
    readonly column: string;
    readonly measure: string;
    readonly title: string;
    readonly isLink: boolean;
    readonly sentence: Sentence;
  }[];
}

/** What went with what in these shots; never that one causes the other. */
export function outcomeReading(outcome: Outcome): OutcomeReading {
  const rows = outcome.measures.map((row) => ({
    column: row.column,
    measure: row.measure,
    title: row.title,
    isLink: row.say === "link",
    sentence: neededSentence(OUTCOME_RULES, { row, outcome }),
  }));
  const isJudged = outcome.measures.some(({ say }) => say !== "too-few");
  const how = outcome.outcome === "mishit" ? "by Holm’s rule" : "for all measures at once (largest rank correlation)";
  return {
    headline: neededSentence(OUTCOME_WHOLE_RULES, { outcome }),
    lines: rows.filter(({ isLink }) => isLink).map(({ sentence }) => sentence),
    looks: [sentenceOf(LOOKS_RULE, { looks: outcome.looks, corrected: isJudged ? [`corrected ${how}`] : [] })],
    notices: sentencesOf(OUTCOME_NOTICE_RULES, { outcome }),
    outcome: OUTCOME_WORDS[outcome.outcome].what,
    rows,
  };
}
