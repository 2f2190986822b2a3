import type { Column } from "@underfoot/domain";
import type { PlateWrench } from "./plate-wrench.ts";

/** Centre of pressure and free moment of one plate, laboratory axes, a value a sample. NaN under too little load. */
export interface PlateCop {
  readonly xM: Column;
  readonly yM: Column;
  readonly zM: Column;
  /** About the outward normal, right-handed, N m. */
  readonly freeMomentNm: Column;
  /** Along the outward normal, N; never NaN for lack of load. */
  readonly loadN: Column;
}

/**
 * Every sample of `centreOfPressure` and `freeMoment` at once, on the plate's own surface (no pad):
 *
 *   r = O + (n × M) / (n·F),   T = n·M - n·((r - O) × F)
 *
 * @param leastLoadN  below this load along the normal the place is noise: NaN
 * @returns           n samples each; CoP and free moment NaN throughout where the plate gives no moments
 */
export function plateCop(wrench: PlateWrench, { leastLoadN }: { readonly leastLoadN: number }): PlateCop {
  const count = wrench.forceN.x.length;
  const { x: fx, y: fy, z: fz } = wrench.forceN;
  const { x: mx, y: my, z: mz } = wrench.momentNm;
  const { x: nx, y: ny, z: nz } = wrench.frame.normal;
  const { x: ox, y: oy, z: oz } = wrench.frame.centreM;
  const xM = new Float64Array(count).fill(Number.NaN);
  const yM = new Float64Array(count).fill(Number.NaN);
  const zM = new Float64Array(count).fill(Number.NaN);
  const freeMomentNm = new Float64Array(count).fill(Number.NaN);
  const loadN = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const load = nx * fx[i]! + ny * fy[i]! + nz * fz[i]!;
    loadN[i] = load;
    if (!(load > leastLoadN) || !wrench.hasMoments) continue;
    const rx = (ny * mz[i]! - nz * my[i]!) / load;
    const ry = (nz * mx[i]! - nx * mz[i]!) / load;
    const rz = (nx * my[i]! - ny * mx[i]!) / load;
    xM[i] = ox + rx;
    yM[i] = oy + ry;
    zM[i] = oz + rz;
    const about =
      nx * (ry * fz[i]! - rz * fy[i]!) + ny * (rz * fx[i]! - rx * fz[i]!) + nz * (rx * fy[i]! - ry * fx[i]!);
    freeMomentNm[i] = nx * mx[i]! + ny * my[i]! + nz * mz[i]! - about;
  }
  return { xM, yM, zM, freeMomentNm, loadN };
}
