import type { ChannelRole, Sense } from "@underfoot/domain";
import type { TextLayout } from "./text-sniff.ts";

export const LAB_AXES = ["+x", "-x", "+y", "-y", "+z", "-z"] as const;
/** A direction of the laboratory. */
export type LabAxis = (typeof LAB_AXES)[number];

export const PLATE_GIVES = ["force", "force+cop", "force+moment", "signals"] as const;
export type PlateGives = (typeof PLATE_GIVES)[number];

/** A column that points along a laboratory axis. */
export interface MappedColumn {
  readonly column: string;
  /** One of N kN kgf lbf; N m, N mm, N cm, kgf m; m cm mm in. */
  readonly unit: string;
  readonly axis: LabAxis;
  /** Where a CoP is counted from; the centre of the plate if left out. */
  readonly from?: "plate-centre" | "lab";
}

export type Numbers3 = readonly [number, number, number];

export interface MappedPlate {
  /** In the user's own words; lead, trail and both say which foot stands on it. */
  readonly plate: string;
  readonly gives: PlateGives;
  readonly sense?: Sense;
  readonly force: readonly MappedColumn[];
  readonly moment: readonly MappedColumn[];
  readonly cop: readonly MappedColumn[];
  readonly freeMoment?: MappedColumn;
  /** What moments are about: the plate (its surface centre, or `depthM` below it) or the laboratory's origin. */
  readonly momentAbout?: "plate-centre" | "lab";
  readonly signals: readonly { readonly column: string; readonly unit: string }[];
  /** Six rows Fx Fy Fz Mx My Mz, a column for each signal, N and N m per unit of signal. */
  readonly matrix?: readonly (readonly number[])[];
  /** The laboratory axes along which the matrix rows x, y, z point; right-handed. +x +y +z if left out. */
  readonly axes?: readonly [LabAxis, LabAxis, LabAxis];
  /** How far the point that moments are about lies below the surface. */
  readonly depthM?: number;
  /** Of the top surface, in the laboratory, one after the other around. */
  readonly cornersM?: readonly [Numbers3, Numbers3, Numbers3, Numbers3];
  /** Instead of corners: sides along the first and the second horizontal laboratory axis, and the centre of the surface. */
  readonly sizeM?: readonly [number, number];
  readonly centreM?: Numbers3;
}

export interface ExtraColumn {
  readonly column: string;
  readonly role: ChannelRole;
  readonly unit: string;
}

/** What a user has said of the columns of a text, kept and used again for every file with the same columns. */
export interface ColumnMapping {
  readonly name: string;
  readonly match: { readonly columns: readonly string[] };
  readonly text: TextLayout;
  readonly time: { readonly column: string; readonly unit: "s" | "ms" | "us" } | { readonly rateHz: number };
  /** Away from the ground; found from the load if left out. */
  readonly up?: LabAxis;
  readonly plates: readonly MappedPlate[];
  readonly extra: readonly ExtraColumn[];
}
