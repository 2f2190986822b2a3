import type { Finding, Severity, Where } from "@underfoot/domain";

/** Collects what is said while a file is read. A guess is something that changes a number and is asked once at import. */
export interface Said {
  readonly findings: Finding[];
  readonly guesses: Finding[];
  say(finding: Finding): void;
  guess(finding: Finding): void;
}

export function said(): Said {
  const findings: Finding[] = [];
  const guesses: Finding[] = [];
  return {
    findings,
    guesses,
    say: (finding) => {
      findings.push(finding);
    },
    guess: (finding) => {
      findings.push(finding);
      guesses.push(finding);
    },
  };
}

const finding = (severity: Severity, code: string, where: Where, sentence: string, remedy: string): Finding => ({
  code,
  severity,
  sentence,
  remedy,
  where,
});

const NOTHING = "Nothing needs doing; the numbers are not affected.";
const AGAIN = "If numbers look wrong, export the recording again.";
const plateOf = (where: Where): string => `Plate ${where.plate ?? "?"}`;
const rounded = (value: number): string => String(Number(value.toPrecision(4)));

/** Every finding of a C3D file, by what it is about. `where` carries the file, and the plate where there is one. */
export const c3dFindings = {
  processor: (where: Where, byte: number, taken: string): Finding =>
    finding(
      "caution",
      "processor",
      where,
      `The file names processor ${byte}; 84, 85 and 86 are known. Its header makes sense as ${taken}, so it was read so.`,
      "Compare one force with the program that made the file.",
    ),
  paramKey: (where: Where, first: number, key: number): Finding =>
    finding(
      "note",
      "param-key",
      where,
      `The parameter section begins with ${first}, ${key} instead of 1, 80.`,
      NOTHING,
    ),
  paramOverrun: (where: Where): Finding =>
    finding(
      "note",
      "param-overrun",
      where,
      "The parameters run past the end of their section; they were read on.",
      NOTHING,
    ),
  paramGarbage: (where: Where, at: number): Finding =>
    finding(
      "caution",
      "param-garbage",
      where,
      `The parameter record at byte ${at} makes no sense; what stands before it was kept.`,
      "Check that plates and channels below are complete; if not, export the recording again.",
    ),
  paramLength: (where: Where, name: string, size: number, way: number): Finding =>
    finding("note", "param-length", where, `${name} says ${size} bytes, but ${way} lie before the next record.`, AGAIN),
  paramTwice: (where: Where, count: number, first: string): Finding =>
    finding(
      "note",
      "param-twice",
      where,
      `${count} parameters stand twice, ${first} first; the first of each was kept.`,
      NOTHING,
    ),
  paramOrphan: (where: Where, count: number, first: string): Finding =>
    finding(
      "note",
      "param-orphan",
      where,
      `${count} parameters belong to a group without a name, ${first} first.`,
      NOTHING,
    ),
  paramType: (where: Where, name: string): Finding =>
    finding("note", "param-type", where, `${name} is of a type that the format does not know; it was left out.`, AGAIN),
  noParameters: (where: Where): Finding =>
    finding(
      "caution",
      "no-parameters",
      where,
      "The file has no readable parameter: channels are raw numbers without units, and there are no plates.",
      "Export the recording again, or map its channels by hand.",
    ),
  scaleSign: (where: Where, header: number, parameter: number): Finding =>
    finding(
      "caution",
      "scale-sign",
      where,
      `The header's scale is ${header} and POINT:SCALE ${parameter}: their signs disagree on whether data are real numbers or integers. The header was believed.`,
      "Compare one force with the program that made the file.",
    ),
  pointScale: (where: Where, scale: number): Finding =>
    finding(
      "note",
      "point-scale",
      where,
      `The scale of integer points is ${scale}; points are shown without scale.`,
      NOTHING,
    ),
  points: (where: Where, parameter: number, header: number): Finding =>
    finding(
      "note",
      "points",
      where,
      `POINT:USED says ${parameter} points, the header ${header}; POINT:USED was believed.`,
      AGAIN,
    ),
  rate: (where: Where, parameter: number, header: number): Finding =>
    finding(
      "caution",
      "rate",
      where,
      `POINT:RATE says ${parameter} frames a second, the header ${header}; POINT:RATE was believed.`,
      "Compare the length of the recording with the clock or the video.",
    ),
  noRate: (where: Where): Finding =>
    finding(
      "stop",
      "rate",
      where,
      "The file gives no frame rate above 0: no time can be told.",
      "Give the rate by hand, or export the recording again.",
    ),
  frames: (where: Where, sources: string, taken: number): Finding =>
    finding("note", "frames", where, `The number of frames is given as ${sources}; ${taken} was taken.`, AGAIN),
  framesCounted: (where: Where, counted: number): Finding =>
    finding(
      "caution",
      "frames",
      where,
      `The number of frames is not given; ${counted} whole frames up to the end of the file were counted.`,
      "Check the length of the recording.",
    ),
  framesTrial: (where: Where, trial: number, taken: number): Finding =>
    finding("note", "frames-trial", where, `TRIAL's fields span ${trial} frames; ${taken} was taken.`, AGAIN),
  analogUsed: (where: Where, parameter: number, header: number): Finding =>
    finding(
      "note",
      "analog-used",
      where,
      `ANALOG:USED says ${parameter} channels, the header ${rounded(header)}; ANALOG:USED was believed.`,
      AGAIN,
    ),
  analogFrame: (where: Where, taken: number, others: string): Finding =>
    finding(
      "caution",
      "analog-frame",
      where,
      `Samples per frame are given as ${others}; ${taken} was taken, because the frames then fill the file best.`,
      "Compare the length of the recording with the clock or the video.",
    ),
  dataStart: (where: Where, header: number, parameter: number): Finding =>
    finding(
      "note",
      "data-start",
      where,
      `The header's data block ${header} lies outside the file; POINT:DATA_START ${parameter} was used.`,
      AGAIN,
    ),
  truncated: (where: Where, announced: number, present: number): Finding =>
    finding(
      "caution",
      "truncated",
      where,
      `${announced} frames are announced, ${present} whole frames are there; these were read.`,
      "Copy or export the recording again if the end is missing.",
    ),
  trailing: (where: Where, bytes: number): Finding =>
    finding("note", "trailing", where, `${bytes} bytes stand after the last frame; they were left alone.`, NOTHING),
  analogScale: (where: Where, given: number, channels: number): Finding =>
    finding(
      "caution",
      "analog-scale",
      where,
      `ANALOG:SCALE has ${given} of ${channels} values; 1 was used for the rest.`,
      "Channels without a scale are raw numbers: check their units.",
    ),
  analogOffset: (where: Where, given: number, channels: number): Finding =>
    finding(
      "caution",
      "analog-offset",
      where,
      `ANALOG:OFFSET has ${given} of ${channels} values; 0 was used for the rest.`,
      "Take a zero from a stretch with unloaded plates.",
    ),
  genScale: (where: Where, value: number): Finding =>
    finding(
      "caution",
      "gen-scale",
      where,
      `ANALOG:GEN_SCALE is ${value}; 1 was used.`,
      "Check the size of the forces.",
    ),
  analogNotFinite: (where: Where, count: number, channels: number): Finding =>
    finding(
      "caution",
      "analog-not-finite",
      where,
      `${count} analog values in ${channels} channels are no numbers; they are taken as missing.`,
      "Measures that need them are left out; check the plates' connection.",
    ),
  lengthUnit: (where: Where, written: string, taken: string): Finding =>
    finding(
      "caution",
      "units",
      where,
      `POINT:UNITS is ${written === "" ? "missing" : `"${written}"`}; lengths were taken as ${taken}, because the plates are then of a sensible size.`,
      "Check the size of the plates.",
    ),
  momentUnit: (where: Where, ratioM: number, taken: string): Finding =>
    finding(
      "caution",
      "units",
      where,
      `${plateOf(where)} has moments without a unit; as ${taken} the centre of pressure lies ${rounded(1000 * ratioM)} mm from the centre, else off the plate.`,
      "Check one centre of pressure.",
    ),
  labelTwice: (where: Where, label: string): Finding =>
    finding(
      "note",
      "label-twice",
      where,
      `More than one analog channel is called "${label}"; channels are told apart by number.`,
      NOTHING,
    ),
  channelRole: (where: Where, label: string, role: string): Finding =>
    finding(
      "note",
      "channel-role",
      where,
      `Channel "${label}" was taken for a ${role} channel because of its name.`,
      "Confirm it, or tell the channel's use: impact may be read from it.",
    ),
  plateUsed: (where: Where, written: number | undefined, described: number): Finding =>
    finding(
      "note",
      "fp-used",
      where,
      `FORCE_PLATFORM:USED ${written === undefined ? "is missing" : `says ${written} plates`}; ${described} are described and were read.`,
      "Check that no plate is missing.",
    ),
  noAnalog: (where: Where): Finding =>
    finding(
      "caution",
      "fp-no-analog",
      where,
      "The file has no analog channels, so there are no forces in it.",
      "Export the recording with its analog channels.",
    ),
  plateType: (where: Where, type: number): Finding =>
    finding(
      "stop",
      "fp-type",
      where,
      `${plateOf(where)} is of type ${type}, which is not computed; its channels are kept.`,
      "Export the plate as type 2 (forces and moments), or map its channels by hand.",
    ),
  forceOnly: (where: Where): Finding =>
    finding(
      "caution",
      "fp-type",
      where,
      `${plateOf(where)} is of type 0; its first three channels were taken as force, and there are no moments.`,
      "Export the plate as type 2 (forces and moments) if it has them.",
    ),
  plateCorners: (where: Where, sides: string): Finding =>
    finding(
      "stop",
      "fp-corners",
      where,
      `${plateOf(where)} has corners that make no plate: ${sides}; sides from 50 mm to 6 m are expected.`,
      "Correct FORCE_PLATFORM:CORNERS where the file was made, or give the plate's place by hand.",
    ),
  plateSkew: (where: Where, missMm: number, cosine: number): Finding =>
    finding(
      "caution",
      "fp-corners",
      where,
      `The corners of plate ${where.plate ?? "?"} are not a flat rectangle: the diagonals miss each other by ${rounded(missMm)} mm, and the cosine between its sides is ${rounded(cosine)}.`,
      "Measure the corners again: the centre of pressure shifts with them.",
    ),
  cornerOrder: (where: Where): Finding =>
    finding(
      "caution",
      "corner-order",
      where,
      `The corners of plate ${where.plate ?? "?"} run the other way round, so its outside would face the ground; the outward direction was turned.`,
      "Confirm which way the plate's y axis points, or correct the order of the corners.",
    ),
  plateChannel: (where: Where, given: string, channels: number): Finding =>
    finding(
      "stop",
      "fp-channel",
      where,
      `${plateOf(where)} asks for channels ${given}; the file has channels 1 to ${channels}.`,
      "Correct FORCE_PLATFORM:CHANNEL where the file was made, or map the channels by hand.",
    ),
  plateMatrix: (where: Where): Finding =>
    finding(
      "stop",
      "fp-cal",
      where,
      `${plateOf(where)} is of type 4 but has no usable 6 by 6 CAL_MATRIX.`,
      "Export the recording with the plate's calibration matrix, or as type 2.",
    ),
  noSpacing: (where: Where): Finding =>
    finding(
      "caution",
      "fp-origin",
      where,
      `${plateOf(where)} is of type 3, but its ORIGIN has no sensor spacing: there are forces, no moments and no centre of pressure.`,
      "Give half the distances between the sensors in FORCE_PLATFORM:ORIGIN.",
    ),
  noOrigin: (where: Where): Finding =>
    finding(
      "caution",
      "fp-origin",
      where,
      `${plateOf(where)} has no usable ORIGIN; its moments were taken as about the surface centre.`,
      "Give the depth of the plate's origin: at 40 mm and 20 % shear it moves the centre of pressure by 8 mm.",
    ),
  originSign: (where: Where, depthMm: number, isAll: boolean): Finding =>
    finding(
      "caution",
      "origin-sign",
      where,
      `The ORIGIN of plate ${where.plate ?? "?"} puts its surface ${rounded(depthMm)} mm below its sensors; ${isAll ? "all three signs were" : "the sign of its third number was"} turned.`,
      "Confirm it, or undo it in the sidecar; the centre of pressure shifts by twice that depth times the shear.",
    ),
  eventOrigin: (where: Where, firstFrame: number): Finding =>
    finding(
      "caution",
      "event-origin",
      where,
      `Event times lie outside the recording when counted from frame 1; they were counted from its first frame, ${firstFrame}.`,
      "Compare one event with the forces or the video.",
    ),
  eventOutside: (where: Where, count: number, lengthS: number): Finding =>
    finding(
      "note",
      "event-outside",
      where,
      `${count} events lie outside the recording of ${rounded(lengthS)} s.`,
      "Compare one event with the forces or the video.",
    ),
  plausibleLoad: (where: Where, peakN: number): Finding =>
    finding(
      "caution",
      "plausible-load",
      where,
      `${plateOf(where)} shows a load of ${rounded(peakN)} N, more than 10,000 N.`,
      "Check the plate type, ANALOG:SCALE, and that volts are not calibrated twice.",
    ),
  plausibleStanding: (where: Where, loadN: number): Finding =>
    finding(
      "note",
      "plausible-standing",
      where,
      `While loaded the plates carry ${rounded(loadN)} N together; a person stands with 200 to 2000 N.`,
      "Check the plate types and ANALOG:SCALE, and whether a plate is missing.",
    ),
  plausibleNoLoad: (where: Where, peakN: number): Finding =>
    finding(
      "caution",
      "plausible-no-load",
      where,
      `${plateOf(where)} never carries more than ${rounded(peakN)} N: nobody stood on it, or its channels hold noise.`,
      "Check that the plate was connected and that CHANNEL names the right channels.",
    ),
  plausibleConstant: (where: Where, percent: number, value: number): Finding =>
    finding(
      "note",
      "plausible-constant",
      where,
      `${rounded(percent)} % of the load samples of plate ${where.plate ?? "?"} are exactly ${rounded(value)} N: padded, or set so below a threshold.`,
      "Small loads are not to be trusted in this file.",
    ),
} as const;
