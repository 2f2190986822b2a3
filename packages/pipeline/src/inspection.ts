import { type Finding, type Recording, type RecordingEvent, UnderfootError, type Vector } from "@underfoot/domain";
import { DEFAULT_SETTINGS, type PlateWrench, plateWrench } from "@underfoot/mechanics";

export interface ComponentStatistics {
  readonly mean: number;
  readonly min: number;
  readonly max: number;
}

type Components = { readonly x: ComponentStatistics; readonly y: ComponentStatistics; readonly z: ComponentStatistics };

/** One plate of a file: where it lies and how large its forces are. Nothing zeroed, filtered or repaired. */
export interface PlateInspection {
  readonly index: number;
  readonly type: number;
  /** From 1, as people count. */
  readonly channels: readonly number[];
  readonly sizeM: readonly [number, number];
  readonly centreM: Vector;
  readonly normal: Vector;
  readonly momentUnit: string;
  readonly storedAs: "on-player" | "on-plate" | undefined;
  /** Samples that went into the statistics. */
  readonly count: number;
  /** Force of the ground on the player, N, along plate axes (z into the ground) and laboratory axes. */
  readonly forceN: { readonly plate: Components; readonly lab: Components } | undefined;
  /** Load along the outward normal, N. */
  readonly loadN: ComponentStatistics | undefined;
  readonly fault?: Finding;
}

/** What one file holds. */
export interface RecordingInspection {
  readonly format: Recording["format"];
  readonly about: Recording["about"];
  readonly rateHz: number;
  readonly samples: number;
  readonly durationS: number;
  readonly channels: readonly { readonly label: string; readonly unit: string; readonly role: string }[];
  readonly plates: readonly PlateInspection[];
  readonly events: readonly RecordingEvent[];
  readonly findings: readonly Finding[];
  readonly guesses: readonly Finding[];
}

/** Samples looked at in one go: keeps memory flat however long the recording is. */
const STRETCH_SAMPLES = 1 << 14;

/** The share of the peak load from which on a sample tells whether action or reaction was stored. */
const SENSE_SHARE = 0.5;

/** The recording from `first` on, at most one stretch long; columns are views, nothing is copied. */
function stretch(recording: Recording, first: number): Recording {
  const end = Math.min(recording.sampleCount, first + STRETCH_SAMPLES);
  const channels = recording.channels.map((channel) => ({ ...channel, values: channel.values.subarray(first, end) }));
  return { ...recording, sampleCount: end - first, channels };
}

/** Running mean, least and largest along one axis, over samples where it is a number. */
class RunningStatistics {
  readonly #axis: Vector;
  #total = 0;
  #min = Number.POSITIVE_INFINITY;
  #max = Number.NEGATIVE_INFINITY;
  count = 0;

  constructor(axis: Vector) {
    this.#axis = axis;
  }

