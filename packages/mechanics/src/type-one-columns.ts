import type { Column, PlateDescription, PlateFrame, Vector } from "@underfoot/domain";

/**
 * Type 1 (force, CoP, free moment at the CoP) as six columns Fx Fy Fz Mx My Mz, moment about the surface centre, plate axes.
 *
 *   p = (Px - o1, Py - o2),   Ms = (p, 0) × F + (0, 0, Mz)
 *
 * Below `unloadedN` the written CoP is noise (or missing): it is held within the plate's surface, so that a lifted foot
 * leaves no step in the moments.
 *
 * @param columns  Fx Fy Fz Px Py and, where there is one, Mz; in the units of the plate description; n samples each
 * @returns        new columns; forces still in the channel's unit, moments in N m. Without a free moment Mz is 0.
 */
export function typeOneColumns(
  columns: readonly Column[],
  plate: PlateDescription,
  { origin, frame, unloadedN }: { readonly origin: Vector; readonly frame: PlateFrame; readonly unloadedN: number },
): Column[] {
  const [fx, fy, fz, px, py] = columns as [Column, Column, Column, Column, Column];
  const free = columns[5];
  const sampleCount = fx.length;
  const mx = new Float64Array(sampleCount);
  const my = new Float64Array(sampleCount);
  const mz = new Float64Array(sampleCount);
  const { forceToN, momentToNm, lengthToM } = plate;
  const halfX = frame.sizeM[0] / 2;
  const halfY = frame.sizeM[1] / 2;
  for (let i = 0; i < sampleCount; i++) {
    const loadN = fz[i]! * forceToN;
    let pxM = px[i]! * lengthToM - origin.x;
    let pyM = py[i]! * lengthToM - origin.y;
    if (Math.abs(loadN) < unloadedN) {
      pxM = !Number.isNaN(pxM) ? Math.min(halfX, Math.max(-halfX, pxM)) : 0;
      pyM = !Number.isNaN(pyM) ? Math.min(halfY, Math.max(-halfY, pyM)) : 0;
    }
    mx[i] = pyM * loadN;
    my[i] = -pxM * loadN;
    mz[i] = (pxM * fy[i]! - pyM * fx[i]!) * forceToN + (free === undefined ? 0 : free[i]! * momentToNm);
  }
  return [fx, fy, fz, mx, my, mz];
}
