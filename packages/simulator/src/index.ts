// Physics-true shots with their truth beside them: invented players, lies, plates, sensor errors and faults. Imports only
// the domain, so that what it says can test the computation without sharing a line with it.

export { DEMO_NOTICE, demoShots } from "./demo-shots.ts";
export { IDLE_ACTIVITIES, type IdleActivity, type LiveColumns } from "./idle-activity.ts";
export { type IdleStreamOptions, idleStream, type StreamBlock, type StreamPart, streamBlocks } from "./idle-stream.ts";
export { FAULT_NAMES, FAULTS, type FaultName, faultName } from "./injected-faults.ts";
export { SIMULATED_LIES, type SimulatedLie } from "./lie-axes.ts";
export {
  DEFAULT_PLATES,
  type OnePlate,
  type PlateSetup,
  type PlateType,
  randomPlates,
  usualOriginM,
} from "./plate-setup.ts";
export { type PlayerOptions, type SimulatedPlayer, simulatedPlayer } from "./player.ts";
export { DEFAULT_SENSORS, EXACT_SENSORS, type PlateErrors, type SensorErrors } from "./sensor-errors.ts";
export type { InjectedFault, ShotTruth, TruthMeasure } from "./shot-truth.ts";
export { type ShotOptions, type SimulatedShot, simulateShot } from "./simulate-shot.ts";
export type { Marks } from "./simulated-facts.ts";
export type { RawPlate } from "./simulated-recording.ts";
export { type SessionOptions, type SimulatedShotPlan, simulatedSession } from "./simulated-session.ts";
export { type StreamRecording, streamRecording } from "./stream-recording.ts";
export type { FootCurves, ForceCurves, MotionCurves, TruthCurves } from "./truth-curves.ts";
export { truthJson } from "./truth-json.ts";
