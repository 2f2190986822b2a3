// From channels to measures: what the ground did to the player, shot by shot, with the uncertainty of each number.
// Knows arrays, axes and the catalogue of measures; never a file format, a page or a clock.

export {
  againstGravity,
  gradePercent,
  type LevelFromTurf,
  type LieAngles,
  levelFromTurf,
  levelVector,
  lieFromUp,
  playerDot,
  type TurfAxes,
  turfAxes,
  turfFromLab,
} from "./axes.ts";
export { bwFromN, CATALOGUE, type CatalogueEntry, catalogueEntry, type Statistic } from "./catalogue.ts";
export { MEASURE_FAMILIES, type MeasureFamily, type QuantityName } from "./catalogue-words.ts";
export { centreOfPressure, freeMoment, type Wrench } from "./centre-of-pressure.ts";
export { type ClockCheck, type ClockCheckOptions, rockingCheck, tapCheck } from "./clock-checks.ts";
export {
  type ClockFit,
  type ClockFitOptions,
  type ClockReading,
  clockFit,
  hostTimeS,
  hostTimeSigmaS,
} from "./clock-fit.ts";
export { checkedSole, type FootCoordinates, footCoordinates, marginM } from "./foot-coordinates.ts";
export { type SignalImpact, soundImpact, soundImpacts, triggerImpact, triggerImpacts } from "./impact.ts";
export {
  type DetectorBlock,
  type DetectorState,
  type DetectorStep,
  detectorStart,
  detectorStep,
  detectorStop,
  type ShotCut,
} from "./live-detector.ts";
export { type Mark, withMarks, withoutMarks } from "./marks.ts";
export { findingsFromMeasures } from "./measure-findings.ts";
export { measuresFromShot } from "./measures.ts";
export { comSpeed, comTravel, type SpeedOptions } from "./motion.ts";
export { normalGravity } from "./normal-gravity.ts";
export { type PlateCop, plateCop } from "./plate-cop.ts";
export { type PlateWrench, type PlateWrenchOptions, plateWrench, type VectorSeries } from "./plate-wrench.ts";
export {
  bothWrench,
  couple,
  type PlayerWrenchAt,
  playerWrench,
  turnOf,
  wrenchCop,
  wrenchFreeMoment,
} from "./player-wrench.ts";
export { type QuietLean, quietLean } from "./quiet-lean.ts";
export { DEFAULT_SETTINGS, type Settings } from "./settings.ts";
export type {
  AddressWindow,
  FootSeries,
  Measure,
  MotionSeries,
  PlateSigmas,
  PlayerWrench,
  Shot,
  ShotEvent,
  Sole,
} from "./shot.ts";
export { shotFromRecording } from "./shot-from-recording.ts";
export {
  requiredFriction,
  type SlopeCheck,
  type StaticSlopeShare,
  slopeCheck,
  staticForce,
  staticSlopeShare,
} from "./slope.ts";
export {
  type ClockRelation,
  clockRelation,
  clockSigmaS,
  type LeadGrid,
  onLeadClock,
  type StreamTicks,
  wrenchOnLeadClock,
} from "./two-clocks.ts";
export { validMean, validSd } from "./valid-mean.ts";
