import {
  type Column,
  dot,
  type Finding,
  type PlateDescription,
  type PlateFact,
  type PlateFrame,
  plateFrame,
  type Recording,
  type Sense,
  type Vector,
} from "@underfoot/domain";
import { cleanChannels } from "./clean-channels.ts";
import { plateFindings, shotFaults } from "./faults.ts";
import { labRows, originM, plateMatrix } from "./plate-matrix.ts";
import { NO_ZERO, plateZero, type Zero } from "./plate-zero.ts";
import type { Settings } from "./settings.ts";
import { typeOneColumns } from "./type-one-columns.ts";

/** Three columns of equal length in laboratory or plate axes. */
export interface VectorSeries {
  readonly x: Column;
  readonly y: Column;
  readonly z: Column;
}

/**
 * What one plate measured, unfiltered: force of the ground on the player, N, and moment about the centre of the
 * plate's top surface, N m, in laboratory axes. A gap longer than may be bridged is NaN.
 */
export interface PlateWrench {
  /** Number in the recording, from 1. */
  readonly plate: number;
  readonly type: number;
  readonly frame: PlateFrame;
  readonly forceN: VectorSeries;
  /** NaN throughout where the plate gives forces only. */
  readonly momentNm: VectorSeries;
  readonly hasMoments: boolean;
  /** False where the moment about the normal is unknown (type 1 without a free moment): it then holds the CoP's part alone. */
  readonly hasFreeMoment: boolean;
  /** How the file stored it; the columns here are always on the player. */
  readonly storedAs: Sense;
  /** Samples at the end of the converter's range, 1 where saturated. */
  readonly isSaturated: Uint8Array;
  readonly bridgedCount: number;
  /** What was taken off, and how it was known. */
  readonly zero: { readonly kind: "none" | "window" | "file"; readonly first: number; readonly end: number };
  readonly findings: readonly Finding[];
}

export interface PlateWrenchOptions {
  readonly settings: Settings;
  /** What a person says about this plate; wins over the recording. */
  readonly fact?: PlateFact | undefined;
  /** An unloaded stretch known otherwise, seconds from the first sample. */
  readonly zeroWindow?: readonly [number, number] | undefined;
  /** Against gravity in the laboratory, where known: tells which face of the plate is up. */
  readonly up?: Vector | undefined;
  /** True: calibrated and turned only, as for showing a file; no spike replaced, no gap bridged, no zero taken off. */
  readonly asWritten?: boolean;
}

/** Where type 1 holds Px and Py. */
const TYPE_ONE_COP: readonly number[] = [3, 4];

/** A reading below this share of the peak load says nothing about the sense (C3D practice: more than half). */
const SENSE_SHARE = 0.5;

/**
 * From a plate's channels to the wrench of the ground on the player, unfiltered, laboratory axes.
 *
 * In this order: missing samples bridged and spikes replaced on the raw channels; saturation marked; zero taken off;
 * calibrated with all elements of the plate's matrix; turned into the laboratory; sense settled by the sign of the load.
 *
 * The moment is about the centre of the plate's own top surface; a pad on it is a matter of `centreOfPressure`.
 * @throws UnderfootError `plate-not-computed`, `plate-calibration`
 */
export function plateWrench(recording: Recording, plate: PlateDescription, options: PlateWrenchOptions): PlateWrench {
  const { fact, settings } = options;
  const type = fact?.type ?? plate.type;
  const { rows, hasMoments, hasFreeMoment } = plateMatrix(plate, fact);
  const findings: Finding[] = [];
  const frame = outwardFrame(plate, options.up);
  const isTurnSaid = recording.guesses.some((g) => g.code === "corner-order" && g.where?.plate === plate.index);
  if (frame.normal === frame.z && !isTurnSaid) {
    findings.push(plateFindings.cornerOrder(plate.index));
  }
  const isRepaired = options.asWritten !== true;
  const clean = cleanChannels(recording, plate, { isRepaired, untouched: type === 1 ? TYPE_ONE_COP : [] });
  findings.push(...clean.findings);
  const lab = labRows(rows, frame);
  const loadRow = weighted(lab, frame.normal);
  const zero = isRepaired
    ? plateZero(clean.columns, { recording, plate, fact, zeroWindow: options.zeroWindow, loadRow, settings })
    : NO_ZERO;
  findings.push(...zero.findings);
  takeOff(clean.columns, zero, type);
  const columns =
    type === 1
      ? typeOneColumns(clean.columns, plate, {
          origin: originM(plate, type, fact),
          frame,
          unloadedN: settings.loadOffN,
        })
      : clean.columns;
  const sign = sense(columns, loadRow, { plate, fact, findings });
  const out = lab.map((row) => combined(columns, row, sign === "on-player" ? 1 : -1));
  if (!hasMoments) {
    for (const moment of out.slice(3)) moment.fill(Number.NaN);
    findings.push(plateFindings.noMoments(plate.index));
  } else if (!hasFreeMoment) findings.push(plateFindings.noFreeMoment(plate.index));
  return {
    plate: plate.index,
    type,
    frame,
    forceN: { x: out[0]!, y: out[1]!, z: out[2]! },
    momentNm: { x: out[3]!, y: out[4]!, z: out[5]! },
    hasMoments,
    hasFreeMoment,
    storedAs: sign,
    isSaturated: clean.isSaturated,
    bridgedCount: clean.bridgedCount,
    zero: { kind: zero.kind, first: zero.first, end: zero.end },
    findings,
  };
}

