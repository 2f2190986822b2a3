import {
  dot,
  type Finding,
  type Foot,
  type FootOutlineFact,
  type PlateFrame,
  type Recording,
  type ShotFacts,
  scaled,
  sum,
  type TurfPoint,
  type Vector,
} from "@underfoot/domain";

import type { CarriedFeet } from "./carried-feet.ts";
import { shotFindings } from "./faults.ts";
import { marginM, soleFault } from "./foot-coordinates.ts";
import type { Shot, Sole } from "./shot.ts";

/** How far an outline may reach beyond its plate, m (formats: sidecar, 2 cm). */
const OUTLINE_MARGIN_M = 0.02;
/** A laboratory point is set onto the turf along the laboratory's z only where the turf is flatter than this. */
const FLAT_ENOUGH = 0.5;

/** The ground plan of a shot, in metres from the reference point along target and ahead. */
export interface TurfPlan {
  readonly soles: Shot["soles"];
  readonly middle: TurfPoint;
  readonly plateOutlines: Shot["plateOutlines"];
  readonly ball: TurfPoint | undefined;
  readonly findings: readonly Finding[];
}

/** Where a laboratory point lies on the turf plane, seen along the normal. */
function turfPoint(pointM: Vector, { axes, referenceM }: Pick<CarriedFeet, "axes" | "referenceM">): TurfPoint {
  const from = sum(pointM, scaled(referenceM, -1));
  return { targetM: dot(from, axes.target), aheadM: dot(from, axes.ahead) };
}

/** Soles, ball and plate edges in the turf plane; a sole that cannot be used is left out and said. */
export function turfPlan(recording: Recording, facts: ShotFacts, carried: CarriedFeet): TurfPlan {
  const findings: Finding[] = [];
  const soleOf = (foot: Foot): Sole | undefined => {
    const fact = facts.feet.findLast((f) => f.foot === foot);
    return fact === undefined ? undefined : soleFrom(fact, carried, findings);
  };
  const soles = { lead: soleOf("lead"), trail: soleOf("trail") };
  const plateOutlines = recording.plates.flatMap((plate) => {
    const fact = facts.plates.find((f) => f.plate === plate.index);
    const hasPlace = plate.corners.every((c) => Number.isFinite(c.x + c.y + c.z));
    if (!hasPlace) return [];
    return [
      {
        plate: plate.index,
        foot: fact?.foot ?? ("none" as const),
        outline: plate.corners.map((corner) => turfPoint(corner, carried)),
      },
    ];
  });
  const ball = facts.ballM === undefined ? undefined : turfPoint(onTurf(facts.ballM, carried), carried);
  return { soles, middle: middleOf(soles), plateOutlines, ball, findings };
}

/** Middle between the feet's heel-toe midpoints; else the middle of the plates, which is the reference point. */
function middleOf({ lead, trail }: Shot["soles"]): TurfPoint {
  if (lead === undefined || trail === undefined) return { targetM: 0, aheadM: 0 };
  return {
    targetM: (lead.heel.targetM + lead.toe.targetM + trail.heel.targetM + trail.toe.targetM) / 4,
    aheadM: (lead.heel.aheadM + lead.toe.aheadM + trail.heel.aheadM + trail.toe.aheadM) / 4,
  };
}

function soleFrom(fact: FootOutlineFact, carried: CarriedFeet, findings: Finding[]): Sole | undefined {
  const carrier = carried.feet.find((f) => f.foot === fact.foot || f.foot === "both")!;
  const frame = carrier.plate.frame;
  const place = (p: Vector): TurfPoint =>
    turfPoint(fact.frame === "plate" ? fromPlate(p, frame) : onTurf(p, carried), carried);
  const outline = fact.outline.map(place);
  const ends = outline.length > 0 ? farthestPair(outline) : ([NOWHERE, NOWHERE] as const);
  const sole: Sole = {
    outline,
    heel: fact.heel === undefined ? ends[0] : place(fact.heel),
    toe: fact.toe === undefined ? ends[1] : place(fact.toe),
  };
  const why = soleFault(sole);
  if (why !== undefined) {
    findings.push(shotFindings.outline(fact.foot, why));
    return undefined;
  }
  if (carrier.isPlaced || fact.frame === "plate") {
    const edge = plateEdge(frame, carried);
    const beyondM = -Math.min(...outline.map((p) => marginM(edge, p)));
    if (beyondM > OUTLINE_MARGIN_M) findings.push(shotFindings.outlineOffPlate(fact.foot, 1000 * beyondM));
  }
  return sole;
}

const NOWHERE: TurfPoint = { targetM: Number.NaN, aheadM: Number.NaN };

/** Heel and toe where nobody marked them: the two points farthest apart, the toe farther ahead. */
function farthestPair(outline: readonly TurfPoint[]): readonly [TurfPoint, TurfPoint] {
  let pair: readonly [TurfPoint, TurfPoint] = [outline[0]!, outline[0]!];
  let farthest = -1;
  for (const p of outline) {
    for (const q of outline) {
      const apart = Math.hypot(p.targetM - q.targetM, p.aheadM - q.aheadM);
      if (apart <= farthest) continue;
      farthest = apart;
      pair = p.aheadM <= q.aheadM ? [p, q] : [q, p];
    }
  }
  return pair;
}

function fromPlate(p: Vector, { x, y, z, centreM }: PlateFrame): Vector {
  return sum(centreM, sum(scaled(x, p.x), sum(scaled(y, p.y), scaled(z, p.z))));
}

/** A laboratory point given by two numbers (z 0 or missing) lies in the plates' surface. */
function onTurf(p: Vector, { axes, referenceM }: Pick<CarriedFeet, "axes" | "referenceM">): Vector {
  const n = axes.up;
  const isGiven = Number.isFinite(p.z) && p.z !== 0;
  if (isGiven || Math.abs(n.z) < FLAT_ENOUGH) return p;
  const z = referenceM.z - (n.x * (p.x - referenceM.x) + n.y * (p.y - referenceM.y)) / n.z;
  return { x: p.x, y: p.y, z };
}

function plateEdge(frame: PlateFrame, carried: CarriedFeet): readonly TurfPoint[] {
  const [a, b] = [frame.sizeM[0] / 2, frame.sizeM[1] / 2];
  const corners: readonly (readonly [number, number])[] = [
    [a, b],
    [-a, b],
    [-a, -b],
    [a, -b],
  ];
  return corners.map(([x, y]) => turfPoint(fromPlate({ x, y, z: 0 }, frame), carried));
}
