import type { Finding } from "./fault.ts";
import type { PlateCorners } from "./plate-frame.ts";
import type { Column, Samples } from "./series.ts";
import type { Vector } from "./vector.ts";

/** Which way a plate's numbers point: the ground's force on the player, or the player's on the plate. */
export type Sense = "on-player" | "on-plate";

/** What a channel that belongs to no plate may carry. */
export type ChannelRole = "trigger" | "sound" | "gap" | "other";

/** One sampled channel in physical units, as the file gives it. Raw numbers are kept by keeping the file. */
export interface Channel {
  readonly label: string;
  /** As written; empty where the file says nothing. */
  readonly unit: string;
  readonly values: Samples;
  /** The physical values at the two ends of the converter's range, where the file tells them. */
  readonly range?: readonly [number, number];
  readonly role: ChannelRole;
}

/** One force plate as a recording describes it. Nothing is computed yet. */
export interface PlateDescription {
  /** Number in the recording, from 1. */
  readonly index: number;
  /** C3D plate type: 1 force, CoP, free moment; 2 force and moment; 3 eight forces; 4 six signals with a matrix; 0 forces only. Others are not computed. */
  readonly type: number;
  /** Positions in `Recording.channels`, from 0, in the order of the type. */
  readonly channels: readonly number[];
  readonly corners: PlateCorners;
  /** False where the file gives no place: CoP is then from the plate's own centre. */
  readonly isPlaced: boolean;
  /** Origin in plate axes, m, pointing from the plate's origin up to the surface (z < 0), its sign mended where it was wrong. */
  readonly originM: Vector;
  readonly originAsWrittenM: Vector;
  /** Type 4: six rows Fx Fy Fz Mx My Mz, in N and N m per unit of the channels. */
  readonly matrix?: readonly (readonly number[])[];
  /** Multiply force, moment and length channels by these to get N, N m, m. */
  readonly forceToN: number;
  readonly momentToNm: number;
  readonly lengthToM: number;
  /** The moment unit as written in the file. */
  readonly momentUnit: string;
  /** What the file or mapping says; `unknown` is settled from the sign of the load. */
  readonly sense: Sense | "unknown";
  /** The stretch the file asks to be taken as zero, samples [first, end). */
  readonly zero?: { readonly first: number; readonly end: number };
  /** Set where the plate cannot be computed or not wholly: its channels are still there. */
  readonly fault?: Finding;
  /** False: forces only (no moments, no CoP). */
  readonly hasMoments: boolean;
}

/** An event written in the file. */
export interface RecordingEvent {
  readonly label: string;
  readonly context: string;
  /** From the first sample. */
  readonly timeS: number;
  readonly source: "group" | "header" | "file";
}

/** Marker points, read only to be shown. Missing is NaN. */
export interface MarkerTrail {
  readonly label: string;
  readonly xM: Column;
  readonly yM: Column;
  readonly zM: Column;
}

/** What one file holds, in physical units and laboratory axes. */
export interface Recording {
  readonly format: "c3d" | "text";
  readonly rateHz: number;
  readonly sampleCount: number;
  readonly channels: readonly Channel[];
  readonly plates: readonly PlateDescription[];
  readonly events: readonly RecordingEvent[];
  readonly markers: readonly MarkerTrail[];
  /** Facts about the file for people: processor, numbers, frames, frames announced, first frame, point rate, and so on. */
  readonly about: Readonly<Record<string, string | number>>;
  readonly findings: readonly Finding[];
  /** What was guessed and would change a force, a moment, a CoP or a time: asked once at import. */
  readonly guesses: readonly Finding[];
}
