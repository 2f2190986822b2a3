import type { Column } from "@underfoot/domain";
import type { LevelFromTurf } from "./lie-axes.ts";
import type { PlayerColumns, ShotSeries } from "./shot-series.ts";
import { gridTimesS } from "./time-grid.ts";

export interface ForceCurves {
  readonly targetN: Column;
  readonly aheadN: Column;
  readonly upN: Column;
}

/** One foot, or both. For both the free moment is the turning torque about the combined CoP. */
export interface FootCurves {
  readonly turf: ForceCurves;
  readonly level: ForceCurves;
  /** From the truth's reference point, turf axes. */
  readonly copTargetM: Column;
  readonly copAheadM: Column;
  /** About the turf's normal, + toward the target. */
  readonly freeMomentNm: Column;
}

/** Centre of mass; travel is from its mean place in the quiet window. */
export interface MotionCurves {
  readonly speedTargetMPerS: Column;
  readonly speedAheadMPerS: Column;
  readonly speedUpMPerS: Column;
  readonly travelTargetM: Column;
  readonly travelAheadM: Column;
  readonly travelUpM: Column;
}

/** Every curve of a shot as it truly is: no sensor, no filter. n samples each. */
export interface TruthCurves {
  readonly timeS: Column;
  readonly lead: FootCurves;
  readonly trail: FootCurves;
  readonly both: FootCurves;
  /** 0..1, along the turf's normal. */
  readonly leadShare: Column;
  readonly coupleNm: Column;
  /** Torque about the vertical through the centre of mass, + toward the target. */
  readonly spinNm: Column;
  readonly turf: MotionCurves;
  readonly level: MotionCurves;
}

function sumOf(a: Column, b: Column): Column {
  const out = new Float64Array(a.length);
  for (let i = 0; i < out.length; i++) out[i] = a[i]! + b[i]!;
  return out;
}

/** Rows of `matrix` times the three columns. */
function turned(matrix: readonly (readonly number[])[], { target, ahead, up }: PlayerColumns): PlayerColumns {
  const row = ([a, b, c]: readonly number[]): Column => {
    const out = new Float64Array(target.length);
    for (let i = 0; i < out.length; i++) out[i] = a! * target[i]! + b! * ahead[i]! + c! * up[i]!;
    return out;
  };
  return { target: row(matrix[0]!), ahead: row(matrix[1]!), up: row(matrix[2]!) };
}

function forceCurves({ target, ahead, up }: PlayerColumns): ForceCurves {
  return { targetN: target, aheadN: ahead, upN: up };
}

function motionCurves(speed: PlayerColumns, travel: PlayerColumns): MotionCurves {
  return {
    speedTargetMPerS: speed.target,
    speedAheadMPerS: speed.ahead,
    speedUpMPerS: speed.up,
    travelTargetM: travel.target,
    travelAheadM: travel.ahead,
    travelUpM: travel.up,
  };
}

function fromMean(column: Column, first: number, end: number): Column {
  let mean = 0;
  for (let i = first; i < end; i++) mean += column[i]! / (end - first);
  return column.map((value) => value - mean);
}

function bothCop(lead: Column, trail: Column, share: Column, offsetM: number): Column {
  const out = new Float64Array(share.length);
  for (let i = 0; i < out.length; i++) out[i] = share[i]! * lead[i]! + (1 - share[i]!) * trail[i]! - offsetM;
  return out;
}

export interface TruthCurvesOptions {
  readonly levelFromTurf: LevelFromTurf;
  /** The truth's reference point from the middle of the stance, along target and ahead, m. */
  readonly reference: readonly [number, number];
  /** Samples [first, end) of the quiet window. */
  readonly quiet: readonly [number, number];
}

/** All curves of a sampled shot on both versions of the player axes. */
export function truthCurves(series: ShotSeries, { levelFromTurf, reference, quiet }: TruthCurvesOptions): TruthCurves {
  const { lead, trail, body, leadShare } = series;
  const [referenceT, referenceA] = reference;
  const both: PlayerColumns = {
    target: sumOf(lead.forceN.target, trail.forceN.target),
    ahead: sumOf(lead.forceN.ahead, trail.forceN.ahead),
    up: sumOf(lead.forceN.up, trail.forceN.up),
  };
  const forces = (columns: PlayerColumns): Pick<FootCurves, "turf" | "level"> => ({
    turf: forceCurves(columns),
    level: forceCurves(turned(levelFromTurf, columns)),
  });
  const foot = ({ forceN, copTargetM, copAheadM, freeMomentNm }: ShotSeries["lead"]): FootCurves => ({
    ...forces(forceN),
    copTargetM: copTargetM.map((m) => m - referenceT),
    copAheadM: copAheadM.map((m) => m - referenceA),
    freeMomentNm,
  });
  const turfFromLevel = [0, 1, 2].map((k) => levelFromTurf.map((row) => row[k]!));
  const speed = { target: body.target.speedMPerS, ahead: body.ahead.speedMPerS, up: body.up.speedMPerS };
  const travel = {
    target: fromMean(body.target.travelM, ...quiet),
    ahead: fromMean(body.ahead.travelM, ...quiet),
    up: fromMean(body.up.travelM, ...quiet),
  };
  return {
    timeS: gridTimesS(series.grid),
    lead: foot(lead),
    trail: foot(trail),
    both: {
      ...forces(both),
      copTargetM: bothCop(lead.copTargetM, trail.copTargetM, leadShare, referenceT),
      copAheadM: bothCop(lead.copAheadM, trail.copAheadM, leadShare, referenceA),
      freeMomentNm: series.turnNm,
    },
    leadShare,
    coupleNm: series.coupleNm,
    spinNm: series.spinNm,
    turf: motionCurves(turned(turfFromLevel, speed), turned(turfFromLevel, travel)),
    level: motionCurves(speed, travel),
  };
}

/** The same curves with every `step`-th sample. */
export function thinnedCurves(curves: TruthCurves, step: number): TruthCurves {
  if (step === 1) return curves;
  const thin = (column: Column): Column => column.filter((_, i) => i % step === 0);
  const eachOf = <T extends object>(group: T): T =>
    Object.fromEntries(
      Object.entries(group).map(([name, value]) => [
        name,
        value instanceof Float64Array ? thin(value as Column) : eachOf(value),
      ]),
    ) as T;
  return eachOf(curves);
}
