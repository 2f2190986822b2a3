// From channels to measures: what the ground did to the player, shot by shot, with the uncertainty of each number.
// Knows arrays, axes and the catalogue of measures; never a file format, a page or a clock.
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
