import type { Column, Finding, PlateFrame, Sense } from "@underfoot/domain";

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
  readonly momentNm: VectorSeries;
  readonly hasMoments: boolean;
  /** How the file stored it; the columns here are always on the player. */
  readonly storedAs: Sense;
  /** Samples at the end of the converter's range, 1 where saturated. */
  readonly isSaturated: Uint8Array;
  readonly bridgedCount: number;
  /** What was taken off, and how it was known. */
  readonly zero: { readonly kind: "none" | "window" | "file"; readonly first: number; readonly end: number };
  readonly findings: readonly Finding[];
}