/** The plate's frame with its normal away from the ground: by the given up, else by its largest component. */
function outwardFrame(plate: PlateDescription, up: Vector | undefined): PlateFrame {
  const frame = plateFrame(plate.corners);
  const { x, y, z } = frame.normal;
  if (![x, y, z, ...frame.sizeM].every(Number.isFinite) || !(frame.sizeM[0] > 0 && frame.sizeM[1] > 0)) {
    throw shotFaults.plateFault(plate.index, "its corners do not span a surface.", "Correct the plate's corners.");
  }
  const largest = Math.abs(x) > Math.max(Math.abs(y), Math.abs(z)) ? x : Math.abs(y) > Math.abs(z) ? y : z;
  const isUp = up === undefined ? largest > 0 : dot(up, frame.normal) > 0;
  return isUp ? frame : { ...frame, normal: frame.z };
}

/** The row of the load n·F. */
function weighted(lab: readonly (readonly number[])[], n: Vector): number[] {
  return lab[0]!.map((x, c) => n.x * x + n.y * lab[1]![c]! + n.z * lab[2]![c]!);
}

/** Takes the zero off in place; never off the CoP columns of type 1. */
function takeOff(columns: readonly Column[], zero: Zero, type: number): void {
  columns.forEach((column, c) => {
    const offset = zero.offsets[c] ?? 0;
    if (offset === 0 || (type === 1 && TYPE_ONE_COP.includes(c))) return;
    for (let i = 0; i < column.length; i++) column[i] = column[i]! - offset;
  });
}

/** sum over channels of row[c] x column c, times sign. Channels that do not count are left out, missing or not. */
function combined(columns: readonly Column[], row: readonly number[], sign: 1 | -1): Column {
  const out = new Float64Array(columns[0]!.length);
  const parts = columns.flatMap((column, c) => (row[c] === 0 ? [] : [{ column, factor: sign * row[c]! }]));
  // Three at a time: the result is then read and written twice for six channels, not six times.
  for (let k = 0; k < parts.length; k += 3) {
    const a = parts[k]!;
    const none = { column: a.column, factor: 0 };
    addThree(a, parts[k + 1] ?? none, parts[k + 2] ?? none, out);
  }
  return out;
}

interface Part {
  readonly column: Column;
  readonly factor: number;
}

/** out += a + b + c; a part of factor 0 is the first one's column again, so it brings no missing sample of its own. */
function addThree(a: Part, b: Part, c: Part, out: Column): void {
  const [p, q, r] = [a.column, b.column, c.column];
  const [u, v, w] = [a.factor, b.factor, c.factor];
  for (let i = 0; i < out.length; i++) out[i] = out[i]! + u * p[i]! + v * q[i]! + w * r[i]!;
}

/** Action or reaction: what a person or the file says, else the sign of the median load over samples above half the peak. */
function sense(
  columns: readonly Column[],
  loadRow: readonly number[],
  { plate, fact, findings }: { plate: PlateDescription; fact: PlateFact | undefined; findings: Finding[] },
): Sense {
  const loadN = combined(columns, loadRow, 1);
  let peakN = 0;
  for (let i = 0; i < loadN.length; i++) if (Math.abs(loadN[i]!) > peakN) peakN = Math.abs(loadN[i]!);
  let up = 0;
  let down = 0;
  for (let i = 0; i < loadN.length; i++) {
    if (loadN[i]! > SENSE_SHARE * peakN) up++;
    else if (loadN[i]! < -SENSE_SHARE * peakN) down++;
  }
  const shown: Sense = down > up ? "on-plate" : "on-player";
  const said = fact?.sense ?? (plate.sense === "unknown" ? undefined : plate.sense);
  if (said !== undefined && said !== shown && up + down > 0) {
    findings.push(plateFindings.senseConflict(plate.index, said, shown));
  }
  return said ?? shown;
}
