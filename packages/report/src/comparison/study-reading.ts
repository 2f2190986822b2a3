import type { Study, StudyMeasure } from "@underfoot/compare";
import type { Sentence } from "../sentence.ts";
import { estimateText, resolutionOf, signedText } from "./estimate-text.ts";
import {
  PLAYERS_FINDING_RULES,
  PLAYERS_RULES,
  STUDY_CURVE_RULES,
  STUDY_NOTICE_RULES,
  STUDY_RULES,
} from "./rules-of-players.ts";
import { LOOKS_RULE } from "./rules-of-the-whole.ts";
import { neededSentence, sentenceOf, sentencesOf } from "./worded-rule.ts";

/** One measure over players in words. */
export interface StudyMeasureReading {
  readonly column: string;
  readonly measure: string;
  readonly title: string;
  /** The model's estimate: "−8 points", "−12 to −4 points"; empty where there is no model. */
  readonly difference: string;
  readonly interval: string;
  /** Between lies, where gravity has a part in the measure: what the slope alone gives, and the difference with it: "+60 N", "+80 N"; else empty. */
  readonly slopeShare: string;
  readonly raw: string;
  readonly say: StudyMeasure["say"];
  readonly sentence: Sentence;
  /** What the model found about itself. */
  readonly findings: readonly Sentence[];
}

/** A study in words. */
export interface StudyReading {
  readonly headline: Sentence;
  readonly looks: readonly Sentence[];
  readonly notices: readonly Sentence[];
  readonly curves: readonly Sentence[];
  readonly rows: readonly StudyMeasureReading[];
}

function shareTexts({ slopeShare, raw, model, unit }: StudyMeasure, { isBetweenLies }: Study) {
  if (!isBetweenLies || slopeShare === 0 || Number.isNaN(raw)) return { slopeShare: "", raw: "" };
  const resolution = model === undefined ? Math.abs(raw) / 10 : resolutionOf(model);
  return { slopeShare: signedText(slopeShare, unit, resolution), raw: signedText(raw, unit, resolution) };
}

function measureReading(row: StudyMeasure, study: Study): StudyMeasureReading {
  const text = row.model && estimateText(row.model, row.unit);
  const found = row.comparison.kind === "players" ? row.comparison.findings : [];
  return {
    column: row.column,
    measure: row.measure,
    title: row.title,
    difference: text?.signed ?? "",
    interval: text?.range ?? "",
    ...shareTexts(row, study),
    say: row.say,
    sentence: neededSentence(PLAYERS_RULES, { row, study }),
    findings: found.flatMap((finding) => sentencesOf(PLAYERS_FINDING_RULES, { row, study, finding })),
  };
}

/** Several players in words; no word on players at large from fewer than six. */
export function studyReading(study: Study): StudyReading {
  const isJudged = study.measures.some(({ say }) => say !== "too-few");
  return {
    headline: neededSentence(STUDY_RULES, { study }),
    looks: [sentenceOf(LOOKS_RULE, { looks: study.looks, corrected: isJudged ? ["corrected by Holm’s rule"] : [] })],
    notices: sentencesOf(STUDY_NOTICE_RULES, { study }),
    curves: study.curves.flatMap((curve) =>
      curve.stretches.length === 0
        ? sentencesOf(STUDY_CURVE_RULES, { curve, study, stretch: undefined })
        : curve.stretches.flatMap((stretch) => sentencesOf(STUDY_CURVE_RULES, { curve, study, stretch })),
    ),
    rows: study.measures.map((row) => measureReading(row, study)),
  };
}
