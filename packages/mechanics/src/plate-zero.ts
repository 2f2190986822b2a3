import type { Column, Finding, PlateDescription, PlateFact, Recording } from "@underfoot/domain";
import { plateFindings } from "./faults.ts";
import type { Settings } from "./settings.ts";
import { validMean } from "./valid-mean.ts";

/** A file's own zero is applied by itself only up to this mean load, N, and this share of the peak (ours). */
const FILE_ZERO_LIMIT_N = 40;
const FILE_ZERO_LIMIT_SHARE = 0.05;
/** Shortest stretch that makes a good zero, s (ours). */
const ZERO_LENGTH_S = 0.5;

/** What is taken off each channel, in the channel's unit, and where it was found. */
export interface Zero {
  readonly kind: "none" | "window" | "file";
  readonly first: number;
  readonly end: number;
  readonly offsets: readonly number[];
  readonly findings: readonly Finding[];
}

/** Nothing taken off, nothing to say. */
export const NO_ZERO: Zero = { kind: "none", first: 0, end: 0, offsets: [], findings: [] };

interface ZeroOptions {
  readonly recording: Recording;
  readonly plate: PlateDescription;
  readonly fact: PlateFact | undefined;
  readonly zeroWindow: readonly [number, number] | undefined;
  /** Load n·F per unit of each channel. */
  readonly loadRow: readonly number[];
  readonly settings: Settings;
}

/**
 * The zero of a plate: mean of each channel over an unloaded stretch.
 *
 * A stretch that a person gives is taken off, and `zero-loaded` says so if it carries load. A stretch that the file asks
 * for is taken off only if its mean load is at most 40 N and at most 5 % of the peak (files often ask for it while
 * somebody stands on the plate); else `zero-loaded` and nothing. None: nothing, and `not-zeroed`.
 *
 * @param columns  the plate's channels, n samples each; not changed
 */
export function plateZero(columns: readonly Column[], options: ZeroOptions): Zero {
  const { plate, fact, settings, recording } = options;
  const none = (finding: Finding): Zero => ({ ...NO_ZERO, findings: [finding] });
  const window = fact?.zero === undefined ? options.zeroWindow : fact.zero;
  const notZeroed = plateFindings.notZeroed(plate.index, settings.zeroSigmaN, settings.zeroSigmaNm);
  if (window === "none") return none(notZeroed);
  const isGiven = window !== undefined;
  const span = isGiven ? samplesOf(window, recording.rateHz) : plate.zero;
  if (span === undefined) return none(notZeroed);
  const first = Math.max(0, span.first);
  const end = Math.min(recording.sampleCount, span.end);
  const offsets = columns.map((column) => validMean(column, first, end));
  if (!(end > first) || offsets.some(Number.isNaN)) return none(plateFindings.zeroOutside(plate.index));
  const limitN = Math.min(FILE_ZERO_LIMIT_N, FILE_ZERO_LIMIT_SHARE * peakLoadN(columns, options.loadRow));
  const loadN = Math.abs(offsets.reduce((load, offset, c) => load + (options.loadRow[c] ?? 0) * offset, 0));
  const findings: Finding[] = [];
  if (loadN > limitN) findings.push(plateFindings.zeroLoaded(plate.index, loadN, limitN, isGiven));
  if (loadN > limitN && !isGiven) return { ...NO_ZERO, findings };
  const lengthS = (end - first) / recording.rateHz;
  if (lengthS < ZERO_LENGTH_S) findings.push(plateFindings.zeroShort(plate.index, lengthS));
  return { kind: isGiven ? "window" : "file", first, end, offsets, findings };
}

function samplesOf([fromS, toS]: readonly [number, number], rateHz: number): { first: number; end: number } {
  return { first: Math.round(fromS * rateHz), end: Math.round(toS * rateHz) };
}

function peakLoadN(columns: readonly Column[], loadRow: readonly number[]): number {
  const loadN = new Float64Array(columns[0]!.length);
  columns.forEach((column, c) => {
    const factor = loadRow[c] ?? 0;
    if (factor !== 0) for (let i = 0; i < loadN.length; i++) loadN[i] = loadN[i]! + factor * column[i]!;
  });
  let peakN = 0;
  for (let i = 0; i < loadN.length; i++) if (Math.abs(loadN[i]!) > peakN) peakN = Math.abs(loadN[i]!);
  return peakN;
}
