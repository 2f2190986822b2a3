import {
  type Channel,
  type Column,
  dot,
  type Finding,
  type PlateCorners,
  type PlateDescription,
  type Vector,
  type Where,
} from "@underfoot/domain";
import type { ColumnMapping, LabAxis, MappedColumn, MappedPlate, Numbers3 } from "./column-mapping-type.ts";
import {
  groundedCorners,
  horizontalsOf,
  LAB_LETTERS,
  letterOf,
  plateAxes,
  signOf,
  squareCorners,
  vectorOfAxis,
} from "./lab-axes.ts";
import { upGuess } from "./lab-up.ts";
import { mappingFaults } from "./mapping-faults.ts";
import { mappingFindingTable } from "./mapping-findings.ts";
import { textUnit } from "./text-units.ts";

/** Drawn where nobody gave a size, m (ours): about as large as two plates are that lie side by side under a player. */
const DEFAULT_SIZE_M = [0.6, 0.4] as const;
/** A channel that the plate does not have (see mechanics). */
const NONE = -1;

export interface MappedPlates {
  readonly channels: readonly Channel[];
  readonly plates: readonly PlateDescription[];
  readonly findings: readonly Finding[];
  readonly guesses: readonly Finding[];
}

interface Source {
  readonly channels: readonly Channel[];
  /** The channels' own values, to be turned in place. */
  readonly columns: readonly Column[];
  readonly where: Where;
}

/** One plate while it is made: its place, and where its columns stand. */
interface Making {
  readonly corners: PlateCorners;
  readonly centreM: Vector;
  /** Plate axes in the laboratory. */
  readonly axes: readonly [Vector, Vector, Vector];
  readonly up: LabAxis;
  readonly index: number;
  readonly source: Source;
}

/**
 * Plates from the mapped columns: force alone becomes type 0, with a CoP type 1, with moments type 2, signals with a matrix
 * type 4. The columns of forces, moments and CoP are turned in place: SI units, along the plate's axes (z into the ground).
 *
 * @throws UnderfootError no-vertical, mapping-field
 */
export function mappedPlates(mapping: ColumnMapping, source: Source): MappedPlates {
  const { where } = source;
  const guess = mapping.up === undefined ? upGuess(mapping, source) : undefined;
  const up = mapping.up ?? guess?.value ?? "+z";
  const findings: Finding[] = unitFindings(mapping, source);
  const units = new Map<string, string>();
  const plates = mapping.plates.map((plate, k): PlateDescription => {
    const place = placeOf(plate, up);
    if (!place.hasSize) findings.push(mappingFindingTable.noSize(k + 1, DEFAULT_SIZE_M, where));
    const making = { ...place, axes: plateAxes(place.corners), up, index: k + 1, source };
    for (const column of [
      ...plate.force,
      ...plate.moment,
      ...plate.cop,
      ...(plate.freeMoment === undefined ? [] : [plate.freeMoment]),
    ]) {
      units.set(
        column.column,
        { force: "N", moment: "N m", length: "m", signal: "", time: "" }[textUnit(column.unit)?.quantity ?? "signal"],
      );
    }
    if (plate.gives !== "signals") findings.push(...verticalFindings(plate, making));
    return describedPlate(plate, making, place.isPlaced);
  });
  for (const { column, unit } of [...mapping.extra, ...mapping.plates.flatMap(({ signals }) => signals)])
    units.set(column, unit);
  const roles = new Map(mapping.extra.map(({ column, role }) => [column, role]));
  const channels = source.channels.map((channel) => ({
    ...channel,
    unit: units.get(channel.label) ?? channel.unit,
    role: roles.get(channel.label) ?? channel.role,
  }));
  const guesses = guess === undefined ? [] : [mappingFindingTable.guessUp(guess.value, guess.reason, where)];
  return { channels, plates, findings, guesses };
}

const vectorOf = ([x, y, z]: Numbers3): Vector => ({ x, y, z });

