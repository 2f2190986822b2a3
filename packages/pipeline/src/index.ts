// The chain put together: bytes and facts in, one plain answer out, the same in Node, in the page and in a worker.
// Knows which room comes after which; never where bytes come from or go to.
export { type Answers, answer, type Done, type Work } from "./answer.ts";
export {
  type DrawnPlan,
  drawnPlan,
  type PlanAsked,
  type PlannedCondition,
  type PlannedShot,
  type PlanOrder,
} from "./drawn-plan.ts";
export type { FirstLook, FirstLookQuestion, LookedColumn, LookedFile } from "./first-look.ts";
export { type ComponentStatistics, inspection, type PlateInspection, type RecordingInspection } from "./inspection.ts";
export { loads, type PlateLoad } from "./loads.ts";
export type { LookedGuess } from "./looked-guess.ts";
export { type FivePoints, outlineFromPoints } from "./outline-from-points.ts";
export { type PlanSize, type PlanSizeQuestion, planSize } from "./plan-size.ts";
export { type PlateCheckAsked, type PlateCheckQuestion, type PlateCheckSource, plateCheck } from "./plate-check.ts";
export type {
  PlateCheckFacts,
  PlateCheckKind,
  PlateCheckOutcome,
  PlateCheckPart,
} from "./plate-checks/check-outcome.ts";
export { KNOWN_MASS_PLACES, type KnownMassPlace } from "./plate-checks/known-mass-check.ts";
export type { MeasuredZero } from "./plate-checks/zero-check.ts";
export { type Provenance, provenanceOf } from "./provenance.ts";
export { type QuietStance, type StancePlate, stanceLie } from "./quiet-stance.ts";
export { recordingStretch, type Stretch } from "./recording-stretch.ts";
export { type ShotOutcome, type ShotQuestion, shotOutcome } from "./shot-outcome.ts";
export { type FoundShot, type ShotSearchOptions, shotSearch, shotsInRecording } from "./shots-in-recording.ts";
export { labSignals, playerSignals, type SignalColumns, type SignalFilter } from "./signals.ts";
export { type SimulatedFiles, simulatedFiles } from "./simulated-files.ts";
