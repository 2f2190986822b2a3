import type { Column, TurfPoint } from "@underfoot/domain";
import type { LevelFromTurf } from "./lie-axes.ts";
import { type Knot, monotoneCubic } from "./monotone-cubic.ts";
import type { AxisMotion, PlannedShot } from "./planned-shot.ts";
import { addPulse, addPulseMotion, restingTrajectory, type Trajectory } from "./pulse.ts";
import { type SimulatedSole, solePoint } from "./sole.ts";
import { addSines, addSwayMotion } from "./sway.ts";
import type { TimeGrid } from "./time-grid.ts";

/** Three columns along player axes. */
export interface PlayerColumns {
  readonly target: Column;
  readonly ahead: Column;
  readonly up: Column;
}

/** One foot on the turf: force in turf player axes, N; CoP from the reference point, m; free moment, + toward the target, N m. */
export interface FootTruth {
  readonly forceN: PlayerColumns;
  readonly copTargetM: Column;
  readonly copAheadM: Column;
  readonly freeMomentNm: Column;
}

/** A shot sampled on a grid, without any plate: what is true. */
export interface ShotSeries {
  readonly grid: TimeGrid;
  readonly lead: FootTruth;
  readonly trail: FootTruth;
  /** Lead load over both, 0..1, along the turf's normal. */
  readonly leadShare: Column;
  readonly coupleNm: Column;
  /** Turning torque of both feet about the combined CoP, about the turf's normal, N m. */
  readonly turnNm: Column;
  /** Torque about the vertical through the centre of mass, N m. */
  readonly spinNm: Column;
  /** Centre of mass along level axes: target, ahead, up; travel from the reference place of the stance. */
  readonly body: { readonly target: Trajectory; readonly ahead: Trajectory; readonly up: Trajectory };
}

export interface ShotSeriesOptions {
  readonly plan: PlannedShot;
  readonly massKg: number;
  readonly gravityMPerS2: number;
  readonly comHeightM: number;
  readonly levelFromTurf: LevelFromTurf;
  readonly soles: { readonly lead: SimulatedSole; readonly trail: SimulatedSole };
  /** Of the turf the player stands on over the reference plane (a pad), m. */
  readonly padM: number;
}

/** Below this part of the load a foot can hold the less against the other, the less it carries. */
const FADE_SHARE = 0.1;

function trajectory({ pulses, sway }: AxisMotion, grid: TimeGrid): Trajectory {
  const out = restingTrajectory(grid.count);
  addSwayMotion(sway, grid, out);
  for (const pulse of pulses) addPulseMotion(pulse, grid, out);
  return out;
}

/** CoP that balances quiet sway of an inverted pendulum: x - (h / g) x'' (Winter 1995, from memory). */
function balancingSway(axis: AxisMotion, grid: TimeGrid, secondsSquared: number): Column {
  const sway = restingTrajectory(grid.count);
  addSwayMotion(axis.sway, grid, sway);
  const out = sway.travelM;
  for (let i = 0; i < grid.count; i++) out[i]! -= secondsSquared * sway.accelerationMPerS2[i]!;
  return out;
}

function emptyFoot(count: number): FootTruth {
  const column = (): Column => new Float64Array(count);
  return {
    forceN: { target: column(), ahead: column(), up: column() },
    copTargetM: column(),
    copAheadM: column(),
    freeMomentNm: column(),
  };
}

/** Fills the foot's CoP from its heel-toe and inner-outer paths; the whole body's sway moves it ahead and back. */
function placeCop(
  foot: FootTruth,
  { sole, heelToe, innerOuter }: { sole: SimulatedSole; heelToe: readonly Knot[]; innerOuter: readonly Knot[] },
  aheadSwayM: Column,
  grid: TimeGrid,
): void {
  const along = monotoneCubic(heelToe, grid);
  const across = monotoneCubic(innerOuter, grid);
  let place: TurfPoint = { targetM: 0, aheadM: 0 };
  for (let i = 0; i < grid.count; i++) {
    if (i === 0 || along[i] !== along[i - 1] || across[i] !== across[i - 1]) {
      place = solePoint(sole, along[i]!, across[i]!);
    }
    foot.copTargetM[i] = place.targetM;
    foot.copAheadM[i] = place.aheadM + aheadSwayM[i]!;
  }
}

