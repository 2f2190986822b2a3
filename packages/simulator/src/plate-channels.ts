import { type Column, type Random, UnderfootError, type Vector } from "@underfoot/domain";
import type { PlateType } from "./plate-setup.ts";
import type { PlateColumns } from "./plate-wrench.ts";

/** A plate's channels as a file of its type holds them, SI units (type 4: volts). */
export interface PlateChannels {
  readonly labels: readonly string[];
  readonly units: readonly string[];
  readonly columns: readonly Column[];
  /** The physical value at the converter's end, per channel. */
  readonly fullScale: readonly number[];
  /** Type 4: six rows Fx Fy Fz Mx My Mz, N and N m per volt. */
  readonly matrix?: readonly (readonly number[])[];
}

const HORIZONTAL_END_N = 1500;
const LOAD_END_N = 3000;
const MOMENT_END_NM = 800;
const PLACE_END_M = 0.5;
const FREE_MOMENT_END_NM = 200;
const SIGNAL_END_V = 10;
/** Under this load a plate that computes its own CoP gives 0, N. */
const LEAST_LOAD_N = 5;

/** A moment about the plate's origin from one about the surface centre: M + o x F. */
function aboutOrigin({ fx, fy, fz, mx, my, mz }: PlateColumns, o: Vector): [Column, Column, Column] {
  const count = fx.length;
  const out: [Column, Column, Column] = [new Float64Array(count), new Float64Array(count), new Float64Array(count)];
  for (let i = 0; i < count; i++) {
    out[0][i] = mx[i]! + o.y * fz[i]! - o.z * fy[i]!;
    out[1][i] = my[i]! + o.z * fx[i]! - o.x * fz[i]!;
    out[2][i] = mz[i]! + o.x * fy[i]! - o.y * fx[i]!;
  }
  return out;
}

function forceAndPlace(wrench: PlateColumns, origin: Vector): PlateChannels {
  const { fx, fy, fz, mx, my, mz } = wrench;
  const count = fx.length;
  const [px, py, free] = [new Float64Array(count), new Float64Array(count), new Float64Array(count)];
  for (let i = 0; i < count; i++) {
    const isLoaded = Math.abs(fz[i]!) > LEAST_LOAD_N;
    const x = isLoaded ? -my[i]! / fz[i]! : 0;
    const y = isLoaded ? mx[i]! / fz[i]! : 0;
    px[i] = x + origin.x;
    py[i] = y + origin.y;
    free[i] = mz[i]! - (x * fy[i]! - y * fx[i]!);
  }
  return {
    labels: ["Fx", "Fy", "Fz", "Px", "Py", "Mz"],
    units: ["N", "N", "N", "m", "m", "N m"],
    columns: [fx, fy, fz, px, py, free],
    fullScale: [HORIZONTAL_END_N, HORIZONTAL_END_N, LOAD_END_N, PLACE_END_M, PLACE_END_M, FREE_MOMENT_END_NM],
  };
}

function forceAndMoment(wrench: PlateColumns, origin: Vector): PlateChannels {
  return {
    labels: ["Fx", "Fy", "Fz", "Mx", "My", "Mz"],
    units: ["N", "N", "N", "N m", "N m", "N m"],
    columns: [wrench.fx, wrench.fy, wrench.fz, ...aboutOrigin(wrench, origin)],
    fullScale: [HORIZONTAL_END_N, HORIZONTAL_END_N, LOAD_END_N, MOMENT_END_NM, MOMENT_END_NM, FREE_MOMENT_END_NM],
  };
}