  add({ forceN: { x, y, z } }: PlateWrench): void {
    const axis = this.#axis;
    for (let i = 0; i < x.length; i++) {
      const value = axis.x * x[i]! + axis.y * y[i]! + axis.z * z[i]!;
      if (Number.isNaN(value)) continue;
      this.#total += value;
      this.count++;
      if (value < this.#min) this.#min = value;
      if (value > this.#max) this.#max = value;
    }
  }

  /** `sign` -1: the file holds the action on the plate, and the reaction is wanted. */
  result(sign: 1 | -1): ComponentStatistics {
    if (this.count === 0) return { mean: Number.NaN, min: Number.NaN, max: Number.NaN };
    const mean = this.#total / this.count;
    return sign === 1 ? { mean, min: this.#min, max: this.#max } : { mean: -mean, min: -this.#max, max: -this.#min };
  }
}

const X: Vector = { x: 1, y: 0, z: 0 };
const Y: Vector = { x: 0, y: 1, z: 0 };
const Z: Vector = { x: 0, y: 0, z: 1 };

/** Every stretch of one plate, signs as stored. */
function* wrenches(recording: Recording, plate: Recording["plates"][number]): Generator<PlateWrench> {
  const fact = { plate: plate.index, foot: "none", sense: "on-player" } as const;
  for (let first = 0; first < recording.sampleCount; first += STRETCH_SAMPLES) {
    yield plateWrench(stretch(recording, first), plate, { settings: DEFAULT_SETTINGS, fact, asWritten: true });
  }
}

/**
 * Action or reaction, by the sign of the load over samples above half the peak (what a median would say). Where the
 * extremes already say that those samples have one sign, the recording is not gone through again.
 */
function signOfLoad(
  recording: Recording,
  plate: Recording["plates"][number],
  { min, max }: ComponentStatistics,
): 1 | -1 {
  const peakN = Math.max(Math.abs(min), Math.abs(max));
  if (min >= -SENSE_SHARE * peakN) return 1;
  if (max <= SENSE_SHARE * peakN) return -1;
  let balance = 0;
  for (const { forceN, frame } of wrenches(recording, plate)) {
    for (let i = 0; i < forceN.x.length; i++) {
      const loadN = frame.normal.x * forceN.x[i]! + frame.normal.y * forceN.y[i]! + frame.normal.z * forceN.z[i]!;
      if (Math.abs(loadN) > SENSE_SHARE * peakN) balance += Math.sign(loadN);
    }
  }
  return balance < 0 ? -1 : 1;
}

function forces(
  recording: Recording,
  plate: Recording["plates"][number],
): Omit<PlateInspection, "index" | "type" | "channels" | "momentUnit"> {
  let frame: PlateWrench["frame"] | undefined;
  let running: RunningStatistics[] = [];
  for (const wrench of wrenches(recording, plate)) {
    frame ??= wrench.frame;
    if (running.length === 0)
      running = [frame.normal, frame.x, frame.y, frame.z, X, Y, Z].map((axis) => new RunningStatistics(axis));
    for (const one of running) one.add(wrench);
  }
  if (!frame) throw new UnderfootError(NO_SAMPLES);
  const asStored = running[0]!.result(1);
  const sign = signOfLoad(recording, plate, asStored);
  const [load, plateX, plateY, plateZ, labX, labY, labZ] = running.map((one) => one.result(sign));
  return {
    sizeM: frame.sizeM,
    centreM: frame.centreM,
    normal: frame.normal,
    storedAs: sign === 1 ? "on-player" : "on-plate",
    count: running[0]!.count,
    forceN: { plate: { x: plateX!, y: plateY!, z: plateZ! }, lab: { x: labX!, y: labY!, z: labZ! } },
    loadN: load!,
    ...(plate.fault ? { fault: plate.fault } : {}),
  };
}

const NO_SAMPLES = { code: "no-data", sentence: "The recording has no samples.", remedy: "Export it again." };

const NOWHERE: Vector = { x: Number.NaN, y: Number.NaN, z: Number.NaN };

function withoutForces(fault: Finding): Omit<PlateInspection, "index" | "type" | "channels" | "momentUnit"> {
  return {
    sizeM: [Number.NaN, Number.NaN],
    centreM: NOWHERE,
    normal: NOWHERE,
    storedAs: undefined,
    count: 0,
    forceN: undefined,
    loadN: undefined,
    fault,
  };
}

function plateInspection(recording: Recording, plate: Recording["plates"][number]): PlateInspection {
  const written = {
    index: plate.index,
    type: plate.type,
    channels: plate.channels.map((k) => k + 1),
    momentUnit: plate.momentUnit,
  };
  if (plate.fault?.severity === "stop") return { ...written, ...withoutForces(plate.fault) };
  try {
    return { ...written, ...forces(recording, plate) };
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return {
      ...written,
      ...withoutForces({
        code: fault.code,
        severity: "stop",
        sentence: fault.message,
        remedy: fault.remedy,
        where: fault.where,
      }),
    };
  }
}

/** What a recording holds: rates, channels, plates with statistics of each force component, events, findings. */
export function inspection(recording: Recording): RecordingInspection {
  const plates = recording.plates.map((plate) => plateInspection(recording, plate));
  const faults = plates.flatMap(({ fault }) => (fault ? [fault] : []));
  const known = new Set(recording.findings);
  return {
    format: recording.format,
    about: recording.about,
    rateHz: recording.rateHz,
    samples: recording.sampleCount,
    durationS: recording.sampleCount / recording.rateHz,
    channels: recording.channels.map(({ label, unit, role }) => ({ label, unit, role })),
    plates,
    events: recording.events,
    findings: [...recording.findings, ...faults.filter((fault) => !known.has(fault))],
    guesses: recording.guesses,
  };
}
