import { cross, type PlateDescription, type PlateFact, type PlateFrame, type Vector } from "@underfoot/domain";
import { shotFaults } from "./faults.ts";

/**
 * How one plate's channels become a wrench: six rows Fx Fy Fz Mx My Mz in plate axes, moment about the centre of the
 * top surface, one column a channel, N and N m per unit of the channel. Type 1 has its own first step (`typeOneColumns`).
 */
export interface PlateMatrix {
  readonly rows: readonly (readonly number[])[];
  readonly hasMoments: boolean;
  readonly hasFreeMoment: boolean;
}

/** Types that are computed; others keep their channels and are only shown. */
export const COMPUTED_PLATE_TYPES: readonly number[] = [0, 1, 2, 3, 4];

/** Fewest channels of each computed type; type 1 without a free moment has five, type 0 the load alone one. */
const FEWEST_CHANNELS: readonly number[] = [1, 5, 6, 8, 6];

/** The origin as the sidecar wants it: mended by the reader, as written, or turned (all of it for types 2 and 4, o3 alone for 3). */
export function originM(plate: PlateDescription, type: number, fact: PlateFact | undefined): Vector {
  const written = plate.originAsWrittenM;
  if (fact?.originSign === "as-written") return written;
  if (fact?.originSign !== "turned") return plate.originM;
  if (type === 3) return { ...written, z: -written.z };
  return { x: -written.x, y: -written.y, z: -written.z };
}

/**
 * The matrix of a plate of type 0, 1, 2, 3 or 4.
 *
 *   0   Fx Fy Fz (or Fz alone)                     forces only
 *   1   Fx Fy Fz and, after `typeOneColumns`, the moment about the surface centre
 *   2   Fx Fy Fz Mx My Mz                          Ms = M - o × F
 *   3   Fx12 Fx34 Fy14 Fy23 Fz1 Fz2 Fz3 Fz4        sensors at (±a, ±b), a = |o1|, b = |o2|; then o = (0, 0, o3)
 *   4   six signals v                              (F, M) = C v, Ms = M - o × F
 *
 * Source: C3D user guide, FORCE_PLATFORM (formats: plate table).
 * @throws UnderfootError `plate-not-computed`, `plate-calibration`
 */
export function plateMatrix(plate: PlateDescription, fact?: PlateFact): PlateMatrix {
  const type = fact?.type ?? plate.type;
  const count = plate.channels.length;
  if (!COMPUTED_PLATE_TYPES.includes(type)) {
    throw shotFaults.plateFault(plate.index, `type ${type} is not computed.`, "Map its channels by hand.");
  }
  const fewest = FEWEST_CHANNELS[type] ?? 6;
  if (count < fewest) {
    throw shotFaults.calibration(plate.index, `type ${type} needs ${fewest} channels and has ${count}`);
  }
  const origin = originM(plate, type, fact);
  switch (type) {
    case 0:
      return { rows: forceRows(plate), hasMoments: false, hasFreeMoment: false };
    case 1:
      return { ...typeOneMatrix(plate), hasFreeMoment: isChannel(plate.channels[5]) };
    case 3:
      return typeThreeMatrix(plate, origin);
    default: {
      const rows = type === 4 ? calibrationRows(plate) : typeTwoRows(plate);
      return { rows: aboutSurface(rows, origin), hasMoments: plate.hasMoments, hasFreeMoment: plate.hasMoments };
    }
  }
}

/** True for a position in the recording; -1 or nothing stands for a channel that the plate does not have. */
function isChannel(channel: number | undefined): boolean {
  return channel !== undefined && channel >= 0;
}

function zeros(count: number): number[] {
  return new Array<number>(count).fill(0);
}

function row(count: number, entries: readonly (readonly [number, number])[]): number[] {
  const numbers = zeros(count);
  for (const [at, value] of entries) numbers[at] = value;
  return numbers;
}

function forceRows(plate: PlateDescription): number[][] {
  const count = plate.channels.length;
  const n = plate.forceToN;
  const none = zeros(count);
  if (count < 3) return [none, none, row(count, [[0, n]]), none, none, none];
  return [row(count, [[0, n]]), row(count, [[1, n]]), row(count, [[2, n]]), none, none, none];
}

function typeOneMatrix(plate: PlateDescription): { rows: number[][]; hasMoments: boolean } {
  const rows = [0, 1, 2, 3, 4, 5].map((i) => row(6, [[i, i < 3 ? plate.forceToN : 1]]));
  return { rows, hasMoments: plate.hasMoments };
}

function typeTwoRows(plate: PlateDescription): number[][] {
  const count = plate.channels.length;
  return [0, 1, 2, 3, 4, 5].map((i) => row(count, [[i, i < 3 ? plate.forceToN : plate.momentToNm]]));
}

function calibrationRows(plate: PlateDescription): number[][] {
  const { matrix, channels, index } = plate;
  if (matrix === undefined) throw shotFaults.calibration(index, "type 4 has no calibration matrix");
  const isWhole = matrix.length === 6 && matrix.every((r) => r.length >= channels.length && r.every(Number.isFinite));
  if (!isWhole) {
    throw shotFaults.calibration(index, `its calibration matrix is not six rows of ${channels.length} numbers`);
  }
  return matrix.map((r) => [...r]);
}

function typeThreeMatrix(plate: PlateDescription, origin: Vector): PlateMatrix {
  const n = plate.forceToN;
  const a = Math.abs(origin.x) * n;
  const b = Math.abs(origin.y) * n;
  const eight = (v: readonly number[]): number[] => [...v, ...zeros(plate.channels.length - 8)];
  const force = [eight([n, n, 0, 0, 0, 0, 0, 0]), eight([0, 0, n, n, 0, 0, 0, 0]), eight([0, 0, 0, 0, n, n, n, n])];
  const hasMoments = plate.hasMoments && a > 0 && b > 0;
  const moment = [
    eight([0, 0, 0, 0, b, b, -b, -b]),
    eight([0, 0, 0, 0, -a, a, a, -a]),
    eight([-b, b, a, -a, 0, 0, 0, 0]),
  ];
  const rows = aboutSurface([...force, ...moment], { x: 0, y: 0, z: origin.z });
  return { rows, hasMoments, hasFreeMoment: hasMoments };
}

/** Ms = M - o × F, column by column. */
function aboutSurface(rows: readonly number[][], origin: Vector): number[][] {
  const [fx, fy, fz, mx, my, mz] = rows as [number[], number[], number[], number[], number[], number[]];
  const shift = fx.map((x, c) => cross(origin, { x, y: fy[c]!, z: fz[c]! }));
  return [
    fx,
    fy,
    fz,
    mx.map((m, c) => m - shift[c]!.x),
    my.map((m, c) => m - shift[c]!.y),
    mz.map((m, c) => m - shift[c]!.z),
  ];
}

/** The rows turned from plate axes into the laboratory: R F and R Ms, R = [x y z] of the corners. */
export function labRows(rows: readonly (readonly number[])[], { x, y, z }: PlateFrame): number[][] {
  const turned = (axis: "x" | "y" | "z", from: number): number[] =>
    rows[from]!.map((first, c) => x[axis] * first + y[axis] * rows[from + 1]![c]! + z[axis] * rows[from + 2]![c]!);
  return [turned("x", 0), turned("y", 0), turned("z", 0), turned("x", 3), turned("y", 3), turned("z", 3)];
}
