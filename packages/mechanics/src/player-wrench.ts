import { type Column, cross, dot, type PlayerVector, scaled, sum, type Vector } from "@underfoot/domain";
import { type TurfAxes, turfFromLab } from "./axes.ts";
import type { PlateWrench } from "./plate-wrench.ts";
import type { PlayerWrench } from "./shot.ts";

/**
 * The player wrench of a plate: six numbers a sample about the fixed point `referenceM` of the turf plane.
 * With c = O - ref in turf player axes and hand = +1 right, -1 left:
 *
 *   F_t, F_a, F_u = F·e_t, F·e_a, F·n
 *   B_t = -M·(n × e_t) + c_t F_u - c_u F_t       B_a = -hand M·e_t + c_a F_u - c_u F_a
 *   N   = hand M·n + c_a F_t - c_t F_a           turning moment about the normal through ref
 *
 * A linear map of the channels: it may be filtered, resampled, averaged and added. A left-handed player's mirrored shot
 * gives the same six numbers. The turning moment is NaN where the plate has no free moment.
 */
export function playerWrench(plate: PlateWrench, axes: TurfAxes, referenceM: Vector): PlayerWrench {
  const { target, ahead, up, hand } = axes;
  const c = turfFromLab(axes, sum(plate.frame.centreM, scaled(referenceM, -1)));
  const { forceN, momentNm } = plate;
  const targetN = along(forceN.x, forceN.y, forceN.z, target);
  const aheadN = along(forceN.x, forceN.y, forceN.z, ahead);
  const upN = along(forceN.x, forceN.y, forceN.z, up);
  const bTargetNm = along(momentNm.x, momentNm.y, momentNm.z, scaled(cross(up, target), -1));
  const bAheadNm = along(momentNm.x, momentNm.y, momentNm.z, scaled(target, -hand));
  const turnNm = along(momentNm.x, momentNm.y, momentNm.z, scaled(up, hand));
  for (let i = 0; i < upN.length; i++) {
    const fT = targetN[i]!;
    const fA = aheadN[i]!;
    const fU = upN[i]!;
    bTargetNm[i] = bTargetNm[i]! + c.target * fU - c.up * fT;
    bAheadNm[i] = bAheadNm[i]! + c.ahead * fU - c.up * fA;
    turnNm[i] = turnNm[i]! + c.ahead * fT - c.target * fA;
  }
  if (!plate.hasFreeMoment) turnNm.fill(Number.NaN);
  return { targetN, aheadN, upN, bTargetNm, bAheadNm, turnNm };
}

/** The component of a vector series along a laboratory vector. */
function along(x: Column, y: Column, z: Column, { x: eX, y: eY, z: eZ }: Vector): Column {
  const out = new Float64Array(x.length);
  for (let i = 0; i < out.length; i++) out[i] = eX * x[i]! + eY * y[i]! + eZ * z[i]!;
  return out;
}

/** The sum of two player wrenches about the same point: both feet. */
export function bothWrench(lead: PlayerWrench, trail: PlayerWrench): PlayerWrench {
  return {
    targetN: added(lead.targetN, trail.targetN),
    aheadN: added(lead.aheadN, trail.aheadN),
    upN: added(lead.upN, trail.upN),
    bTargetNm: added(lead.bTargetNm, trail.bTargetNm),
    bAheadNm: added(lead.bAheadNm, trail.bAheadNm),
    turnNm: added(lead.turnNm, trail.turnNm),
  };
}

function added(a: Column, b: Column): Column {
  const out = new Float64Array(a.length);
  for (let i = 0; i < out.length; i++) out[i] = a[i]! + b[i]!;
  return out;
}

/** A player wrench at one sample. */
export interface PlayerWrenchAt {
  readonly targetN: number;
  readonly aheadN: number;
  readonly upN: number;
  readonly bTargetNm: number;
  readonly bAheadNm: number;
  readonly turnNm: number;
}

/** CoP from the reference point on the plane h above the turf, m: ((B_t + h F_t) / F_u, (B_a + h F_a) / F_u). */
export function wrenchCop(w: PlayerWrenchAt, padM = 0): { readonly targetM: number; readonly aheadM: number } {
  return {
    targetM: (w.bTargetNm + padM * w.targetN) / w.upN,
    aheadM: (w.bAheadNm + padM * w.aheadN) / w.upN,
  };
}

/** Moment about the turf's normal at the CoP, + toward the target, N m: N - (r_a F_t - r_t F_a). */
export function wrenchFreeMoment(w: PlayerWrenchAt, padM = 0): number {
  const cop = wrenchCop(w, padM);
  return w.turnNm - turnOf(cop.targetM, cop.aheadM, w.targetN, w.aheadN);
}

/** Torque toward the target of a horizontal force at an arm, both in turf player axes, for both hands: u_a v_t - u_t v_a. */
export function turnOf(armTargetM: number, armAheadM: number, targetN: number, aheadN: number): number {
  return armAheadM * targetN - armTargetM * aheadN;
}

/**
 * Couple of the feet, + toward the target, N m: what the two feet's horizontal forces turn about the combined CoP.
 *
 *   C = turn(r_lead - r_trail, s_trail f_lead - s_lead f_trail),   s = shares of F_u
 *
 * With the feet's free moments it makes up the whole torque about the combined CoP, exactly, for coplanar feet.
 */
export function couple(lead: PlayerWrenchAt, trail: PlayerWrenchAt, padM = 0): number {
  const leadCop = wrenchCop(lead, padM);
  const trailCop = wrenchCop(trail, padM);
  const leadShare = lead.upN / (lead.upN + trail.upN);
  const trailShare = 1 - leadShare;
  return turnOf(
    leadCop.targetM - trailCop.targetM,
    leadCop.aheadM - trailCop.aheadM,
    trailShare * lead.targetN - leadShare * trail.targetN,
    trailShare * lead.aheadN - leadShare * trail.aheadN,
  );
}

/** Moment about the plate's own centre back from the player wrench, one sample, turf player axes, N m. */
export function centreMoment(w: PlayerWrenchAt, c: PlayerVector, hand: 1 | -1): PlayerVector {
  return {
    target: -hand * (w.bAheadNm - c.ahead * w.upN + c.up * w.aheadN),
    ahead: hand * (w.bTargetNm - c.target * w.upN + c.up * w.targetN),
    up: hand * (w.turnNm - c.ahead * w.targetN + c.target * w.aheadN),
  };
}

/** Largest angle between the outward normals of plates and their mean, degrees. */
export function meanNormal(normals: readonly Vector[]): { readonly normal: Vector; readonly largestDeg: number } {
  const total = normals.reduce((a, b) => sum(a, b), { x: 0, y: 0, z: 0 });
  const length = Math.sqrt(dot(total, total));
  const normal = scaled(total, 1 / length);
  let largestDeg = 0;
  for (const a of normals) {
    for (const b of normals) {
      const angle = (Math.atan2(Math.sqrt(dot(cross(a, b), cross(a, b))), dot(a, b)) * 180) / Math.PI;
      largestDeg = Math.max(largestDeg, angle);
    }
  }
  return { normal, largestDeg };
}
