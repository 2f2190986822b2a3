import {
  dot,
  type Finding,
  type Handed,
  norm,
  type PlateCorners,
  type PlateDescription,
  type Recording,
  type Sense,
  type ShotFacts,
  STANDARD_GRAVITY_M_PER_S2,
  scaled,
  sum,
  UnderfootError,
  type Vector,
} from "@underfoot/domain";
import {
  DEFAULT_SETTINGS,
  type PlateCop,
  type PlateWrench,
  plateCop,
  plateWrench,
  turfAxes,
  turfFromLab,
} from "@underfoot/mechanics";
import { mean } from "@underfoot/signal";
import { STILL_WINDOW_S, stillest } from "./loads.ts";
import { stanceDoubts } from "./stance-doubts.ts";

/** What one plate carries while the player stands still. Laboratory axes. */
export interface StancePlate {
  readonly plate: number;
  /** Along the outward normal, N. */
  readonly loadN: number;
  /** Of the ground on the player, N. */
  readonly forceN: Vector;
  /** Absent where the plate gives none, or too little stands on it. */
  readonly copM?: Vector;
  readonly corners: PlateCorners;
  readonly centreM: Vector;
  readonly normal: Vector;
  /** False where the file does not say where the plate lies. */
  readonly isPlaced: boolean;
  readonly storedAs: Sense;
}

/** A recording's stillest half second, as its columns are understood: if this looks wrong, they are. */
export interface QuietStance {
  /** From the first sample. */
  readonly fromS: number;
  readonly toS: number;
  readonly plates: readonly StancePlate[];
  /** All plates together, N: on any lie it is the weight, along the direction against gravity. */
  readonly forceN: Vector;
  readonly weightN: number;
  readonly massKg: number;
  /** Scatter of the load over the stance, one standard deviation, N. */
  readonly sdN: number;
  /** Outward normal of the turf: the loaded plates' mean. */
  readonly normal: Vector;
  /** Between the force and the normal. */
  readonly leanDeg: number;
}

const DEG = 180 / Math.PI;

/** A plate that can be computed. */
interface Computed {
  readonly described: PlateDescription;
  readonly wrench: PlateWrench;
  readonly cop: PlateCop;
}

/**
 * The stillest half second with somebody on the plates, and whatever in it cannot be a person standing.
 *
 * @param facts  where known: sense, zero and type of a plate as somebody said them
 * @returns      no stance where nobody stands for half a second, or no plate can be computed; the findings say why
 */
export function quietStance(
  recording: Recording,
  facts?: ShotFacts,
): { readonly stance?: QuietStance; readonly findings: readonly Finding[] } {
  const findings: Finding[] = [];
  const computed = recording.plates.flatMap((described): Computed[] => {
    try {
      const fact = facts?.plates.find((one) => one.plate === described.index);
      const wrench = plateWrench(recording, described, { settings: DEFAULT_SETTINGS, ...(fact ? { fact } : {}) });
      return [{ described, wrench, cop: plateCop(wrench, { leastLoadN: DEFAULT_SETTINGS.loadOffN }) }];
    } catch (fault) {
      if (!(fault instanceof UnderfootError)) throw fault;
      findings.push({ ...refusalOf(fault), severity: "stop" });
      return [];
    }
  });
  const total = new Float64Array(recording.sampleCount);
  for (const { cop } of computed)
    for (let i = 0; i < total.length; i++) total[i] = (total[i] ?? 0) + (cop.loadN[i] ?? Number.NaN);
  const length = Math.round(STILL_WINDOW_S * recording.rateHz);
  const still = length > 0 ? stillest(total, length, DEFAULT_SETTINGS.loadOnN) : undefined;
  if (still === undefined) {
    return { findings: computed.length > 0 ? [...findings, stanceDoubts.nobody(STILL_WINDOW_S)] : findings };
  }
  const { first } = still;
  const end = first + length;
  const plates = computed.map((plate) => stancePlate(plate, first, end));
  const stance = stanceOf(plates, { fromS: first / recording.rateHz, toS: end / recording.rateHz, sdN: still.sdN });
  return { stance, findings: [...findings, ...stanceDoubts.of(stance)] };
}

function stancePlate({ described, wrench, cop }: Computed, first: number, end: number): StancePlate {
  const copM = meanVector({ x: cop.xM, y: cop.yM, z: cop.zM }, first, end);
  return {
    plate: wrench.plate,
    loadN: mean(cop.loadN, first, end),
    forceN: meanVector(wrench.forceN, first, end),
    ...(Number.isFinite(norm(copM)) ? { copM } : {}),
    corners: described.corners,
    centreM: wrench.frame.centreM,
    normal: wrench.frame.normal,
    isPlaced: described.isPlaced,
    storedAs: wrench.storedAs,
  };
}

function stanceOf(plates: readonly StancePlate[], span: Pick<QuietStance, "fromS" | "toS" | "sdN">): QuietStance {
  const zero: Vector = { x: 0, y: 0, z: 0 };
  const forceN = plates.reduce((total, plate) => sum(total, plate.forceN), zero);
  const weighted = plates.reduce((total, { normal, loadN }) => sum(total, scaled(normal, Math.max(0, loadN))), zero);
  const normal = scaled(weighted, 1 / norm(weighted));
  const weightN = norm(forceN);
  return {
    ...span,
    plates,
    forceN,
    weightN,
    massKg: weightN / STANDARD_GRAVITY_M_PER_S2,
    normal,
    leanDeg: Math.acos(Math.min(1, Math.max(-1, dot(forceN, normal) / weightN))) * DEG,
  };
}

function meanVector(
  columns: { readonly x: Float64Array; readonly y: Float64Array; readonly z: Float64Array },
  first: number,
  end: number,
): Vector {
  return { x: mean(columns.x, first, end), y: mean(columns.y, first, end), z: mean(columns.z, first, end) };
}

export const refusalOf = ({ code, message, remedy, where }: UnderfootError): Omit<Finding, "severity"> => ({
  code,
  sentence: message,
  remedy,
  where,
});

/**
 * The lie that the stance itself tells, degrees, as `slopeCheck` has it: p = asin(F·e_t / |F|), r likewise.
 *
 * @throws UnderfootError `target-along-normal`
 */
export function stanceLie(
  { forceN, normal, weightN }: Pick<QuietStance, "forceN" | "normal" | "weightN">,
  { target, handed }: { readonly target: Vector; readonly handed: Handed },
): { readonly pitchDeg: number; readonly rollDeg: number } {
  const turf = turfFromLab(turfAxes(normal, target, handed), forceN);
  return { pitchDeg: Math.asin(turf.target / weightN) * DEG, rollDeg: Math.asin(turf.ahead / weightN) * DEG };
}
