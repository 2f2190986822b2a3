import type { Finding, Where } from "@underfoot/domain";

/** Every finding and guess that comes of using a column mapping. */
export const mappingFindingTable = {
  noSize: (plate: number, [aM, bM]: readonly [number, number], where: Where): Finding => ({
    code: "plate-size",
    severity: "note",
    sentence: `The mapping gives plate ${plate} neither corners nor size; it is drawn as ${aM} by ${bM} m.`,
    remedy: "Add its corners, or its size and centre, to the mapping.",
    where: { ...where, plate },
  }),
  noHorizontal: (plate: number, letters: readonly string[], where: Where): Finding => ({
    code: "no-horizontal",
    severity: "caution",
    sentence: `Plate ${plate} has no force column along ${letters.join(" and ")}; that force counts as 0.`,
    remedy: "Map these columns if the file has them; without them, measures of the horizontal forces mean nothing.",
    where: { ...where, plate },
  }),
  unitDisagrees: (said: string, found: string, where: Where): Finding => ({
    code: "unit-disagrees",
    severity: "caution",
    sentence: `The mapping says that column ${JSON.stringify(where.column ?? "")} is in ${said}; the file's header says ${found}.`,
    remedy: "The mapping is taken; correct it if the header is right.",
    where,
  }),
  guessUp: (up: string, reason: string, where: Where): Finding => ({
    code: "guess-up",
    severity: "caution",
    sentence: `Up is taken to be ${up}: ${reason}.`,
    remedy: 'Confirm it by writing "up" in the mapping.',
    where,
  }),
} as const;

const listed = (names: readonly string[]): string =>
  `${names
    .slice(0, 8)
    .map((name) => JSON.stringify(name))
    .join(", ")}${names.length > 8 ? ` and ${names.length - 8} more` : ""}`;

const question = (code: string, sentence: string, remedy: string): Finding => ({
  code,
  severity: "caution",
  sentence,
  remedy,
});

/** What a person has to say before the columns of a text mean forces. */
export const mappingQuestions = {
  columns: (names: readonly string[]): Finding =>
    question(
      "ask-columns",
      `Which columns are which force of which plate? Their names do not say: ${listed(names)}.`,
      "Give each force column its plate and its direction.",
    ),
  matrix: (names: readonly string[]): Finding =>
    question(
      "ask-matrix",
      `With which matrix do the signals ${listed(names)} become forces?`,
      "Enter the six rows of the plate's calibration; without them no force is computed.",
    ),
  units: (names: readonly string[]): Finding =>
    question(
      "ask-unit",
      `In which unit ${names.length === 1 ? "is" : "are"} ${listed(names)}?`,
      "Choose a unit for each; it is never guessed.",
    ),
  axes: (names: readonly string[]): Finding =>
    question(
      "ask-axis",
      `Along which axis ${names.length === 1 ? "does" : "do"} ${listed(names)} point?`,
      "Choose a direction of the laboratory for each.",
    ),
  up: (): Finding => question("ask-up", "Which axis of the laboratory points up?", "Choose it."),
  upProposed: (up: string): Finding =>
    question(
      "ask-up",
      `Does ${up} point up? The first rows carry the largest force along it.`,
      "Confirm it or choose another axis.",
    ),
  sense: (): Finding =>
    question(
      "ask-sense",
      "Are these the forces of the ground on the player, or of the player on the plate?",
      "Choose one; left out, it is settled by the sign of the load.",
    ),
  place: (): Finding =>
    question(
      "ask-place",
      "Where do the plates lie in the laboratory?",
      "Give four corners, or size and centre; left out, the CoP is counted from each plate's own centre.",
    ),
  momentPoint: (): Finding =>
    question(
      "ask-moment-point",
      "What are the moments about: the centre of the surface, a point below it, or the laboratory's origin?",
      "Choose one and give the depth in m.",
    ),
  copOrigin: (): Finding =>
    question(
      "ask-cop-origin",
      "Is the CoP counted from the plate's centre or from the laboratory's origin?",
      "Choose one.",
    ),
  rate: (): Finding =>
    question("ask-rate", "How many samples a second does the recording have?", "Enter the rate in Hz."),
} as const;
