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

/** Mean, least and largest of a linear combination of three columns, over samples where it is a number. */
function statistics(
  wrench: PlateWrench,
  axis: Vector,
): { readonly count: number; readonly statistics: ComponentStatistics } {
  const { x, y, z } = wrench.forceN;
  let total = 0;
  let count = 0;
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < x.length; i++) {
    const value = axis.x * x[i]! + axis.y * y[i]! + axis.z * z[i]!;
    if (Number.isNaN(value)) continue;
    total += value;
    count++;
    if (value < min) min = value;
    if (value > max) max = value;
  }
  return count === 0
    ? { count, statistics: { mean: Number.NaN, min: Number.NaN, max: Number.NaN } }
    : { count, statistics: { mean: total / count, min, max } };
}

const X: Vector = { x: 1, y: 0, z: 0 };
const Y: Vector = { x: 0, y: 1, z: 0 };
const Z: Vector = { x: 0, y: 0, z: 1 };

function components(wrench: PlateWrench, axes: readonly [Vector, Vector, Vector]): Components {
  const [x, y, z] = axes.map((axis) => statistics(wrench, axis).statistics);
  return { x: x!, y: y!, z: z! };
}

/** The plate's wrench as the file gives it, or the finding that says why there is none. */
function wrenchOrFault(recording: Recording, plate: Recording["plates"][number]): PlateWrench | Finding {
  if (plate.fault?.severity === "stop") return plate.fault;
  try {
    return plateWrench(recording, plate, { settings: DEFAULT_SETTINGS, asWritten: true });
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return { code: fault.code, severity: "stop", sentence: fault.message, remedy: fault.remedy, where: fault.where };
  }
}

function plateInspection(recording: Recording, plate: Recording["plates"][number]): PlateInspection {
  const wrench = wrenchOrFault(recording, plate);
  const written = {
    index: plate.index,
    type: plate.type,
    channels: plate.channels.map((k) => k + 1),
    momentUnit: plate.momentUnit,
  };
  if ("code" in wrench) {
    const nowhere: Vector = { x: Number.NaN, y: Number.NaN, z: Number.NaN };
    return {
      ...written,
      sizeM: [Number.NaN, Number.NaN],
      centreM: nowhere,
      normal: nowhere,
      storedAs: undefined,
      count: 0,
      forceN: undefined,
      loadN: undefined,
      fault: wrench,
    };
  }
  const { frame } = wrench;
  const load = statistics(wrench, frame.normal);
  return {
    ...written,
    sizeM: frame.sizeM,
    centreM: frame.centreM,
    normal: frame.normal,
    storedAs: wrench.storedAs,
    count: load.count,
    forceN: { plate: components(wrench, [frame.x, frame.y, frame.z]), lab: components(wrench, [X, Y, Z]) },
    loadN: load.statistics,
    ...(plate.fault ? { fault: plate.fault } : {}),
  };
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
