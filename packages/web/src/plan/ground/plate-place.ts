import { type Foot, type PlateCorners, plateFrame, type Vector } from "@underfoot/domain";

/** A plate of a layout, as far as its place goes. */
export interface Placeable {
  readonly plate: number;
  readonly foot: Foot | "both" | "none";
  readonly cornersM?: readonly Vector[] | undefined;
}

export interface SideBySide {
  /** Of one plate along the target line, and heel to toe, m. */
  readonly alongM: number;
  readonly aheadM: number;
  readonly gapM: number;
}

/** A common size of plate, long side heel to toe (common practice, no source). */
export const USUAL_PLACE: SideBySide = { alongM: 0.4, aheadM: 0.6, gapM: 0.005 };

/** Along the target line, the trail foot's plate first; a plate under no foot comes last. */
const ORDER: readonly Placeable["foot"][] = ["trail", "both", "lead", "none"];

/**
 * Plates laid side by side along the target line, in a laboratory of our own: x to the target, z up, the middle of all
 * plates at its origin. Each plate's own x is the laboratory's, its z points into the ground (C3D user guide's order of corners).
 */
export function placedSideBySide<P extends Placeable>(
  plates: readonly P[],
  { alongM, aheadM, gapM }: SideBySide,
): readonly P[] {
  const inOrder = [...plates].sort((a, b) => ORDER.indexOf(a.foot) - ORDER.indexOf(b.foot));
  const step = alongM + gapM;
  return plates.map((plate) => {
    const middleM = (inOrder.indexOf(plate) - (plates.length - 1) / 2) * step;
    const corner = (x: 1 | -1, y: 1 | -1): Vector => ({ x: middleM + (x * alongM) / 2, y: (y * aheadM) / 2, z: 0 });
    return { ...plate, cornersM: [corner(1, -1), corner(-1, -1), corner(-1, 1), corner(1, 1)] };
  });
}

/** Its four corners, where it has four that are apart. */
export function cornersOf({ cornersM }: Placeable): PlateCorners | undefined {
  const [a, b, c, d] = cornersM ?? [];
  if (a === undefined || b === undefined || c === undefined || d === undefined) return undefined;
  const corners: PlateCorners = [a, b, c, d];
  const { sizeM, centreM } = plateFrame(corners);
  const isPlace = Number.isFinite(centreM.x + centreM.y + centreM.z);
  return isPlace && sizeM[0] > 0 && sizeM[1] > 0 ? corners : undefined;
}

/** "Plate 1: 40 by 60 cm. Plate 2: ..."; undefined where none has a place. */
export function plateSizes(plates: readonly Placeable[]): string | undefined {
  const sizes = plates.flatMap((plate) => {
    const corners = cornersOf(plate);
    if (corners === undefined) return [];
    const [one, other] = plateFrame(corners).sizeM.map((sideM) => Number((100 * sideM).toFixed(1)));
    return [`Plate ${plate.plate}: ${one} by ${other} cm.`];
  });
  return sizes.length === 0 ? undefined : sizes.join(" ");
}
