import { dot, type Finding, plateFrame, scaled, sum, type Vector } from "@underfoot/domain";
import type { QuietStance, StancePlate } from "./quiet-stance.ts";

/** A standing person with a club, N (common practice, no source). */
const LEAST_WEIGHT_N = 200;
const MOST_WEIGHT_N = 2000;
/** Steeper lies are not hit from (ours); the force of a wrong column leans at once much more. */
const MOST_LEAN_DEG = 15;
/** How far beyond its edge a CoP may be computed by an honest plate, m (ours). */
const EDGE_M = 0.02;

const caution = (code: string, sentence: string, remedy: string, plate?: number): Finding => ({
  code,
  severity: "caution",
  sentence,
  remedy,
  ...(plate === undefined ? {} : { where: { plate } }),
});

/** Whatever in a quiet stance no standing person does: the columns are then not what they are taken for. */
export const stanceDoubts = {
  nobody: (lengthS: number): Finding =>
    caution(
      "stance-none",
      `Nobody stands still on the plates for ${lengthS} s, so nothing shows whether the columns are understood.`,
      "Look at the traces; or choose a recording that begins with a quiet stance.",
    ),
  weight: (weightN: number): Finding =>
    caution(
      "stance-weight",
      `The stance weighs ${weightN.toFixed(weightN < 10 ? 1 : 0)} N; a person weighs ${LEAST_WEIGHT_N} to ${MOST_WEIGHT_N} N.`,
      "Check the unit of the forces, and whether every plate under a foot is there.",
    ),
  lean: (leanDeg: number): Finding =>
    caution(
      "stance-lean",
      `The total force leans ${leanDeg.toFixed(0)}° from the plates' normal; standing on a lie it leans as the lie does.`,
      "Check which column points up, and the signs.",
    ),
  offPlate: (plate: number): Finding =>
    caution(
      "stance-off-plate",
      `The pressure on plate ${plate} lies outside the plate.`,
      "Check the unit and the signs of its moments or pressure columns, and the plate's size and centre.",
      plate,
    ),
  upsideDown: (plate: number, loadN: number): Finding =>
    caution(
      "stance-negative",
      `Plate ${plate} carries ${loadN.toFixed(0)} N while the player stands: it pulls.`,
      "Check the sign of its vertical force.",
      plate,
    ),
  of: (stance: QuietStance): readonly Finding[] => [
    ...(stance.weightN >= LEAST_WEIGHT_N && stance.weightN <= MOST_WEIGHT_N
      ? []
      : [stanceDoubts.weight(stance.weightN)]),
    ...(stance.leanDeg <= MOST_LEAN_DEG ? [] : [stanceDoubts.lean(stance.leanDeg)]),
    ...stance.plates.flatMap((plate) => [
      ...(plate.loadN < -LEAST_WEIGHT_N / 10 ? [stanceDoubts.upsideDown(plate.plate, plate.loadN)] : []),
      ...(plate.copM !== undefined && !isOnPlate(plate, plate.copM) ? [stanceDoubts.offPlate(plate.plate)] : []),
    ]),
  ],
} as const;

function isOnPlate({ corners }: StancePlate, copM: Vector): boolean {
  const { x, y, centreM, sizeM } = plateFrame(corners);
  const from = sum(copM, scaled(centreM, -1));
  return [x, y].every((axis, k) => Math.abs(dot(from, axis)) <= (sizeM[k] ?? 0) / 2 + EDGE_M);
}
