// The words of the trade as types, and what every room needs: vectors, faults, findings, randomness, constants.
// Knows no file format, no formula of mechanics and no clock.
export { SPEED_OF_SOUND_M_PER_S, STANDARD_GRAVITY_M_PER_S2 } from "./constants.ts";
export { dayText } from "./day-text.ts";
export { type Fault, type Finding, type Severity, UnderfootError, type Where } from "./fault.ts";
export { type PlateCorners, type PlateFrame, plateFrame } from "./plate-frame.ts";
export { type Random, random, randomFromState } from "./random.ts";
export type {
  Channel,
  ChannelRole,
  MarkerTrail,
  PlateDescription,
  Recording,
  RecordingEvent,
  Sense,
} from "./recording.ts";
export type { Column, Samples } from "./series.ts";
export type {
  EventName,
  EventSource,
  Foot,
  FootOutlineFact,
  Handed,
  Intent,
  Lie,
  PlateFact,
  ShotFacts,
  ShotResult,
} from "./shot-facts.ts";
export { EVENT_NAMES, INTENTS } from "./shot-facts.ts";
export { type ShotsAsked, shotsAsked, shotsAskedText } from "./shot-query-text.ts";
export {
  cross,
  dot,
  norm,
  type PlayerAxes,
  type PlayerVector,
  scaled,
  sum,
  type TurfPoint,
  unit,
  type Vector,
} from "./vector.ts";
export { VERSION } from "./version.ts";
