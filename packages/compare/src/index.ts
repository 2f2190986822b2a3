// Shot against shot, shot against the usual, condition against condition: what differs beyond the player's own scatter and beyond the slope.
// Knows shots, lies and plans as plain data; never where they are kept, and no sentence.

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
export { allColumns } from "./row-of-measure.ts";
export { CURVES, type CurveKind, curveColumn, curveKind, shotCurves } from "./shot-curves.ts";
