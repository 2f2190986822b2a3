import type { Column } from "@underfoot/domain";
import type { LabPose } from "./lab-pose.ts";
import type { LaidPlate } from "./plate-setup.ts";
import type { FootTruth } from "./shot-series.ts";

/**
 * Force of the ground on the player, N, and moment about the centre of the plate's top surface, N m, in plate axes
 * (z into the ground: standing Fz < 0). n samples each.
 */
export interface PlateColumns {
  readonly fx: Column;
  readonly fy: Column;
  readonly fz: Column;
  readonly mx: Column;
  readonly my: Column;
  readonly mz: Column;
}

/**
 * What a faultless plate feels of one foot:
 *
 *   M = p x F + T n,   p the CoP from the surface centre, `padM` over it
 *
 * @param foot         turf player axes, CoP from the middle of the stance
 */
export function plateWrench(
  foot: FootTruth,
  { plate, pose, padM }: { plate: LaidPlate; pose: LabPose; padM: number },
): PlateColumns {
  const hand = pose.handed === "right" ? 1 : -1;
  const yaw = (plate.plate.yawDeg * Math.PI) / 180;
  const cos = Math.cos(yaw);
  const sin = Math.sin(yaw);
  const { forceN, copTargetM, copAheadM, freeMomentNm } = foot;
  const count = copTargetM.length;
  const column = (): Column => new Float64Array(count);
  const [fx, fy, fz, mx, my, mz] = [column(), column(), column(), column(), column(), column()];
  for (let i = 0; i < count; i++) {
    const t = forceN.target[i]!;
    const a = forceN.ahead[i]!;
    const x = cos * t + sin * a;
    const y = hand * (cos * a - sin * t);
    const z = -forceN.up[i]!;
    const fromT = copTargetM[i]! - plate.offsetM;
    const fromA = copAheadM[i]!;
    const px = cos * fromT + sin * fromA;
    const py = hand * (cos * fromA - sin * fromT);
    fx[i] = x;
    fy[i] = y;
    fz[i] = z;
    mx[i] = py * z + padM * y;
    my[i] = -padM * x - px * z;
    mz[i] = px * y - py * x - hand * freeMomentNm[i]!;
  }
  return { fx, fy, fz, mx, my, mz };
}