/** Where the centre of mass stands over the turf while the player is quiet, level axes, m: over the CoP of both feet. */
function quietPlace({ plan, soles, levelFromTurf, padM }: ShotSeriesOptions): { targetM: number; aheadM: number } {
  const share = plan.share[0]!.value / 100;
  const lead = solePoint(soles.lead, plan.leadHeelToe[0]!.value, plan.leadInnerOuter[0]!.value);
  const trail = solePoint(soles.trail, plan.trailHeelToe[0]!.value, plan.trailInnerOuter[0]!.value);
  const t = share * lead.targetM + (1 - share) * trail.targetM;
  const a = share * lead.aheadM + (1 - share) * trail.aheadM;
  const [toTarget, toAhead] = levelFromTurf;
  return {
    targetM: toTarget[0] * t + toTarget[1] * a + toTarget[2] * padM,
    aheadM: toAhead[0] * t + toAhead[1] * a + toAhead[2] * padM,
  };
}

interface Inputs {
  readonly body: ShotSeries["body"];
  readonly spinNm: Column;
  readonly leadFreeNm: Column;
  readonly trailFreeNm: Column;
  readonly squeezeN: Column;
  readonly leadShare: Column;
}

/** Both feet's forces and free moments, sample by sample; CoPs are already there. */
function fillForces(lead: FootTruth, trail: FootTruth, inputs: Inputs, options: ShotSeriesOptions): [Column, Column] {
  const { massKg, gravityMPerS2, levelFromTurf, padM } = options;
  const [[tt, ta, tu], [at, aa, au], [ut, ua, uu]] = levelFromTurf;
  const { body, spinNm, leadFreeNm, trailFreeNm, squeezeN, leadShare } = inputs;
  const quiet = quietPlace(options);
  const coupleNm = new Float64Array(leadShare.length);
  const turnNm = new Float64Array(leadShare.length);
  for (let i = 0; i < leadShare.length; i++) {
    const levelT = massKg * body.target.accelerationMPerS2[i]!;
    const levelA = massKg * body.ahead.accelerationMPerS2[i]!;
    const levelU = massKg * (body.up.accelerationMPerS2[i]! + gravityMPerS2);
    const forceT = tt * levelT + at * levelA + ut * levelU;
    const forceA = ta * levelT + aa * levelA + ua * levelU;
    const forceU = tu * levelT + au * levelA + uu * levelU;
    const s = leadShare[i]!;
    const rest = 1 - s;
    const copT = s * lead.copTargetM[i]! + rest * trail.copTargetM[i]!;
    const copA = s * lead.copAheadM[i]! + rest * trail.copAheadM[i]!;
    const armT = tt * copT + ta * copA + tu * padM - quiet.targetM - body.target.travelM[i]!;
    const armA = at * copT + aa * copA + au * padM - quiet.aheadM - body.ahead.travelM[i]!;
    const turn = (spinNm[i]! - (armA * levelT - armT * levelA)) / uu;
    const fade = Math.min(1, Math.max(0, Math.min(s, rest) / FADE_SHARE));
    const leadFree = fade * leadFreeNm[i]!;
    const trailFree = fade * trailFreeNm[i]!;
    const couple = fade * (turn - leadFreeNm[i]! - trailFreeNm[i]!);
    const left = turn - leadFree - trailFree - couple;
    const squeezeT = fade * squeezeN[i]!;
    const apartT = lead.copTargetM[i]! - trail.copTargetM[i]!;
    const apartA = lead.copAheadM[i]! - trail.copAheadM[i]!;
    const squeezeA = (apartA * squeezeT - couple) / apartT;
    lead.forceN.target[i] = s * forceT + squeezeT;
    lead.forceN.ahead[i] = s * forceA + squeezeA;
    lead.forceN.up[i] = s * forceU;
    trail.forceN.target[i] = rest * forceT - squeezeT;
    trail.forceN.ahead[i] = rest * forceA - squeezeA;
    trail.forceN.up[i] = rest * forceU;
    lead.freeMomentNm[i] = leadFree + s * left;
    trail.freeMomentNm[i] = trailFree + rest * left;
    coupleNm[i] = couple;
    turnNm[i] = turn;
  }
  return [coupleNm, turnNm];
}

