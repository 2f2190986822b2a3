import { type Finding, UnderfootError, type Where } from "@underfoot/domain";

/** A finding with its place, in one line. */
function finding(
  severity: Finding["severity"],
  code: string,
  sentence: string,
  remedy: string,
  where?: Where,
): Finding {
  return where === undefined ? { code, severity, sentence, remedy } : { code, severity, sentence, remedy, where };
}

const seconds = (timeS: number): string => `${timeS.toFixed(2)} s`;
const newtons = (forceN: number): string => `${forceN.toFixed(forceN < 100 ? 1 : 0)} N`;
const degrees = (angleDeg: number): string => `${angleDeg.toFixed(1)}°`;

/** Everything that stops the computation of a shot. */
export const shotFaults = {
  lieTooSteep: (pitchDeg: number, rollDeg: number): UnderfootError =>
    new UnderfootError({
      code: "lie-too-steep",
      sentence: `The lie is given as pitch ${degrees(pitchDeg)} and roll ${degrees(rollDeg)}; more than 30° either way is refused.`,
      remedy: "Read the inclinometer again along the target line and square to it, and enter degrees, not percent.",
    }),
  targetAlongNormal: (): UnderfootError =>
    new UnderfootError({
      code: "target-along-normal",
      sentence: "The target direction has no length along the turf: it points along the plates' normal or is zero.",
      remedy: "Give the direction of the target in the laboratory's axes, along the ground.",
    }),
  platesMissing: (foot: string, plates: number): UnderfootError =>
    new UnderfootError({
      code: "plates-missing",
      sentence: `No plate is said to carry the ${foot}; the recording has ${plates} plate${plates === 1 ? "" : "s"}.`,
      remedy: "Say which plate is under the lead foot and which under the trail foot, or that one plate carries both.",
    }),
  plateUnknown: (plate: number, plates: number): UnderfootError =>
    new UnderfootError({
      code: "plate-unknown",
      sentence: `Plate ${plate} is said to carry a foot, but the recording has ${plates} plate${plates === 1 ? "" : "s"}.`,
      remedy: "Number the plates as the recording does, from 1.",
      where: { plate },
    }),
  platesTwice: (foot: string, plates: readonly number[]): UnderfootError =>
    new UnderfootError({
      code: "plates-twice",
      sentence: `Plates ${plates.join(" and ")} are both said to carry the ${foot}.`,
      remedy: "Give each foot one plate of its own, or one plate to both feet.",
    }),
  plateFault: (plate: number, cause: string, remedy: string): UnderfootError =>
    new UnderfootError({
      code: "plate-not-computed",
      sentence: `Plate ${plate} cannot be computed: ${cause}`,
      remedy,
      where: { plate },
    }),
  tooShort: (lengthS: number): UnderfootError =>
    new UnderfootError({
      code: "recording-too-short",
      sentence: `The recording lasts ${lengthS.toFixed(3)} s; a shot needs at least 0.2 s.`,
      remedy: "Check the sampling rate and the number of samples, or record again with a few seconds before the shot.",
    }),
  rateTooLow: (rateHz: number): UnderfootError =>
    new UnderfootError({
      code: "rate-too-low",
      sentence: `The sampling rate is ${Number.isFinite(rateHz) ? `${rateHz} Hz` : "not known"}; at least 50 Hz is needed.`,
      remedy: "Check the rate in the file, or record at 500 Hz or more.",
    }),
  noLoad: (peakN: number): UnderfootError =>
    new UnderfootError({
      code: "no-load",
      sentence: Number.isFinite(peakN)
        ? `Nobody stands on the plates: the largest load is ${newtons(peakN)}.`
        : "The plates have no valid sample in common.",
      remedy: "Check which plates carry the feet, their scale and calibration, and that the channels were connected.",
    }),
  outlineInvalid: (foot: string, why: string): UnderfootError =>
    new UnderfootError({
      code: "outline-invalid",
      sentence: `The outline of the ${foot} foot ${why}.`,
      remedy: "Trace the sole again, once round, with the heel's and the toe's end marked.",
    }),
  markOutOfOrder: (event: string, why: string): UnderfootError =>
    new UnderfootError({
      code: "mark-out-of-order",
      sentence: `The mark for ${event} is refused: ${why}.`,
      remedy: "The order is address, start, top, delivery, impact, finish; move or remove the mark.",
      where: { event },
    }),
  calibration: (plate: number, why: string): UnderfootError =>
    new UnderfootError({
      code: "plate-calibration",
      sentence: `Plate ${plate} cannot be computed: ${why}.`,
      remedy: "Check the plate's type, channels and calibration matrix.",
      where: { plate },
    }),
} as const;

