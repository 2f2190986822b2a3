// Numbers, sentences, page models and tables for people, made from shots and measures.
// Knows words, units and rounding; never a DOM, a colour, a file or a clock.
export { dayText } from "@underfoot/domain";
export {
  COLUMN_KINDS,
  type ColourToken,
  type ColumnKind,
  type ColumnKindId,
  DEFAULT_COLUMNS,
  MOST_COLUMNS,
} from "./column-kinds.ts";
export { type BoardReading, boardReading, type CellReading } from "./comparison/board-reading.ts";
export {
  type ComparisonReading,
  type ComparisonReadingOptions,
  comparisonReading,
  lozengeText,
  type MeasureReading,
} from "./comparison/comparison-reading.ts";
export { COMPARISON_RULES, type RuleChapter } from "./comparison/comparison-rules.ts";
export { curveReading } from "./comparison/curve-reading.ts";
export { titleInside } from "./comparison/measure-words.ts";
export { type OutcomeReading, outcomeReading } from "./comparison/outcome-reading.ts";
export {
  type BandReading,
  bandReading,
  type PairReading,
  type PairReadingOptions,
  type PairRowReading,
  pairReading,
  type UsualReading,
  type UsualRowReading,
  usualReading,
} from "./comparison/single-shot-readings.ts";
export { type StudyMeasureReading, type StudyReading, studyReading } from "./comparison/study-reading.ts";
export type { RuleText } from "./comparison/worded-rule.ts";
export { domainOutward, type ScaleDomain } from "./domain-outward.ts";
export { EVENT_LABELS, type EventGlyph, eventSourceText } from "./event-text.ts";
export type { SpeedChange } from "./gains-and-losses.ts";
export { lieText } from "./lie-text.ts";
export { measuresCsv, measureTable } from "./measure-table.ts";
export { type MeasureText, measureText } from "./measure-text.ts";
export {
  asRatio,
  inBodyWeights,
  inCentimetres,
  inDegrees,
  inHertz,
  inKilograms,
  inMetres,
  inMetresPerSecond,
  inMillimetres,
  inMilliseconds,
  inNewtonMetreSeconds,
  inNewtonMetres,
  inNewtonSeconds,
  inNewtons,
  inNewtonsPerSecond,
  inPercent,
  inSeconds,
  type NumberOptions,
  type NumberText,
} from "./numbers.ts";
export type { PeakStair, StairPeak, StairStep } from "./peak-stair.ts";
export { type Contour, lieContours, type SheetContours } from "./plan-contours.ts";
export type { Pronoun } from "./pronoun.ts";
export { type Reading, type ReadingOptions, readingFromShot, rulerReading } from "./reading.ts";
export { lieNameText, type ResultFacts, resultText } from "./result-text.ts";
export { type PlanForce, type RulerFoot, type RulerValues, rulerValues } from "./ruler-values.ts";
export type { Sentence, SentenceInput, SentencePlace, SentenceRule } from "./sentence.ts";
export { sentenceInputText } from "./sentence-input-text.ts";
export { SENTENCE_RULES } from "./sentence-rules.ts";
export { sessionScales } from "./session-scales.ts";
export type { ColumnNote, ColumnPeak, SheetColumn } from "./sheet-columns.ts";
export type { SheetEvent, SheetTime } from "./sheet-events.ts";
export type { ShareLabel, SheetFall } from "./sheet-fall.ts";
export { type SheetFoot, type SheetModel, type SheetOptions, sheetModel } from "./sheet-model.ts";
export {
  type CopTrail,
  type FootPoint,
  type PlanExtent,
  type PlanSole,
  type SheetPlan,
  untracedSole,
} from "./sheet-plan.ts";
export type { SheetCell, SheetTable } from "./sheet-table.ts";
export type { SolePoint, SoleView } from "./sole-view.ts";
export { thinned } from "./thinned.ts";
export { signedMs } from "./time-text.ts";
export { differenceText, unitText } from "./unit-text.ts";
export { dayNumber } from "./year/day-number.ts";
export {
  type PlayerYear,
  type PlayerYearOptions,
  playerYear,
  type YearPoint,
  type YearRow,
  type YearSession,
  type YearShot,
} from "./year/player-year.ts";
export type { YearChange } from "./year/year-changes.ts";
