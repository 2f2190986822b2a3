import { UnderfootError } from "@underfoot/domain";

const fault = (code: string, sentence: string, remedy: string): UnderfootError =>
  new UnderfootError({ code, sentence, remedy });

/** What a comparison cannot be made of. */
export const compareFaults = {
  severalPlayers: (players: readonly string[]): UnderfootError =>
    fault(
      "compare-several-players",
      `These are shots of ${players.length} players (${players.join(", ")}); a comparison is of one player's shots.`,
      "Name the player, or ask for a study, where each player counts once.",
    ),
  noShots: (name: string): UnderfootError =>
    fault("compare-no-shots", `There is no shot in "${name}".`, "Ask for shots that are in the library."),
  unknownMeasure: (column: string): UnderfootError =>
    fault(
      "compare-unknown-measure",
      `There is no measure "${column}".`,
      'Take an id of the catalogue, with turf or level where it has axes, for example "both.target.peak turf".',
    ),
  unknownCurve: (column: string): UnderfootError =>
    fault(
      "compare-unknown-curve",
      `There is no curve "${column}".`,
      "Take one that can be drawn, for example both.target, both.speedTarget or lead.share.",
    ),
  sharedShots: (count: number): UnderfootError =>
    fault(
      "compare-shared-shots",
      `${count === 1 ? "One shot is" : `${count} shots are`} in both sides of the comparison.`,
      "Ask for two sides that have no shot in common.",
    ),
  badMargin: (column: string, margin: number): UnderfootError =>
    fault(
      "compare-margin",
      `The margin of ${column} is ${margin}; a margin lies above 0.`,
      "Give the smallest difference that would matter, in the measure's unit.",
    ),
} as const;