/** Everything that must be said about one plate while its channels become a wrench. */
export const plateFindings = {
  saturated: (plate: number, samples: number, firstS: number, lastS: number): Finding =>
    finding(
      "caution",
      "saturated",
      `Plate ${plate} was at the end of its range in ${samples} samples between ${seconds(firstS)} and ${seconds(lastS)}: peaks there read "at least".`,
      "Choose a larger range, and keep within the plate's rated load.",
      { plate },
    ),
  notZeroed: (plate: number, zeroN: number, zeroNm: number): Finding =>
    finding(
      "note",
      "not-zeroed",
      `Plate ${plate} was not zeroed in this recording; its zero is taken as good to ${zeroN} N and ${zeroNm} N m.`,
      "Zero the plates unloaded and lying as used, or give an unloaded stretch of 0.5 s or more.",
      { plate },
    ),
  zeroLoaded: (plate: number, loadN: number, limitN: number, isApplied: boolean): Finding =>
    finding(
      "caution",
      "zero-loaded",
      `The stretch given as zero of plate ${plate} carries ${newtons(loadN)} on average (limit ${newtons(limitN)}); ${isApplied ? "it was taken off as asked" : "it was not taken off"}.`,
      isApplied
        ? "Check that nobody stood on the plate then; choose another stretch or none."
        : "Give an unloaded stretch, or say that there is none.",
      { plate },
    ),
  zeroShort: (plate: number, lengthS: number): Finding =>
    finding(
      "note",
      "zero-short",
      `The zero of plate ${plate} rests on ${lengthS.toFixed(2)} s; 0.5 s or more is asked for.`,
      "Leave the plates unloaded a little longer before stepping on.",
      { plate },
    ),
  zeroOutside: (plate: number): Finding =>
    finding(
      "caution",
      "zero-outside",
      `The stretch given as zero of plate ${plate} lies outside the recording or has no valid sample; nothing was taken off.`,
      "Give the stretch in seconds from the first sample.",
      { plate },
    ),
  senseConflict: (plate: number, said: string, shown: string): Finding =>
    finding(
      "caution",
      "sense-disagrees",
      `Plate ${plate} is said to hold forces ${said === "on-player" ? "on the player" : "on the plate"}, but its load has the sign of forces ${shown === "on-player" ? "on the player" : "on the plate"}.`,
      "Check the sense and the order of the plate's corners.",
      { plate },
    ),
  spikes: (plate: number, replaced: number): Finding =>
    finding(
      "note",
      "spikes-replaced",
      `${replaced} single samples of plate ${plate} stood out from their neighbours and were replaced by a straight line.`,
      "Check cables and radio link if this number grows.",
      { plate },
    ),
  spikesLeft: (plate: number, left: number): Finding =>
    finding(
      "caution",
      "spikes-left",
      `${left} samples of plate ${plate} stand out in runs of more than three and were left as they are.`,
      "Look at the raw channels there; set the shot aside if they touch it.",
      { plate },
    ),
  gaps: (plate: number, missing: number, firstS: number): Finding =>
    finding(
      "caution",
      "gaps",
      `Plate ${plate} lacks ${missing} samples in gaps too long to bridge (over 5 ms), the first at ${seconds(firstS)}; measures that touch them are not given.`,
      "Move the receiver closer, or ask the device to send again.",
      { plate },
    ),
  bridged: (plate: number, bridged: number): Finding =>
    finding(
      "note",
      "gaps-bridged",
      `${bridged} missing samples of plate ${plate} in gaps of up to 5 ms were filled by a cubic.`,
      "Nothing to do; check the radio link if this number grows.",
      { plate },
    ),
  cornerOrder: (plate: number): Finding =>
    finding(
      "caution",
      "corner-order",
      `The corners of plate ${plate} make it face down; its normal was turned up.`,
      "Check the order of the corners: forces along the plate may have the wrong sign.",
      { plate },
    ),
  noMoments: (plate: number): Finding =>
    finding(
      "note",
      "no-moments",
      `Plate ${plate} gives forces only: no centre of pressure, no free moment.`,
      "Give the moment channels or the sensor distances if the plate has them.",
      { plate },
    ),
  noFreeMoment: (plate: number): Finding =>
    finding(
      "note",
      "no-free-moment",
      `Plate ${plate} gives no free moment, so turning torque is missing.`,
      "Map the free moment's channel if the plate has one.",
      { plate },
    ),
} as const;

