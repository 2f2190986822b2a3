import {
  dot,
  type Foot,
  type Handed,
  type PlateFrame,
  plateFrame,
  scaled,
  sum,
  type TurfPoint,
  type Vector,
} from "@underfoot/domain";
import { marginM, type TurfAxes, turfAxes } from "@underfoot/mechanics";
import type { OutlineShape } from "@underfoot/protocol";
import { cornersOf, type Placeable, placedSideBySide, USUAL_PLACE } from "./plate-place.ts";

/** A plate seen from above, metres from the middle of the plates along target and ahead. */
export interface GroundPlate {
  readonly plate: number;
  readonly foot: Foot | "both" | "none";
  readonly outline: readonly TurfPoint[];
  readonly frame: PlateFrame;
}

/** The plates of a layout as this player stands on them. */
export interface GroundPlan {
  readonly plates: readonly GroundPlate[];
  /** False: no plate has a written place, so a usual one is drawn, and nothing can be traced on it. */
  readonly isPlaced: boolean;
  readonly axes: TurfAxes;
  readonly middleM: Vector;
  /** What the target line was taken from, for the caption. */
  readonly targetFrom: "trail plate to lead plate" | "first side of the plate";
}

/**
 * Plates from above. Nobody writes the direction of the target into a layout, so it is the line from the trail foot's
 * plate to the lead foot's, and with one plate the side along its own x.
 */
export function groundPlan(plates: readonly Placeable[], handed: Handed): GroundPlan {
  const isPlaced = plates.some((plate) => cornersOf(plate) !== undefined);
  const laid = isPlaced ? plates : placedSideBySide(plates, USUAL_PLACE);
  const framed = laid.flatMap((plate) => {
    const corners = cornersOf(plate);
    return corners === undefined ? [] : [{ plate: plate.plate, foot: plate.foot, corners, frame: plateFrame(corners) }];
  });
  const used = framed.filter(({ foot }) => foot !== "none");
  const first = used[0] ?? framed[0];
  if (first === undefined) return groundPlan([{ plate: 1, foot: "both" }], handed);
  const centreOf = (foot: Foot): Vector | undefined => used.find((plate) => plate.foot === foot)?.frame.centreM;
  const [lead, trail] = [centreOf("lead"), centreOf("trail")];
  const hasBoth = lead !== undefined && trail !== undefined;
  const target = hasBoth ? sum(lead, scaled(trail, -1)) : first.frame.x;
  const axes = turfAxes(first.frame.normal, target, handed);
  const standing = used.length > 0 ? used : framed;
  const middleM = scaled(
    standing.map(({ frame }) => frame.centreM).reduce((a, b) => sum(a, b)),
    1 / standing.length,
  );
  const plan = { axes, middleM };
  return {
    ...plan,
    isPlaced,
    targetFrom: hasBoth ? "trail plate to lead plate" : "first side of the plate",
    plates: framed.map(({ corners, ...plate }) => ({
      ...plate,
      outline: corners.map((corner) => turfPoint(corner, plan)),
    })),
  };
}

/** A laboratory point on the turf, seen along its normal. */
function turfPoint(pointM: Vector, { axes, middleM }: Pick<GroundPlan, "axes" | "middleM">): TurfPoint {
  const from = sum(pointM, scaled(middleM, -1));
  return { targetM: dot(from, axes.target), aheadM: dot(from, axes.ahead) };
}

/** A point in a plate's own axes, m, seen from above. */
export function turfFromPlate(point: Vector, { frame }: GroundPlate, plan: GroundPlan): TurfPoint {
  const { x, y, z, centreM } = frame;
  return turfPoint(sum(centreM, sum(scaled(x, point.x), sum(scaled(y, point.y), scaled(z, point.z)))), plan);
}

/** A point seen from above in a plate's own axes, m, in its surface. */
export function plateFromTurf({ targetM, aheadM }: TurfPoint, { frame }: GroundPlate, plan: GroundPlan): Vector {
  const { axes, middleM } = plan;
  const point = sum(middleM, sum(scaled(axes.target, targetM), scaled(axes.ahead, aheadM)));
  const from = sum(point, scaled(frame.centreM, -1));
  return { x: dot(from, frame.x), y: dot(from, frame.y), z: 0 };
}

/** The plate a foot stands on. */
export function plateOf(foot: Foot, plan: GroundPlan): GroundPlate | undefined {
  return plan.plates.find((plate) => plate.foot === foot) ?? plan.plates.find((plate) => plate.foot === "both");
}

/** How far an outline may reach beyond its plate, m: as the sidecar is read. */
const BEYOND_PLATE_M = 0.02;

/** A sole seen from above. */
export interface GroundSole {
  readonly foot: Foot;
  readonly outline: readonly TurfPoint[];
  readonly heel: TurfPoint | undefined;
  readonly toe: TurfPoint | undefined;
}

/** A traced foot, as it is kept or as it is being made. */
export interface TracedFoot {
  readonly foot: Foot;
  readonly frame: "lab" | "plate";
  readonly outline: readonly Vector[];
  readonly heel?: Vector | undefined;
  readonly toe?: Vector | undefined;
}

/** A traced foot laid on this layout; undefined where its plate has no place in it, or the outline does not lie on it. */
export function groundSole(outline: TracedFoot, plan: GroundPlan): GroundSole | undefined {
  const plate = plateOf(outline.foot, plan);
  if (!plan.isPlaced || plate === undefined) return undefined;
  const place = (point: Vector): TurfPoint =>
    outline.frame === "plate" ? turfFromPlate(point, plate, plan) : turfPoint(point, plan);
  const placed = outline.outline.map(place);
  // Traced in another laboratory, or on plates that lay otherwise: drawn here it would lie.
  if (placed.some((point) => marginM(plate.outline, point) < -BEYOND_PLATE_M)) return undefined;
  return {
    foot: outline.foot,
    outline: placed,
    heel: outline.heel && place(outline.heel),
    toe: outline.toe && place(outline.toe),
  };
}

/** The outlines of a foot in these shoes, the newest first. In other shoes none: another shoe has another edge. */
export function outlinesOf(
  outlines: readonly OutlineShape[],
  foot: Foot,
  shoes: string | undefined,
): readonly OutlineShape[] {
  return outlines
    .filter(({ outline, shoes: worn }) => outline.foot === foot && (worn ?? "") === (shoes ?? ""))
    .toSorted((a, b) => b.createdMs - a.createdMs);
}
