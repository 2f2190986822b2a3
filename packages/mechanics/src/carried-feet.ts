import {
  dot,
  type Finding,
  type PlateDescription,
  type PlateFact,
  type Recording,
  type ShotFacts,
  scaled,
  sum,
  type Vector,
} from "@underfoot/domain";
import { type TurfAxes, turfAxes } from "./axes.ts";
import { shotFaults, shotFindings } from "./faults.ts";
import { COMPUTED_PLATE_TYPES } from "./plate-matrix.ts";
import { type PlateWrench, plateWrench } from "./plate-wrench.ts";
import { meanNormal, playerWrench } from "./player-wrench.ts";
import type { Settings } from "./settings.ts";
import type { PlayerWrench } from "./shot.ts";
import { wrenchOnLeadClock } from "./two-clocks.ts";

/** One plate in use: what it measured, about the common point, before the filter. */
export interface CarriedFoot {
  readonly foot: "lead" | "trail" | "both";
  readonly plate: PlateWrench;
  readonly isPlaced: boolean;
  readonly unfiltered: PlayerWrench;
}

/** The plates in use on one turf plane. */
export interface CarriedFeet {
  readonly axes: TurfAxes;
  /** Mean of the used plates' centres, laboratory, m. */
  readonly referenceM: Vector;
  /** One plate for both feet, or lead and trail in this order. */
  readonly feet: readonly [CarriedFoot] | readonly [CarriedFoot, CarriedFoot];
  readonly clockSigmaMs: number;
  readonly findings: readonly Finding[];
}

/** Tilt between plates beyond which they are no common plane, degrees (ours). */
const NORMALS_LIMIT_DEG = 1;

/** A plate and the foot it carries, as the facts say. */
interface Assignment {
  readonly foot: "lead" | "trail" | "both";
  readonly plate: PlateDescription;
  readonly fact: PlateFact;
}

/**
 * Which plate carries which foot.
 * @throws UnderfootError `plates-missing`, `plates-twice`, `plate-unknown`, `plate-not-computed`
 */
function assignedPlates(recording: Recording, facts: ShotFacts): readonly Assignment[] {
  const plates = recording.plates;
  const used = facts.plates.flatMap((fact): Assignment[] => {
    if (fact.foot === "none") return [];
    const plate = plates.find((p) => p.index === fact.plate);
    if (plate === undefined) throw shotFaults.plateUnknown(fact.plate, plates.length);
    return [{ foot: fact.foot, plate, fact }];
  });
  const of = (foot: Assignment["foot"]): Assignment[] => used.filter((a) => a.foot === foot);
  const [both, lead, trail] = [of("both"), of("lead"), of("trail")];
  for (const same of [both, lead, trail]) {
    if (same.length > 1)
      throw shotFaults.platesTwice(
        same[0]!.foot,
        same.map((a) => a.plate.index),
      );
  }
  if (both.length === 1 && used.length > 1)
    throw shotFaults.platesTwice(
      "foot",
      used.map((a) => a.plate.index),
    );
  if (lead.length === 1 && trail.length === 1 && lead[0]!.plate === trail[0]!.plate) {
    throw shotFaults.platesTwice("foot", [lead[0]!.plate.index, trail[0]!.plate.index]);
  }
  if (both.length === 1) return both;
  if (lead.length === 0) throw shotFaults.platesMissing(trail.length === 0 ? "feet" : "lead foot", plates.length);
  if (trail.length === 0) throw shotFaults.platesMissing("trail foot", plates.length);
  return [lead[0]!, trail[0]!];
}

/**
 * The plates in use, calibrated, on the lead plate's clock, with the turf plane and the player wrench of each foot.
 * @throws UnderfootError as `assignedPlates`, `plateWrench`, `turfAxes`
 */
export function carriedFeet(recording: Recording, facts: ShotFacts, settings: Settings): CarriedFeet {
  const assigned = assignedPlates(recording, facts);
  const findings: Finding[] = [];
  const wrenches = assigned.map(({ plate, fact }) => {
    const type = fact.type ?? plate.type;
    if (plate.fault !== undefined && (plate.fault.severity === "stop" || !COMPUTED_PLATE_TYPES.includes(type))) {
      throw shotFaults.plateFault(plate.index, plate.fault.sentence, plate.fault.remedy);
    }
    if (plate.fault !== undefined) findings.push(plate.fault);
    const wrench = plateWrench(recording, plate, { settings, fact, up: facts.up });
    findings.push(...wrench.findings);
    return wrench;
  });
  const clocked = wrenches.map((wrench, k) => {
    const clock = assigned[k]!.fact.clock;
    return clock === undefined ? wrench : wrenchOnLeadClock(wrench, clock, recording.rateHz);
  });
  const { normal, largestDeg } = meanNormal(clocked.map((w) => w.frame.normal));
  if (largestDeg > NORMALS_LIMIT_DEG) findings.push(shotFindings.normalsDiffer(largestDeg));
  const axes = turfAxes(normal, facts.target, facts.handed);
  const referenceM = scaled(
    clocked.map((w) => w.frame.centreM).reduce((a, b) => sum(a, b)),
    1 / clocked.length,
  );
  const feet = clocked.map((plate, k) => ({
    foot: assigned[k]!.foot,
    plate,
    isPlaced: assigned[k]!.plate.isPlaced,
    unfiltered: playerWrench(plate, axes, referenceM),
  }));
  const [lead, trail] = feet;
  findings.push(...placeFindings(lead!, trail, axes));
  const clockSigmaMs = 1000 * Math.hypot(...assigned.map(({ fact }) => fact.clock?.sdS ?? 0));
  return { axes, referenceM, feet: trail === undefined ? [lead!] : [lead!, trail], clockSigmaMs, findings };
}

function placeFindings(lead: CarriedFoot, trail: CarriedFoot | undefined, axes: TurfAxes): Finding[] {
  if (trail === undefined) return [];
  if (!lead.isPlaced || !trail.isPlaced) return [shotFindings.notPlaced()];
  const apart = sum(lead.plate.frame.centreM, scaled(trail.plate.frame.centreM, -1));
  const aheadM = dot(apart, axes.target);
  return aheadM < 0 ? [shotFindings.swapped(-aheadM)] : [];
}
