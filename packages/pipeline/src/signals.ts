import { type Recording, UnderfootError } from "@underfoot/domain";
import {
  levelFromTurf,
  levelVector,
  type PlateWrench,
  type PlayerWrench,
  plateCop,
  plateWrench,
  type Settings,
  type Shot,
} from "@underfoot/mechanics";
import { butterworthLowPass, zeroPhaseMany } from "@underfoot/signal";

/** Named columns of one recording, in order; the name ends in the unit. NaN is missing. */
export type SignalColumns = readonly { readonly name: string; readonly values: ArrayLike<number> }[];

export type SignalFilter = { readonly kind: "none" } | { readonly kind: "butterworth"; readonly cutoffHz: number };

function filtered(wrench: PlateWrench, rateHz: number, filter: SignalFilter): PlateWrench {
  if (filter.kind === "none") return wrench;
  const { forceN, momentNm } = wrench;
  const channels = [forceN.x, forceN.y, forceN.z, momentNm.x, momentNm.y, momentNm.z];
  const [fx, fy, fz, mx, my, mz] = zeroPhaseMany(channels, butterworthLowPass({ cutoffHz: filter.cutoffHz, rateHz }));
  return { ...wrench, forceN: { x: fx!, y: fy!, z: fz! }, momentNm: { x: mx!, y: my!, z: mz! } };
}

function timeMs(recording: { readonly sampleCount: number; readonly rateHz: number }): Float64Array {
  return Float64Array.from({ length: recording.sampleCount }, (_, i) => (1000 * i) / recording.rateHz);
}

/**
 * Per analog sample, force of the ground on the player and moment about each plate's surface centre, laboratory axes;
 * CoP where the load exceeds `leastLoadN`, free moment about the outward normal. As written: no zero, no repair.
 */
export function labSignals(
  recording: Recording,
  {
    settings,
    filter,
    leastLoadN,
  }: { readonly settings: Settings; readonly filter: SignalFilter; readonly leastLoadN: number },
): SignalColumns {
  const columns: { name: string; values: ArrayLike<number> }[] = [{ name: "time_ms", values: timeMs(recording) }];
  for (const plate of recording.plates) {
    if (plate.fault?.severity === "stop") continue;
    const wrench = filtered(plateWrench(recording, plate, { settings, asWritten: true }), recording.rateHz, filter);
    const cop = plateCop(wrench, { leastLoadN });
    const p = `p${plate.index}`;
    columns.push(
      { name: `${p}_fx_n`, values: wrench.forceN.x },
      { name: `${p}_fy_n`, values: wrench.forceN.y },
      { name: `${p}_fz_n`, values: wrench.forceN.z },
      { name: `${p}_mx_nm`, values: wrench.momentNm.x },
      { name: `${p}_my_nm`, values: wrench.momentNm.y },
      { name: `${p}_mz_nm`, values: wrench.momentNm.z },
      { name: `${p}_cop_x_m`, values: cop.xM },
      { name: `${p}_cop_y_m`, values: cop.yM },
      { name: `${p}_cop_z_m`, values: cop.zM },
      { name: `${p}_free_moment_nm`, values: cop.freeMomentNm },
    );
  }
  if (columns.length === 1) {
    throw new UnderfootError({
      code: "no-plates",
      sentence: "This recording has no force plate that can be computed.",
      remedy: 'Look at its channels with "underfoot inspect", and map them to plates if they are forces.',
    });
  }
  return columns;
}

function levelForce(
  shot: Shot,
  { targetN, aheadN, upN }: PlayerWrench,
): Pick<PlayerWrench, "targetN" | "aheadN" | "upN"> {
  const level = levelFromTurf(shot.lie);
  const out = {
    targetN: new Float64Array(targetN.length),
    aheadN: new Float64Array(targetN.length),
    upN: new Float64Array(targetN.length),
  };
  for (let i = 0; i < targetN.length; i++) {
    const force = levelVector(level, { target: targetN[i]!, ahead: aheadN[i]!, up: upN[i]! });
    out.targetN[i] = force.target;
    out.aheadN[i] = force.ahead;
    out.upN[i] = force.up;
  }
  return out;
}

/**
 * Per sample, forces of each foot and of both along the player axes, CoP in the turf plane, free moments, couple and
 * turning torque (+ toward the target), load share, and the centre of mass's speed and travel.
 */
export function playerSignals(shot: Shot, axes: "turf" | "level"): SignalColumns {
  const columns: { name: string; values: ArrayLike<number> }[] = [{ name: "time_ms", values: timeMs(shot) }];
  for (const foot of ["lead", "trail", "both"] as const) {
    const series = shot[foot];
    if (!series) continue;
    const force = axes === "turf" ? series.wrench : levelForce(shot, series.wrench);
    columns.push(
      { name: `${foot}_target_n`, values: force.targetN },
      { name: `${foot}_ahead_n`, values: force.aheadN },
      { name: `${foot}_up_n`, values: force.upN },
      { name: `${foot}_cop_target_m`, values: series.copTargetM },
      { name: `${foot}_cop_ahead_m`, values: series.copAheadM },
      { name: foot === "both" ? "both_turn_nm" : `${foot}_free_moment_nm`, values: series.freeMomentNm },
    );
  }
  const motion = shot[axes];
  columns.push(
    { name: "both_couple_nm", values: shot.coupleNm },
    { name: "lead_share", values: shot.leadShare },
    { name: "com_speed_target_m_per_s", values: motion.speedTargetMPerS },
    { name: "com_speed_ahead_m_per_s", values: motion.speedAheadMPerS },
    { name: "com_speed_up_m_per_s", values: motion.speedUpMPerS },
    { name: "com_travel_target_m", values: motion.travelTargetM },
    { name: "com_travel_ahead_m", values: motion.travelAheadM },
    { name: "com_travel_up_m", values: motion.travelUpM },
  );
  return columns;
}
