import { type Handed, norm, type PlateFact, type ShotFacts, type Vector } from "@underfoot/domain";

/** What a person fills in where no sidecar says it. Angles as typed, in degrees. */
export interface FactsForm {
  readonly handed: Handed;
  /** Numbers of the plates in the recording; the same number for both: one plate under both feet. */
  readonly leadPlate: number;
  readonly trailPlate: number;
  readonly direction: TargetDirection;
  readonly pitchDeg: number;
  readonly rollDeg: number;
}

/** Along the plates from trail to lead, or along an axis of the laboratory. */
export const TARGET_DIRECTIONS = ["trail to lead", "+x", "-x", "+y", "-y", "+z", "-z"] as const;
export type TargetDirection = (typeof TARGET_DIRECTIONS)[number];

export interface PlatePlace {
  readonly index: number;
  readonly centreM: Vector;
}

/** One sigma of an inclinometer read by hand, degrees (common practice, no source). */
const ENTERED_LIE_SD_DEG = 0.2;

const AXES: Readonly<Record<Exclude<TargetDirection, "trail to lead">, Vector>> = {
  "+x": { x: 1, y: 0, z: 0 },
  "-x": { x: -1, y: 0, z: 0 },
  "+y": { x: 0, y: 1, z: 0 },
  "-y": { x: 0, y: -1, z: 0 },
  "+z": { x: 0, y: 0, z: 1 },
  "-z": { x: 0, y: 0, z: -1 },
};

/** The form as it opens: two plates stand for two feet, one for both; nothing is assumed beyond that. */
export function firstFacts(plates: readonly PlatePlace[]): FactsForm {
  const [one, two] = plates.map((plate) => plate.index);
  const trailPlate = one ?? 1;
  return {
    handed: "right",
    trailPlate,
    leadPlate: two ?? trailPlate,
    direction: two === undefined ? "+x" : "trail to lead",
    pitchDeg: 0,
    rollDeg: 0,
  };
}

/**
 * Facts of a shot from the form.
 * @returns a sentence instead where the form cannot be right: one plate has no direction from trail to lead
 */
export function factsFromForm(form: FactsForm, plates: readonly PlatePlace[]): ShotFacts | string {
  const target = targetOf(form, plates);
  if (target === undefined) {
    return "Plates at one place have no direction from trail to lead: choose an axis of the laboratory, or another plate for one foot.";
  }
  if (!Number.isFinite(form.pitchDeg) || !Number.isFinite(form.rollDeg)) {
    return "The lie needs two numbers in degrees; 0 and 0 where the ground is flat.";
  }
  return {
    handed: form.handed,
    target,
    lie: { pitchDeg: form.pitchDeg, rollDeg: form.rollDeg, source: "inclinometer", sdDeg: ENTERED_LIE_SD_DEG },
    plates: plates.map((plate) => ({ plate: plate.index, foot: footOf(form, plate.index) })),
    feet: [],
    events: [],
    keep: "kept",
  };
}

function footOf({ leadPlate, trailPlate }: FactsForm, plate: number): PlateFact["foot"] {
  if (leadPlate === trailPlate) return plate === leadPlate ? "both" : "none";
  if (plate === leadPlate) return "lead";
  return plate === trailPlate ? "trail" : "none";
}

function targetOf({ direction, leadPlate, trailPlate }: FactsForm, plates: readonly PlatePlace[]): Vector | undefined {
  if (direction !== "trail to lead") return AXES[direction];
  const lead = plates.find((plate) => plate.index === leadPlate)?.centreM;
  const trail = plates.find((plate) => plate.index === trailPlate)?.centreM;
  if (lead === undefined || trail === undefined || leadPlate === trailPlate) return undefined;
  const apart = { x: lead.x - trail.x, y: lead.y - trail.y, z: lead.z - trail.z };
  return norm(apart) > 0 ? apart : undefined;
}
