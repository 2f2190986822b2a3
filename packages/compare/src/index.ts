// Shot against shot, shot against the usual, condition against condition: what differs beyond the player's own scatter and beyond the slope.
// Knows shots, lies and plans as plain data; never where they are kept, and no sentence.

export { type AsJson, asJson, fromJson } from "./as-json.ts";
export {
  type AgainstFlat,
  type Board,
  type BoardCell,
  type BoardOptions,
  boardOf,
} from "./board.ts";
export type { BoardLie } from "./board-lies.ts";
export { type AnswerTo, type CompareAnswer, type CompareWork, compareAnswer } from "./compare-answer.ts";
export type { ComparedCurveRow, ComparedCurves, CurvesWithheld } from "./compared-curves.ts";
export {
  type ComparedLabel,
  type ComparedShot,
  type ComparedValue,
  columnOf,
  columnParts,
  type ShotGroup,
  type ShotSeries,
} from "./compared-shot.ts";
export { type ComparedSide, type Comparison, type ComparisonOptions, comparison } from "./comparison.ts";
export type { ComparisonPlan, DesignKind } from "./design.ts";
export type { MeanEvents } from "./mean-events.ts";
export type {
  ComparedMeasure,
  FamilyName,
  Judgement,
  Lozenge,
  MeasureRow,
  RowOfMeasure,
  RowSide,
  ShotPairRow,
  ShotUsualRow,
} from "./measure-row.ts";
export type { Notice } from "./notices.ts";
export {
  OUTCOME_UNITS,
  type Outcome,
  type OutcomeMeasure,
  type OutcomeName,
  type OutcomeOptions,
  outcomeOf,
} from "./outcome.ts";
export { allColumns } from "./row-of-measure.ts";
export { CURVES, type CurveKind, curveColumn, curveKind, shotCurves } from "./shot-curves.ts";
export {
  type ShotAgainstShot,
  type ShotAgainstUsual,
  type ShotPairCurve,
  type ShotUsualCurve,
  shotAgainstShot,
  shotAgainstUsual,
} from "./single-shots.ts";
export {
  type Study,
  type StudyCurve,
  type StudyMeasure,
  type StudyOptions,
  type StudyPlayer,
  type StudyShot,
  studyOf,
} from "./study.ts";
export { type Usual, type UsualCurve, type UsualMeasure, type UsualOptions, usualOf } from "./usual.ts";