function placeOf(
  plate: MappedPlate,
  up: LabAxis,
): Pick<Making, "corners" | "centreM"> & { isPlaced: boolean; hasSize: boolean } {
  if (plate.cornersM !== undefined) {
    const [c1, c2, c3, c4] = plate.cornersM;
    const corners = groundedCorners([vectorOf(c1), vectorOf(c2), vectorOf(c3), vectorOf(c4)], up);
    const mean = (letter: "x" | "y" | "z"): number => corners.reduce((total, corner) => total + corner[letter], 0) / 4;
    return { corners, centreM: { x: mean("x"), y: mean("y"), z: mean("z") }, isPlaced: true, hasSize: true };
  }
  const centreM = vectorOf(plate.centreM ?? [0, 0, 0]);
  // A CoP counted in the laboratory is placed by itself, wherever the plate lies.
  const isInLab = plate.cop.some(({ from }) => from === "lab") || plate.momentAbout === "lab";
  return {
    corners: squareCorners(up, plate.sizeM ?? DEFAULT_SIZE_M, centreM),
    centreM,
    isPlaced: plate.centreM !== undefined || isInLab,
    hasSize: plate.sizeM !== undefined,
  };
}

function verticalFindings(plate: MappedPlate, { up, index, source }: Making): Finding[] {
  const letters = plate.force.map(({ axis }) => letterOf(axis));
  if (!letters.includes(letterOf(up))) throw mappingFaults.noVertical(index, up, source.where);
  const lacking = horizontalsOf(up).filter((letter) => !letters.includes(letter));
  return lacking.length > 0 ? [mappingFindingTable.noHorizontal(index, lacking, source.where)] : [];
}

function describedPlate(plate: MappedPlate, making: Making, isPlaced: boolean): PlateDescription {
  const origin = originOf(plate, making);
  const common = {
    index: making.index,
    corners: making.corners,
    isPlaced,
    originM: origin,
    originAsWrittenM: origin,
    ...{ forceToN: 1, momentToNm: 1, lengthToM: 1, momentUnit: "N m" },
    sense: plate.sense ?? "unknown",
  } as const;
  if (plate.gives === "signals") {
    const at = plate.signals.map(({ column }) => positionOf(column, making));
    return { ...common, type: 4, channels: at, matrix: plateMatrixOf(plate, making), hasMoments: true };
  }
  const force = turned(plate.force, making);
  if (plate.gives === "force+moment") {
    return { ...common, type: 2, channels: [...force, ...turned(plate.moment, making)], hasMoments: true };
  }
  if (plate.gives === "force+cop") {
    const [px, py] = turned(plate.cop, making);
    const [, , mz] = plate.freeMoment === undefined ? [NONE, NONE, NONE] : turned([plate.freeMoment], making);
    return { ...common, type: 1, channels: [...force, px ?? NONE, py ?? NONE, mz ?? NONE], hasMoments: true };
  }
  const [fx, fy, fz] = force;
  return { ...common, type: 0, channels: fx === NONE && fy === NONE ? [fz ?? NONE] : force, hasMoments: false };
}

/** From the point that moments are about to the centre of the surface, plate axes. */
function originOf({ momentAbout, depthM = 0 }: MappedPlate, { axes, centreM }: Making): Vector {
  if (momentAbout !== "lab") return { x: 0, y: 0, z: depthM === 0 ? 0 : -depthM };
  const [x, y, z] = axes;
  return { x: dot(x, centreM), y: dot(y, centreM), z: dot(z, centreM) };
}

function positionOf(column: string, { source }: Making): number {
  return source.channels.findIndex(({ label }) => label === column);
}

/**
 * Turns columns along laboratory axes into columns along the plate's axes, in place, in SI units.
 *
 * @returns the positions of the plate's x, y, z among the channels; -1 where no column gives it
 */