/** Everything that must be said about the shot as a whole. */
export const shotFindings = {
  lieUnknown: (pitchDeg: number, rollDeg: number): Finding =>
    finding(
      "caution",
      "lie-unknown",
      `Nobody gave the lie: flat is assumed. The quiet stance leans by ${degrees(pitchDeg)} along the target line and ${degrees(rollDeg)} toward the ball.`,
      "Enter pitch and roll from an inclinometer; on a slope the slope's own share is otherwise read as the player's.",
    ),
  lieFromLab: (pitchDeg: number, rollDeg: number): Finding =>
    finding(
      "note",
      "lie-from-laboratory",
      `The lie was taken from the plates in the level laboratory: pitch ${degrees(pitchDeg)}, roll ${degrees(rollDeg)}.`,
      "Confirm it with an inclinometer.",
    ),
  lieConflict: (differenceDeg: number): Finding =>
    finding(
      "caution",
      "lie-disagrees",
      `The given lie and the plates in the level laboratory differ by ${degrees(differenceDeg)}; the given lie is used.`,
      "Check the target direction, the plates' corners and the inclinometer.",
    ),
  normalsDiffer: (angleDeg: number): Finding =>
    finding(
      "caution",
      "plates-not-level-with-each-other",
      `The plates' surfaces are tilted against each other by ${degrees(angleDeg)}; 1° is the limit for one turf plane.`,
      "Level the plates with each other; the combined centre of pressure is off meanwhile.",
    ),
  swapped: (byM: number): Finding =>
    finding(
      "caution",
      "lead-trail-swapped",
      `The plate said to be under the lead foot lies ${byM.toFixed(2)} m farther from the target than the trail foot's.`,
      "Check which plate is which, and the target direction.",
    ),
  notPlaced: (): Finding =>
    finding(
      "caution",
      "plates-not-placed",
      "The recording does not say where the plates lie, so what needs both places (combined centre of pressure, couple, turning torque) is left out.",
      "Give the plates' corners.",
    ),
  filterOff: (cutoffHz: number, rateHz: number): Finding =>
    finding(
      "caution",
      "filter-off",
      `A cut-off of ${cutoffHz} Hz is too high for ${rateHz} Hz sampling; nothing was filtered.`,
      "Choose a cut-off below 0.45 of the sampling rate.",
    ),
  residualNotFound: (): Finding =>
    finding(
      "note",
      "residual-not-found",
      "The residual analysis found no cut-off; 25 Hz was used.",
      "Set the cut-off yourself if 25 Hz does not suit.",
    ),
  notStill: (sdShare: number, componentName: string): Finding =>
    finding(
      "caution",
      "not-still",
      `The quietest stance before the shot still moves: sd of the ${componentName} force is ${(100 * sdShare).toFixed(1)} % of weight (limit 1.5 %).`,
      "Ask for half a second of stillness before the takeaway; weight and speeds are less certain here.",
    ),
  addressShort: (lengthS: number): Finding =>
    finding(
      "caution",
      "address-short",
      `Only ${lengthS.toFixed(2)} s of stance could be used before the shot; 0.5 s is asked for.`,
      "Let the recording begin three seconds before the takeaway.",
    ),
  addressElsewhere: (): Finding =>
    finding(
      "caution",
      "address-not-found",
      "There is no stance of 0.5 s where it is expected before the shot; the quietest stretch of the recording was taken.",
      "Mark the start or the impact, or record longer before the shot.",
    ),
  massDisagrees: (platesKg: number, scaleKg: number, sdKg: number): Finding =>
    finding(
      "caution",
      "mass-disagrees",
      `The plates say ${platesKg.toFixed(1)} kg, the scale ${scaleKg.toFixed(1)} kg: more than three times their sd of ${sdKg.toFixed(2)} kg. The plates' mass is used.`,
      "Check the plates with a known mass, and whether the scale's number includes club and shoes.",
    ),
  slopeDisagrees: (
    measured: readonly [number, number],
    given: readonly [number, number],
    allowedDeg: number,
  ): Finding =>
    finding(
      "caution",
      "slope-disagrees",
      `The quiet stance leans as on pitch ${degrees(measured[0])}, roll ${degrees(measured[1])}; the lie says ${degrees(given[0])}, ${degrees(given[1])} (allowed difference ${degrees(allowedDeg)}).`,
      "Check for turned plates, a wrong target direction, a zero taken elsewhere, and crosstalk.",
    ),
  zeroDrift: (axis: string, speedMPerS: number, limitMPerS: number): Finding =>
    finding(
      "caution",
      "zero-drift",
      `At the second quiet stance the ${axis} speed still reads ${(1000 * speedMPerS).toFixed(0)} mm/s (limit ${(1000 * limitMPerS).toFixed(0)} mm/s): the plates' zero moved.`,
      "Zero the plates again; speeds and travel of this shot are less certain than stated.",
    ),
  clocksApart: (sigmaMs: number, limitMs: number): Finding =>
    finding(
      "caution",
      "clocks-apart",
      `The two plates' clocks are known to ${sigmaMs.toFixed(1)} ms (limit ${limitMs} ms); what needs both plates is withheld.`,
      "Wait for the clock fit, tap both plates with a board, or wire a common trigger.",
    ),
  noImpactSignal: (role: string): Finding =>
    finding(
      "note",
      "no-impact-found",
      `The ${role} channel shows no impact; it was estimated from the forces.`,
      "If this was a practice swing, label it so; else check the trigger or microphone.",
    ),
  eventMissing: (event: string, why: string): Finding =>
    finding("note", `${event}-not-found`, `The ${event} could not be found: ${why}.`, `Mark the ${event} by hand.`, {
      event,
    }),
  finishAtEnd: (): Finding =>
    finding(
      "note",
      "finish-at-end",
      "The player does not come to rest before the recording ends; its last sample is taken as finish.",
      "Record two seconds after impact, or mark the finish.",
      { event: "finish" },
    ),
  markRefused: (event: string, why: string): Finding =>
    finding(
      "caution",
      "mark-out-of-order",
      `The mark for ${event} was not used: ${why}.`,
      "The order is address, start, top, delivery, impact, finish; move or remove the mark.",
      { event },
    ),
  outline: (foot: string, why: string): Finding =>
    finding(
      "caution",
      "outline-invalid",
      `The outline of the ${foot} foot ${why}; it is not used.`,
      "Trace the sole again, once round, with the heel's and the toe's end marked.",
    ),
  outlineOffPlate: (foot: string, mm: number): Finding =>
    finding(
      "caution",
      "outline-off-plate",
      `The outline of the ${foot} foot reaches ${mm.toFixed(0)} mm beyond its plate.`,
      "Check the outline's frame and the plate's corners; a foot must stand wholly on its plate.",
    ),
} as const;