/** Four sensors at (+a+b) (-a+b) (-a-b) (+a-b): the split that needs no force between the sensors. */
function eightForces(wrench: PlateColumns, origin: Vector): PlateChannels {
  const [mx, my, mz] = aboutOrigin(wrench, { x: 0, y: 0, z: origin.z });
  const { fx, fy, fz } = wrench;
  const a = Math.abs(origin.x);
  const b = Math.abs(origin.y);
  const columns = Array.from({ length: 8 }, () => new Float64Array(fx.length));
  const [fx12, fx34, fy14, fy23, fz1, fz2, fz3, fz4] = columns as [
    Column,
    Column,
    Column,
    Column,
    Column,
    Column,
    Column,
    Column,
  ];
  for (let i = 0; i < fx.length; i++) {
    const byX = mz[i]! / (4 * b);
    const byY = mz[i]! / (4 * a);
    fx12[i] = fx[i]! / 2 - byX;
    fx34[i] = fx[i]! / 2 + byX;
    fy14[i] = fy[i]! / 2 + byY;
    fy23[i] = fy[i]! / 2 - byY;
    fz1[i] = (fz[i]! + mx[i]! / b - my[i]! / a) / 4;
    fz2[i] = (fz[i]! + mx[i]! / b + my[i]! / a) / 4;
    fz3[i] = (fz[i]! - mx[i]! / b + my[i]! / a) / 4;
    fz4[i] = (fz[i]! - mx[i]! / b - my[i]! / a) / 4;
  }
  const horizontal = HORIZONTAL_END_N / 2;
  return {
    labels: ["Fx12", "Fx34", "Fy14", "Fy23", "Fz1", "Fz2", "Fz3", "Fz4"],
    units: columns.map(() => "N"),
    columns,
    fullScale: [horizontal, horizontal, horizontal, horizontal, LOAD_END_N, LOAD_END_N, LOAD_END_N, LOAD_END_N],
  };
}

/** N and N m per volt of an invented amplifier. */
const DIAGONAL = [150, 150, 300, 80, 80, 30] as const;
const OFF_DIAGONAL = 0.015;

function drawnMatrix(draw: Random): number[][] {
  return DIAGONAL.map((own, r) =>
    DIAGONAL.map((_, c) => (r === c ? own * (1 + 0.02 * draw.normal()) : own * OFF_DIAGONAL * draw.normal())),
  );
}

/** Inverse of a well-conditioned square matrix by Gauss-Jordan elimination with the largest pivot. */
function inverse(matrix: readonly (readonly number[])[]): number[][] {
  const n = matrix.length;
  const rows = matrix.map((row, r) => [...row, ...row.map((_, c) => (r === c ? 1 : 0))]);
  for (let k = 0; k < n; k++) {
    let best = k;
    for (let r = k + 1; r < n; r++) if (Math.abs(rows[r]![k]!) > Math.abs(rows[best]![k]!)) best = r;
    [rows[k], rows[best]] = [rows[best]!, rows[k]!];
    const pivot = rows[k]![k]!;
    rows[k] = rows[k]!.map((value) => value / pivot);
    for (let r = 0; r < n; r++) {
      if (r === k) continue;
      const factor = rows[r]![k]!;
      rows[r] = rows[r]!.map((value, c) => value - factor * rows[k]![c]!);
    }
  }
  return rows.map((row) => row.slice(n));
}

function sixSignals(wrench: PlateColumns, origin: Vector, draw: Random): PlateChannels {
  const matrix = drawnMatrix(draw);
  const inputs = [wrench.fx, wrench.fy, wrench.fz, ...aboutOrigin(wrench, origin)];
  const columns = inverse(matrix).map((row) => {
    const [a, b, c, d, e, f] = row as [number, number, number, number, number, number];
    const [fx, fy, fz, mx, my, mz] = inputs as [Column, Column, Column, Column, Column, Column];
    const out = new Float64Array(fx.length);
    for (let i = 0; i < out.length; i++) {
      out[i] = a * fx[i]! + b * fy[i]! + c * fz[i]! + d * mx[i]! + e * my[i]! + f * mz[i]!;
    }
    return out;
  });
  return {
    labels: ["S1", "S2", "S3", "S4", "S5", "S6"],
    units: columns.map(() => "V"),
    columns,
    fullScale: columns.map(() => SIGNAL_END_V),
    matrix,
  };
}

/**
 * The channels of a C3D plate type from force and moment about the surface centre (the guide's formulas, turned round):
 * 1 force, CoP, free moment; 2 force and moment about the origin; 3 four sensors of three axes, some added in pairs;
 * 4 six signals in volts and the matrix that calibrates them.
 */
export function plateChannels(
  wrench: PlateColumns,
  { type, originM, draw }: { type: PlateType; originM: Vector; draw: Random },
): PlateChannels {
  switch (type) {
    case 1:
      return forceAndPlace(wrench, originM);
    case 2:
      return forceAndMoment(wrench, originM);
    case 3:
      return eightForces(wrench, originM);
    case 4:
      return sixSignals(wrench, originM, draw);
    default:
      throw new UnderfootError({
        code: "simulator/plate-type",
        sentence: `Plates of type ${String(type)} cannot be simulated.`,
        remedy: "Choose type 1, 2, 3 or 4.",
      });
  }
}
