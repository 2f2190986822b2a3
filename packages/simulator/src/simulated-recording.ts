import {
  type Channel,
  type Foot,
  type PlateCorners,
  type PlateDescription,
  type Recording,
  random,
  type Sense,
  scaled,
  sum,
  type Vector,
} from "@underfoot/domain";
import { soundChannel, triggerChannel } from "./impact-channels.ts";
import { clippedFullScale, type FaultName, injectChannelFaults, writtenCorners } from "./injected-faults.ts";
import type { LabPose } from "./lab-pose.ts";
import type { ShotTiming } from "./planned-shot.ts";
import { type PlateChannels, plateChannels } from "./plate-channels.ts";
import type { PlateSetup, PlateType } from "./plate-setup.ts";
import { plateWrench } from "./plate-wrench.ts";
import { addPlateErrors, digitise, type PlateErrors } from "./sensor-errors.ts";
import type { FootTruth } from "./shot-series.ts";
import type { InjectedFault } from "./shot-truth.ts";
import type { TimeGrid } from "./time-grid.ts";

/** One plate's channels as a C3D file takes them, SI units, with what describes the plate. */
export interface RawPlate {
  /** Number in the recording, from 1. */
  readonly index: number;
  readonly foot: Foot;
  readonly type: PlateType;
  readonly sense: Sense;
  readonly cornersM: PlateCorners;
  /** Plate axes, z into the ground; on the player or on the plate as `sense` says. Missing samples are NaN. */
  readonly columns: readonly Float64Array<ArrayBuffer>[];
  readonly labels: readonly string[];
  readonly units: readonly string[];
  readonly originM: Vector;
  /** Type 4: N and N m per volt. */
  readonly matrix?: readonly (readonly number[])[];
  /** Type 4: the signals' unit. */
  readonly unit?: string;
  /** The physical value at each converter's end. */
  readonly fullScale: readonly number[];
}

export interface SimulatedRecordingOptions {
  readonly seed: number;
  readonly sessionSeed: number;
  readonly setup: PlateSetup;
  readonly pose: LabPose;
  readonly faults: readonly FaultName[];
  readonly bits: 0 | 16;
  readonly rateHz: number;
  readonly grid: TimeGrid;
  readonly timing: ShotTiming;
  readonly lead: { readonly foot: FootTruth; readonly errors: PlateErrors };
  readonly trail: { readonly foot: FootTruth; readonly errors: PlateErrors };
  readonly hasTrigger: boolean;
  readonly hasSound: boolean;
}

/** The lab vector of a place error along target and ahead. */
export function placeErrorM(pose: LabPose, { placeM }: PlateErrors): Vector {
  return sum(scaled(pose.targetAxis, placeM[0]), scaled(pose.aheadAxis, placeM[1]));
}

function measuredChannels(name: Foot, options: SimulatedRecordingOptions): PlateChannels {
  const { seed, sessionSeed, setup, pose, rateHz } = options;
  const laid = pose[name];
  const { foot, errors } = options[name];
  const wrench = plateWrench(foot, { plate: laid, pose, padM: setup.padM });
  addPlateErrors(wrench, errors, { rateHz, draw: random(seed, `noise of the ${name} plate`) });
  const { type, originM, sense } = laid.plate;
  const channels = plateChannels(wrench, { type, originM, draw: random(sessionSeed, `matrix of the ${name} plate`) });
  if (sense === "on-plate") {
    channels.columns.forEach((column, k) => {
      if (channels.labels[k]!.startsWith("P")) return;
      for (let i = 0; i < column.length; i++) column[i] = -column[i]!;
    });
  }
  return channels;
}

/** Ends of the converter, spikes and lost samples; then 16-bit steps. */
function spoiledChannels(options: SimulatedRecordingOptions): Record<Foot, PlateChannels> & { done: InjectedFault[] } {
  const { seed, faults, setup, bits, timing, rateHz } = options;
  let lead = measuredChannels("lead", options);
  const trail = measuredChannels("trail", options);
  const isClipped = faults.includes("clip");
  if (isClipped) lead = { ...lead, fullScale: clippedFullScale(lead) };
  const leadPlate = setup.first === "lead" ? 1 : 2;
  const draw = random(seed, "faults");
  const done = injectChannelFaults(lead, trail, { faults, timing, rateHz, draw, leadPlate, trailPlate: 3 - leadPlate });
  for (const channels of [lead, trail]) {
    if (bits === 0 && !(isClipped && channels === lead)) continue;
    channels.columns.forEach((column, k) => {
      digitise(column, channels.fullScale[k]!, 16);
    });
  }
  return { lead, trail, done };
}