function turned(mapped: readonly MappedColumn[], making: Making): [number, number, number] {
  const { axes, source, centreM } = making;
  const at = LAB_LETTERS.map((letter) => {
    const column = mapped.find(({ axis }) => letterOf(axis) === letter);
    if (column === undefined) return NONE;
    const position = positionOf(column.column, making);
    const factor = signOf(column.axis) * (textUnit(column.unit)?.toSi ?? 1);
    const offset = column.from === "lab" ? centreM[letter] : 0;
    const values = source.columns[position]!;
    if (factor !== 1 || offset !== 0) for (let i = 0; i < values.length; i++) values[i] = values[i]! * factor - offset;
    return position;
  });
  const isSquare = axes.every((axis) => LAB_LETTERS.some((letter) => Math.abs(axis[letter]) === 1));
  return isSquare ? reordered(at, making) : rotated(at, making);
}

/** Plate axes along laboratory axes: another order and other signs, exact. */
function reordered(at: readonly number[], { axes, source }: Making): [number, number, number] {
  const [x, y, z] = axes.map((axis) => {
    const k = LAB_LETTERS.findIndex((letter) => Math.abs(axis[letter]) === 1);
    const position = at[k] ?? NONE;
    const values = source.columns[position];
    if (values !== undefined && axis[LAB_LETTERS[k] ?? "x"] < 0)
      for (let i = 0; i < values.length; i++) values[i] = -values[i]!;
    return position;
  });
  return [x ?? NONE, y ?? NONE, z ?? NONE];
}

/** Plate axes askew: each plate axis needs every laboratory component that it has a part in, or none of them is mapped. */
function rotated(at: readonly number[], { axes, source, index }: Making): [number, number, number] {
  const found = axes.map((axis) => {
    const needed = LAB_LETTERS.flatMap((letter, k) => (axis[letter] === 0 ? [] : [at[k] ?? NONE]));
    const count = needed.filter((position) => position !== NONE).length;
    if (count > 0 && count < needed.length) {
      throw mappingFaults.field(
        [`plates[${index - 1}].corners stand askew, so its vectors need all their columns`],
        source.where,
      );
    }
    return count === 0 ? [] : needed;
  });
  const room = [...new Set(found.flat())];
  const places = found.map((needed) => (needed.length === 0 ? NONE : (room.shift() ?? NONE)));
  const [x, y, z] = at.map((position) => source.columns[position]);
  const outs = places.map((position) => source.columns[position]);
  const count = (x ?? y ?? z)?.length ?? 0;
  for (let i = 0; i < count; i++) {
    const lab = { x: x?.[i] ?? 0, y: y?.[i] ?? 0, z: z?.[i] ?? 0 };
    outs.forEach((out, k) => {
      if (out !== undefined) out[i] = dot(axes[k]!, lab);
    });
  }
  return [places[0] ?? NONE, places[1] ?? NONE, places[2] ?? NONE];
}

/** The matrix with its rows along plate axes. */
function plateMatrixOf({ matrix = [], axes: rowAxes = ["+x", "+y", "+z"] }: MappedPlate, { axes }: Making): number[][] {
  const turnedRow = (axis: Vector, from: number): number[] =>
    (matrix[0] ?? []).map((_, c) =>
      rowAxes.reduce((total, rowAxis, k) => total + dot(axis, vectorOfAxis(rowAxis)) * (matrix[from + k]?.[c] ?? 0), 0),
    );
  return [...axes.map((axis) => turnedRow(axis, 0)), ...axes.map((axis) => turnedRow(axis, 3))];
}

/** Where the file's header names another unit than the mapping. */
function unitFindings(mapping: ColumnMapping, { channels, where }: Source): Finding[] {
  const said = mapping.plates.flatMap(({ force, moment, cop, freeMoment, signals }) => [
    ...force,
    ...moment,
    ...cop,
    ...signals,
    ...(freeMoment === undefined ? [] : [freeMoment]),
  ]);
  return said.flatMap(({ column, unit }) => {
    const written = textUnit(channels.find(({ label }) => label === column)?.unit ?? "")?.symbol;
    const own = textUnit(unit)?.symbol;
    return written === undefined || written === own
      ? []
      : [mappingFindingTable.unitDisagrees(unit, written, { ...where, column })];
  });
}
