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
