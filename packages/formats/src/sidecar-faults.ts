import { type Finding, type Foot, UnderfootError, type Where } from "@underfoot/domain";

const fileOf = (where: Where): string => where.file ?? "The sidecar";

/** Every fault of a shot sidecar. */
export const sidecarFaults = {
  notJson: (why: string, where: Where, cause: unknown): UnderfootError =>
    new UnderfootError({
      code: "sidecar-not-json",
      sentence: `${fileOf(where)} is not JSON: ${why}.`,
      remedy: "Correct it at that place, or start from the example in docs/formats/sidecar.md.",
      where,
      cause,
    }),
  notShot: (found: string, where: Where): UnderfootError =>
    new UnderfootError({
      code: "sidecar-not-shot",
      sentence: `${fileOf(where)} is no shot sidecar: its field "underfoot" is ${found}, not "shot".`,
      remedy: 'Give the right file, or write "underfoot": "shot" at its top.',
      where,
    }),
  version: (found: string, where: Where): UnderfootError =>
    new UnderfootError({
      code: "sidecar-version",
      sentence: `${fileOf(where)} has version ${found} of the shot sidecar; this Underfoot reads version 1.`,
      remedy: "Open it with a newer Underfoot, or write it again as version 1.",
      where,
    }),
  field: (sentences: readonly [string, ...string[]], where: Where): UnderfootError => {
    const [first, ...others] = sentences;
    const more = others.length > 0 ? ` It also has: ${others.slice(0, 9).join("; ")}.` : "";
    return new UnderfootError({
      code: "sidecar-field",
      sentence: where.file === undefined ? `${first}.` : `${where.file}: ${first}.`,
      remedy: `Correct this field; docs/formats/sidecar.md says what each one holds.${more}`,
      where,
    });
  },
} as const;

/** Every finding of a shot sidecar: what the schema cannot say. */
export const sidecarFindingTable = {
  lieSd: (sdDeg: number, where: Where): Finding => ({
    code: "sidecar-lie-sd",
    severity: "note",
    sentence: `The slope carries no sd; ${sdDeg} degrees is taken, as for a common inclinometer.`,
    remedy: 'Write the inclinometer\'s own sd in degrees as "sd" in the slope.',
    where,
  }),
  unknownField: (paths: readonly string[], where: Where): Finding => ({
    code: "sidecar-unknown-field",
    severity: "note",
    sentence: `The sidecar has ${paths.length === 1 ? "a field" : "fields"} that mean nothing here: ${paths.slice(0, 9).join(", ")}.`,
    remedy: "Nothing is lost: they are kept and written back. Check the spelling if one was meant to count.",
    where,
  }),
  plateMissing: (plate: number, plateCount: number): Finding => ({
    code: "sidecar-plate-missing",
    severity: "stop",
    sentence: `The sidecar speaks of plate ${plate}; the recording has ${plateCount === 1 ? "1 plate" : `${plateCount} plates`}.`,
    remedy: "Number the plates as they stand in the recording, from 1.",
    where: { plate },
  }),
  plateTwice: (plate: number): Finding => ({
    code: "sidecar-plate-twice",
    severity: "stop",
    sentence: `Plate ${plate} stands twice in the sidecar.`,
    remedy: "Keep one entry for each plate.",
    where: { plate },
  }),
  footTwice: (foot: Foot, plates: readonly number[]): Finding => ({
    code: "sidecar-foot-twice",
    severity: "stop",
    sentence: `The ${foot} foot is said to be on ${plates.length} plates: ${plates.join(" and ")}.`,
    remedy: 'Give each foot one plate; both feet on one plate is "both", an empty plate is "none".',
  }),
  targetNormal: (angleDeg: number): Finding => ({
    code: "sidecar-target-normal",
    severity: "stop",
    sentence: `The target points ${angleDeg.toFixed(0)} degrees from the plates' normal, so it gives no direction along the ground.`,
    remedy: "Write the target as a direction along the ground, in the recording's laboratory axes.",
  }),
  eventOutside: (event: string, timeS: number, lengthS: number): Finding => ({
    code: "sidecar-event-outside",
    severity: "caution",
    sentence: `The event ${event} is at ${timeS} s, outside the recording, which runs from 0 to ${lengthS.toFixed(3)} s.`,
    remedy: "Give its time in seconds from the recording's first sample.",
    where: { event },
  }),
  eventOrder: (earlier: string, earlierS: number, later: string, laterS: number): Finding => ({
    code: "sidecar-event-order",
    severity: "caution",
    sentence: `The event ${earlier} at ${earlierS} s does not come before ${later} at ${laterS} s.`,
    remedy: "Correct the times: start, top, delivery, impact and finish follow one another.",
    where: { event: earlier },
  }),
  eventTwice: (event: string, source: string): Finding => ({
    code: "sidecar-event-twice",
    severity: "caution",
    sentence: `The event ${event} stands twice with the source "${source}".`,
    remedy: "Keep the one that is right.",
    where: { event },
  }),
  addressWindow: (fromS: number, timeS: number): Finding => ({
    code: "sidecar-address-window",
    severity: "caution",
    sentence: `The quiet window is said to begin at ${fromS} s and to end at ${timeS} s.`,
    remedy: 'Write its beginning as "from" and its later end as "t".',
    where: { event: "address" },
  }),
  outlineOffPlate: (foot: Foot, plate: number, offM: number): Finding => ({
    code: "outline-off-plate",
    severity: "caution",
    sentence: `The outline of the ${foot} foot reaches ${(offM * 1000).toFixed(0)} mm beyond plate ${plate}.`,
    remedy: "Check the outline's frame and units (m), and which foot is on which plate.",
    where: { plate },
  }),
  leadTrailSwapped: (lead: number, trail: number, behindM: number): Finding => ({
    code: "lead-trail-swapped",
    severity: "caution",
    sentence: `Plate ${lead} is said to be under the lead foot but lies ${(behindM * 1000).toFixed(0)} mm farther from the target than plate ${trail} under the trail foot.`,
    remedy: "Swap lead and trail, or turn the target's direction round.",
    where: { plate: lead },
  }),
  otherFile: (said: string, found: string): Finding => ({
    code: "sidecar-other-recording",
    severity: "caution",
    sentence: `The sidecar was written for ${said}, not for ${found}.`,
    remedy: "Check that it belongs to this recording; then correct its recording.file.",
    where: { file: found },
  }),
  otherBytes: (file: string | undefined): Finding => ({
    code: "sidecar-other-recording",
    severity: "caution",
    sentence: `The SHA-256 in the sidecar is not that of ${file ?? "the recording"}: the recording has changed or is another one.`,
    remedy: "Find the recording that the sidecar was written for, or take recording.sha256 out once you have checked.",
    ...(file === undefined ? {} : { where: { file } }),
  }),
} as const;