function rawPlate(name: Foot, channels: PlateChannels, options: SimulatedRecordingOptions): RawPlate {
  const { setup, pose, faults } = options;
  const { plate, cornersM } = pose[name];
  const shift = placeErrorM(pose, options[name].errors);
  const [c1, c2, c3, c4] = cornersM;
  const stated: PlateCorners = [sum(c1, shift), sum(c2, shift), sum(c3, shift), sum(c4, shift)];
  const origin = faults.includes("origin") ? mirroredOrigin(plate.type, plate.originM) : plate.originM;
  return {
    index: name === setup.first ? 1 : 2,
    foot: name,
    type: plate.type,
    sense: plate.sense,
    cornersM: writtenCorners(stated, name === "lead" && faults.includes("turned")),
    columns: channels.columns as RawPlate["columns"],
    labels: channels.labels,
    units: channels.units,
    originM: origin,
    ...(channels.matrix === undefined ? {} : { matrix: channels.matrix, unit: "V" }),
    fullScale: channels.fullScale,
  };
}

/** The best known mistake: pointing down from the surface; all three signs turned, of type 3 the depth alone, of type 1 nothing to turn. */
function mirroredOrigin(type: PlateType, { x, y, z }: Vector): Vector {
  if (type === 1) return { x, y, z };
  return type === 3 ? { x, y, z: -z } : { x: -x, y: -y, z: -z };
}

function description(raw: RawPlate, trueOriginM: Vector, firstChannel: number): PlateDescription {
  return {
    index: raw.index,
    type: raw.type,
    channels: raw.columns.map((_, k) => firstChannel + k),
    corners: raw.cornersM,
    isPlaced: true,
    originM: trueOriginM,
    originAsWrittenM: raw.originM,
    ...(raw.matrix === undefined ? {} : { matrix: raw.matrix }),
    forceToN: 1,
    momentToNm: 1,
    lengthToM: 1,
    momentUnit: "N m",
    sense: "unknown",
    hasMoments: true,
  };
}

function plateChannelList(raw: RawPlate): Channel[] {
  return raw.columns.map((values, k) => ({
    label: `${raw.labels[k]}${raw.index}`,
    unit: raw.units[k]!,
    values,
    range: [-raw.fullScale[k]!, raw.fullScale[k]!],
    role: "other",
  }));
}

/** The recording two plates make of a shot, as a reader would give it, with the same channels ready to be written, and the faults that were put in. */
export function simulatedRecording(options: SimulatedRecordingOptions): {
  readonly recording: Recording;
  readonly raw: readonly RawPlate[];
  readonly done: readonly InjectedFault[];
} {
  const { seed, pose, grid, rateHz, timing, hasTrigger, hasSound } = options;
  const { lead, trail, done } = spoiledChannels(options);
  const raw = [rawPlate("lead", lead, options), rawPlate("trail", trail, options)].sort((a, b) => a.index - b.index);
  const channels: Channel[] = [];
  const plates = raw.map((plate) => {
    const plateDescription = description(plate, pose[plate.foot].plate.originM, channels.length);
    channels.push(...plateChannelList(plate));
    return plateDescription;
  });
  if (hasTrigger) {
    channels.push({ label: "Trigger", unit: "V", values: triggerChannel(timing.impactS, grid), role: "trigger" });
  }
  if (hasSound) {
    const values = soundChannel(timing.impactS, grid, random(seed, "sound"));
    channels.push({ label: "Sound", unit: "V", values, role: "sound" });
  }
  const recording: Recording = {
    format: "c3d",
    rateHz,
    sampleCount: grid.count,
    channels,
    plates,
    events: [],
    markers: [],
    about: { origin: "simulated: invented player, invented shot" },
    findings: [],
    guesses: [],
  };
  return { recording, raw, done };
}