/**
 * Samples a planned shot. Newton's laws hold by construction:
 *
 *   F_both = m (x'' + g k),   F_lead = s F_both + q,   F_trail = (1 - s) F_both - q,   q in the turf plane
 *   torque about the vertical through the centre of mass = c turn + (P - X) x F_both, vertical part   (= the planned spin)
 *   turn = free moment of lead + of trail + couple,   couple = turn(r_lead - r_trail, q)
 *
 * P the combined CoP, X the centre of mass. In quiet sway P runs ahead of X as under an inverted pendulum, by load share
 * along target and by both feet's CoP along ahead. A foot that carries less than 10 % of the load holds less against the other.
 */
export function shotSeries(options: ShotSeriesOptions, grid: TimeGrid): ShotSeries {
  const { plan, soles, comHeightM, gravityMPerS2 } = options;
  const pendulumS2 = comHeightM / gravityMPerS2;
  const lead = emptyFoot(grid.count);
  const trail = emptyFoot(grid.count);
  const aheadSwayM = balancingSway(plan.body.ahead, grid, pendulumS2);
  placeCop(lead, { sole: soles.lead, heelToe: plan.leadHeelToe, innerOuter: plan.leadInnerOuter }, aheadSwayM, grid);
  placeCop(
    trail,
    { sole: soles.trail, heelToe: plan.trailHeelToe, innerOuter: plan.trailInnerOuter },
    aheadSwayM,
    grid,
  );
  const column = (): Column => new Float64Array(grid.count);
  const leadShare = monotoneCubic(plan.share, grid);
  const targetSwayM = balancingSway(plan.body.target, grid, pendulumS2);
  const [spinNm, leadFreeNm, trailFreeNm, squeezeN] = [column(), column(), column(), column().fill(plan.squeezeN)];
  for (const pulse of plan.spin) addPulse(pulse, grid, spinNm);
  addSines(plan.twist, grid, leadFreeNm);
  for (let i = 0; i < grid.count; i++) {
    const s = leadShare[i]! / 100;
    const apartM = lead.copTargetM[i]! - trail.copTargetM[i]!;
    const room = Math.min(1, (4 * s * (1 - s)) / (4 * FADE_SHARE));
    leadShare[i] = s + (room * targetSwayM[i]!) / apartM;
    trailFreeNm[i] = -leadFreeNm[i]!;
  }
  for (const pulse of plan.leadFree) addPulse(pulse, grid, leadFreeNm);
  for (const pulse of plan.trailFree) addPulse(pulse, grid, trailFreeNm);
  for (const pulse of plan.squeeze) addPulse(pulse, grid, squeezeN);
  const body = {
    target: trajectory(plan.body.target, grid),
    ahead: trajectory(plan.body.ahead, grid),
    up: trajectory(plan.body.up, grid),
  };
  const [coupleNm, turnNm] = fillForces(
    lead,
    trail,
    { body, spinNm, leadFreeNm, trailFreeNm, squeezeN, leadShare },
    options,
  );
  return { grid, lead, trail, leadShare, coupleNm, turnNm, spinNm, body };
}
