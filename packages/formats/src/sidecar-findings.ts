import {
  dot,
  type Finding,
  type Foot,
  norm,
  type PlateDescription,
  type PlateFrame,
  plateFrame,
  type Recording,
  type ShotFacts,
  scaled,
  sum,
  type Vector,
} from "@underfoot/domain";
import { sidecarFindingTable as found } from "./sidecar-faults.ts";

/** How far an outline may reach beyond its plate, m: 2 cm (own choice). */
const OUTLINE_MARGIN_M = 0.02;
/** A target closer than this to the plates' normal gives no direction, degrees (common practice, no source). */
const TARGET_LEAST_DEG = 5;

/** The events that follow one another; address comes before them as a window. */
const ORDER = ["start", "top", "delivery", "impact", "finish"] as const;

/** What is known of the file that the sidecar is held against. */
export interface RecordingIdentity {
  readonly file?: string;
  readonly sha256?: string;
}

/**
 * What a schema cannot say about a sidecar: whether it fits this recording, whether its plates, feet, target and events
 * agree with one another. Nothing is mended here.
 *
 * @returns findings; `stop` where measures of the feet would be wrong
 */
export function sidecarFindings(facts: ShotFacts, recording: Recording, identity: RecordingIdentity = {}): Finding[] {
  return [
    ...identityFindings(facts, identity),
    ...plateFindings(facts, recording),
    ...eventFindings(facts, recording),
    ...placeFindings(facts, recording),
  ];
}

const nameOf = (file: string): string => file.replace(/^.*[/\\]/, "");

function identityFindings(
  { recordingFile, recordingSha256 }: ShotFacts,
  { file, sha256 }: RecordingIdentity,
): Finding[] {
  const isSame = recordingSha256 !== undefined && recordingSha256 === sha256;
  if (recordingSha256 !== undefined && sha256 !== undefined && !isSame) return [found.otherBytes(file)];
  // The same bytes under another name are the same recording.
  if (isSame || recordingFile === undefined || file === undefined || nameOf(recordingFile) === nameOf(file)) return [];
  return [found.otherFile(nameOf(recordingFile), nameOf(file))];
}

function plateFindings({ plates }: ShotFacts, recording: Recording): Finding[] {
  const findings: Finding[] = [];
  for (const number of new Set(plates.map(({ plate }) => plate))) {
    if (!recording.plates.some(({ index }) => index === number)) {
      findings.push(found.plateMissing(number, recording.plates.length));
    }
    if (plates.filter(({ plate }) => plate === number).length > 1) findings.push(found.plateTwice(number));
  }
  for (const foot of ["lead", "trail"] as const) {
    const under = new Set(
      plates.filter((fact) => fact.foot === foot || fact.foot === "both").map(({ plate }) => plate),
    );
    if (under.size > 1) findings.push(found.footTwice(foot, [...under]));
  }
  return findings;
}

function eventFindings({ events }: ShotFacts, { sampleCount, rateHz }: Recording): Finding[] {
  const findings: Finding[] = [];
  const lengthS = (sampleCount - 1) / rateHz;
  const isOutside = (timeS: number): boolean => timeS < 0 || timeS > lengthS;
  events.forEach(({ event, timeS, fromS, source }, k) => {
    const outsideS = [timeS, fromS ?? timeS].find(isOutside);
    if (outsideS !== undefined) findings.push(found.eventOutside(event, outsideS, lengthS));
    if (fromS !== undefined && fromS >= timeS) findings.push(found.addressWindow(fromS, timeS));
    const isRepeated = events.slice(0, k).some((other) => other.event === event && other.source === source);
    if (isRepeated) findings.push(found.eventTwice(event, source));
  });
  const timed = ORDER.flatMap((name) => {
    const best = bestOf(events.filter(({ event }) => event === name));
    return best === undefined ? [] : [best];
  });
  timed.slice(1).forEach((later, k) => {
    const earlier = timed[k];
    if (earlier !== undefined && earlier.timeS >= later.timeS) {
      findings.push(found.eventOrder(earlier.event, earlier.timeS, later.event, later.timeS));
    }
  });
  return findings;
}

/** A mark beats a signal, a signal an estimate. */
function bestOf(events: ShotFacts["events"]): ShotFacts["events"][number] | undefined {
  const of = (source: string) => events.find((event) => event.source === source);
  return of("marked") ?? of("signal") ?? of("estimated");
}

function frameOf(plate: PlateDescription | undefined): PlateFrame | undefined {
  if (plate === undefined) return undefined;
  const frame = plateFrame(plate.corners);
  return Number.isFinite(norm(frame.x) + norm(frame.y) + norm(frame.centreM)) ? frame : undefined;
}

function placeFindings(facts: ShotFacts, recording: Recording): Finding[] {
  const plateUnder = (foot: Foot): PlateDescription | undefined => {
    const fact = facts.plates.find((one) => one.foot === foot || one.foot === "both");
    return recording.plates.find(({ index }) => index === fact?.plate);
  };
  const lead = plateUnder("lead");
  const trail = plateUnder("trail");
  const findings = outlineFindings(facts, plateUnder);
  const frame = frameOf([lead, trail].find((plate) => plate?.isPlaced === true));
  if (frame === undefined) return findings;

  const along = sum(facts.target, scaled(frame.normal, -dot(facts.target, frame.normal)));
  const angleRad = Math.asin(Math.min(1, norm(along) / norm(facts.target)));
  const angleDeg = (angleRad * 180) / Math.PI;
  if (angleDeg < TARGET_LEAST_DEG) return [...findings, found.targetNormal(angleDeg)];
  if (lead?.isPlaced !== true || trail?.isPlaced !== true || lead === trail) return findings;
  const leadFrame = frameOf(lead);
  const trailFrame = frameOf(trail);
  if (leadFrame === undefined || trailFrame === undefined) return findings;
  const aheadM = dot(sum(leadFrame.centreM, scaled(trailFrame.centreM, -1)), along) / norm(along);
  return aheadM < 0 ? [...findings, found.leadTrailSwapped(lead.index, trail.index, -aheadM)] : findings;
}

function outlineFindings(facts: ShotFacts, plateUnder: (foot: Foot) => PlateDescription | undefined): Finding[] {
  return facts.feet.flatMap(({ foot, frame: axes, outline }) => {
    const plate = plateUnder(foot);
    const frame = frameOf(plate);
    if (plate === undefined || frame === undefined || (axes === "lab" && !plate.isPlaced)) return [];
    const offM = Math.max(...outline.map((point) => beyondPlateM(point, axes, frame)));
    return offM > OUTLINE_MARGIN_M ? [found.outlineOffPlate(foot, plate.index, offM)] : [];
  });
}

/** How far a point lies beyond the plate's edges, along its surface; negative inside. */
function beyondPlateM(point: Vector, axes: "lab" | "plate", { x, y, centreM, sizeM }: PlateFrame): number {
  const fromCentre = axes === "plate" ? point : sum(point, scaled(centreM, -1));
  const [alongX, alongY] = axes === "plate" ? [point.x, point.y] : [dot(fromCentre, x), dot(fromCentre, y)];
  return Math.max(Math.abs(alongX) - sizeM[0] / 2, Math.abs(alongY) - sizeM[1] / 2);
}
