// From channels to measures: what the ground did to the player, shot by shot, with the uncertainty of each number.
// Knows arrays, axes and the catalogue of measures; never a file format, a page or a clock.
export { bwFromN, CATALOGUE, type CatalogueEntry, catalogueEntry, type Statistic } from "./catalogue.ts";
export { MEASURE_FAMILIES, type MeasureFamily, type QuantityName } from "./catalogue-words.ts";
export { type ClockCheck, type ClockCheckOptions, rockingCheck, tapCheck } from "./clock-checks.ts";
export {
  type ClockFit,
  type ClockFitOptions,
  type ClockReading,
  clockFit,
  hostTimeS,
  hostTimeSigmaS,
} from "./clock-fit.ts";
export { findingsFromMeasures } from "./measure-findings.ts";
export { measuresFromShot } from "./measures.ts";
export { type PlateCop, plateCop } from "./plate-cop.ts";
export type { PlateWrench, VectorSeries } from "./plate-wrench.ts";
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
export {
  type ClockRelation,
  clockRelation,
  clockSigmaS,
  type LeadGrid,
  onLeadClock,
  type StreamTicks,
  wrenchOnLeadClock,
} from "./two-clocks.ts";
