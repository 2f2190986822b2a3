import { plateFrame, UnderfootError, type Vector } from "@underfoot/domain";
import { recordingFromBytes } from "@underfoot/formats";
import { groundPlan } from "../ground/ground-plan.ts";
import { cornersOf, type Placeable } from "../ground/plate-place.ts";

type Direction = [number, number, number];

/** From the trail foot's plate to the lead foot's; undefined where not both have a place. */
function trailToLead(plates: readonly Placeable[]): Direction | undefined {
  const centreOf = (foot: "lead" | "trail"): Vector | undefined => {
    const plate = plates.find((one) => one.foot === foot);
    const corners = plate && cornersOf(plate);
    return corners && plateFrame(corners).centreM;
  };
  const [lead, trail] = [centreOf("lead"), centreOf("trail")];
  return lead && trail && [lead.x - trail.x, lead.y - trail.y, lead.z - trail.z];
}

/**
 * Which way the target is in the laboratory of a recording: along its own plates from trail to lead, where it says how
 * they lie; else along those of the layout. Undefined where neither says it: then the server says what is missing.
 *
 * @param plates  of the layout: which plate is under which foot
 */
export function targetOfRecording(
  bytes: Uint8Array,
  fileName: string,
  plates: readonly Placeable[],
): Direction | undefined {
  const own = recordedPlates(bytes, fileName);
  const placed = plates.map(({ plate, foot }) => ({ plate, foot, cornersM: own.get(plate) }));
  const found = trailToLead(placed);
  if (found !== undefined) return found;
  const ground = groundPlan(plates, "right");
  if (!ground.isPlaced) return undefined;
  const { x, y, z } = ground.axes.target;
  return [x, y, z];
}

/** Corners by number of the plate; none where the recording cannot be read here: the server reads it again and says why. */
function recordedPlates(bytes: Uint8Array, fileName: string): ReadonlyMap<number, readonly Vector[]> {
  try {
    const { plates } = recordingFromBytes(bytes, { file: fileName });
    return new Map(plates.filter(({ isPlaced }) => isPlaced).map(({ index, corners }) => [index, corners]));
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return new Map();
  }
}
