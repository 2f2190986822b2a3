import { cross, dot, norm, type ShotFacts, scaled, sum, unit, type Vector } from "@underfoot/domain";
import { type QuietStance, stanceLie } from "@underfoot/pipeline";

/** A point of the plan: metres to the right and up on the page, from the middle of the plates. */
export interface PlanPoint {
  readonly rightM: number;
  readonly upM: number;
}

export interface PlanPlate {
  readonly plate: number;
  readonly foot: "lead" | "trail" | "both" | "none" | undefined;
  readonly outline: readonly PlanPoint[];
  readonly centre: PlanPoint;
  readonly cop: PlanPoint | undefined;
}

/** A quiet stance seen from above. */
export interface StancePlan {
  readonly plates: readonly PlanPlate[];
  /** Where both feet's pressure together is. */
  readonly cop: PlanPoint | undefined;
  /** What lies on the right of the page. */
  readonly right: "target" | "the second plate" | "the plate's x";
  /** False: two plates lie at one place, for the file does not say where they lie; drawn side by side. */
  readonly isPlaced: boolean;
  /** What the stance says of the lie; undefined while hand and target are not known. */
  readonly lie: { readonly pitchDeg: number; readonly rollDeg: number } | undefined;
}

/** Between plates that are drawn side by side for want of a place, m. */
const APART_M = 0.05;

/**
 * The stance in the plane of the turf, a rotation of the ground and never a mirror image: with the target on the right a
 * right-handed player's toes point down the page.
 */
export function stancePlan(stance: QuietStance, facts: ShotFacts | undefined): StancePlan {
  const { normal } = stance;
  const target = facts && alongTurf(facts.target, normal);
  const line = target ?? plateLine(stance);
  const right = line.direction;
  const up = cross(normal, right);
  const isPlaced = !areAtOnePlace(stance);
  const middleM = scaled(
    stance.plates.map(({ centreM }) => centreM).reduce(sum, { x: 0, y: 0, z: 0 }),
    1 / Math.max(1, stance.plates.length),
  );
  const shifts = isPlaced ? stance.plates.map(() => 0) : sideBySide(stance, right);
  const pointOf = (vector: Vector, k: number): PlanPoint => {
    const from = sum(vector, scaled(middleM, -1));
    return { rightM: dot(from, right) + (shifts[k] ?? 0), upM: dot(from, up) };
  };
  const plates = stance.plates.map(
    ({ plate, corners, centreM, copM }, k): PlanPlate => ({
      plate,
      foot: facts?.plates.find((one) => one.plate === plate)?.foot,
      outline: corners.map((corner) => pointOf(corner, k)),
      centre: pointOf(centreM, k),
      cop: copM && pointOf(copM, k),
    }),
  );
  return { plates, cop: bothCop(stance, plates), right: line.right, isPlaced, lie: lieOf(stance, facts) };
}

interface Line {
  readonly direction: Vector;
  readonly right: StancePlan["right"];
}

function alongTurf(target: Vector, normal: Vector): Line | undefined {
  const along = sum(target, scaled(normal, -dot(target, normal)));
  return norm(along) > 1e-3 * norm(target) ? { direction: unit(along), right: "target" } : undefined;
}

function plateLine({ plates, normal }: QuietStance): Line {
  const [one, two] = plates;
  const apart = one && two && alongTurf(sum(two.centreM, scaled(one.centreM, -1)), normal);
  if (apart) return { ...apart, right: "the second plate" };
  const [c1, c2] = one?.corners ?? [];
  const side = c1 && c2 ? alongTurf(sum(c1, scaled(c2, -1)), normal) : undefined;
  return { direction: side?.direction ?? { x: 1, y: 0, z: 0 }, right: "the plate's x" };
}

function areAtOnePlace({ plates: [one, two] }: QuietStance): boolean {
  return one !== undefined && two !== undefined && norm(sum(one.centreM, scaled(two.centreM, -1))) < 1e-6;
}

/** How far each plate is moved along the page so that none covers another. */
function sideBySide({ plates }: QuietStance, right: Vector): readonly number[] {
  const widths = plates.map(({ corners, centreM }) =>
    Math.max(...corners.map((corner) => 2 * Math.abs(dot(sum(corner, scaled(centreM, -1)), right)))),
  );
  const whole = widths.reduce((total, width) => total + width + APART_M, -APART_M);
  let at = -whole / 2;
  return widths.map((width) => {
    const centre = at + width / 2;
    at += width + APART_M;
    return centre;
  });
}

function bothCop(stance: QuietStance, plates: readonly PlanPlate[]): PlanPoint | undefined {
  const parts = stance.plates.flatMap(({ loadN }, k) => {
    const cop = plates[k]?.cop;
    return cop && loadN > 0 ? [{ loadN, cop }] : [];
  });
  const totalN = parts.reduce((total, { loadN }) => total + loadN, 0);
  if (parts.length < 2 || totalN === 0) return undefined;
  return {
    rightM: parts.reduce((total, { loadN, cop }) => total + loadN * cop.rightM, 0) / totalN,
    upM: parts.reduce((total, { loadN, cop }) => total + loadN * cop.upM, 0) / totalN,
  };
}

function lieOf(stance: QuietStance, facts: ShotFacts | undefined): StancePlan["lie"] {
  if (facts === undefined || alongTurf(facts.target, stance.normal) === undefined) return undefined;
  return stanceLie(stance, facts);
}
