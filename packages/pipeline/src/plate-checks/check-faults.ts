import { UnderfootError } from "@underfoot/domain";

/** A check that waits for something to be said about the set-up. */
export class FactsNeeded extends UnderfootError {
  override readonly name = "FactsNeeded";
}

const newtons = (forceN: number): string => `${forceN.toFixed(forceN < 100 ? 1 : 0)} N`;
const fault = (code: string, sentence: string, remedy: string, plate?: number): UnderfootError =>
  new UnderfootError({ code, sentence, remedy, ...(plate === undefined ? {} : { where: { plate } }) });

/** Everything that stops a check of the plates. */
export const checkFaults = {
  lieMissing: (): FactsNeeded =>
    new FactsNeeded({
      code: "lie-missing",
      sentence: "Nobody has given the lie, so how the force should lean is not known.",
      remedy: "Read the inclinometer along the target line and square to it, and enter both angles; flat is 0 and 0.",
    }),
  axesMissing: (): FactsNeeded =>
    new FactsNeeded({
      code: "target-missing",
      sentence: "Nobody has said which way the target is and which hand the player is, so the lie has no direction.",
      remedy: "Give the target's direction and the hand.",
    }),
  feetMissing: (): FactsNeeded =>
    new FactsNeeded({
      code: "plates-missing",
      sentence: "Nobody has said which plate is under which foot.",
      remedy: "Say which plate is under the lead foot and which under the trail foot.",
    }),
  tooShort: (lengthS: number, leastS: number): UnderfootError =>
    fault(
      "recording-too-short",
      `The recording lasts ${lengthS.toFixed(2)} s; this check wants ${leastS} s.`,
      "Record longer, and bring it in again.",
    ),
  tooLong: (lengthS: number, mostS: number): UnderfootError =>
    fault(
      "recording-too-long",
      `The recording lasts ${Math.round(lengthS)} s; a check is looked for in at most ${mostS} s.`,
      "Cut the recording to the check.",
    ),
  noPlates: (): UnderfootError =>
    fault(
      "no-plates",
      "The recording holds no plate that can be computed.",
      "Bring in a recording of the force plates, or give a mapping of its columns.",
    ),
  onePlate: (): UnderfootError =>
    fault(
      "one-plate",
      "The recording holds one plate only: there are no two clocks to compare.",
      "Record both plates at once.",
    ),
  loaded: (plate: number, loadN: number): UnderfootError =>
    loadN > 100
      ? fault(
          "plate-loaded",
          `Somebody stands on plate ${plate}: ${newtons(loadN)} in its lightest half second.`,
          "Step off both plates, take everything off them, and record again.",
          plate,
        )
      : fault(
          "plate-loaded",
          `Something lies on plate ${plate}, or it was never zeroed: ${newtons(loadN)} in its lightest half second.`,
          "Take everything off the plates; if nothing lies there, zero them in the device, and record again.",
          plate,
        ),
  massWrong: (massKg: number): UnderfootError =>
    fault(
      "mass-wrong",
      `A known mass of ${massKg} kg cannot be checked.`,
      "Give the mass in kilograms, 5 to 300; lighter ones cannot be told from an unloaded plate.",
    ),
  noMass: (wantedN: number, largestN: number): UnderfootError =>
    fault(
      "mass-not-found",
      `No load near ${newtons(wantedN)} lies still for half a second; the largest still load is ${newtons(largestN)}.`,
      "Check the mass that was entered, lay it down, step away and leave it for two seconds at each place.",
    ),
  placesDiffer: (found: number, given: number): UnderfootError =>
    fault(
      "places-differ",
      `The mass lay still at ${found} places, ${given} were given.`,
      "Name the places in the order in which the mass was laid, or leave them out: the nearest of the five is then taken.",
    ),
  noMoments: (plate: number): UnderfootError =>
    fault(
      "no-moments",
      `Plate ${plate} gives forces only: it has no centre of pressure.`,
      "Give its moment channels or the sensor distances.",
      plate,
    ),
  notStill: (): UnderfootError =>
    fault(
      "not-still",
      "Nobody stands still for half a second in this recording.",
      "Stand on both plates as at address, still, for three seconds.",
    ),
  noTap: (): UnderfootError =>
    fault(
      "no-tap",
      "The recording holds neither a tap that both plates felt nor six seconds of rocking from foot to foot.",
      "Lay a stiff board across both plates and strike it a few times a second apart, or rock from foot to foot for 8 seconds.",
    ),
  noTrace: (): UnderfootError =>
    fault(
      "no-trace",
      "No plate was traced: nothing pressed on one with 30 to 250 N for long enough to go round a foot.",
      "Go once round the shoe's edge with a pointed stick or a finger, pressing with 50 N or more, in about ten seconds.",
    ),
} as const;
