import type { Study, StudyMeasure } from "@underfoot/compare";

/** What the model holds, in one line. */
export function modelText({ status, comparison, model }: StudyMeasure, study: Pick<Study, "players">): string {
  const count = study.players.length;
  switch (status) {
    case "players": {
      const scatter = comparison.kind === "players" ? comparison.scatter : undefined;
      const session = scatter?.sdSession === undefined ? "" : ", the session";
      const own = {
        intercept: "a level of each player’s own",
        slope: "a level and a difference of each player’s own, free to go together",
        cell: "a level of each player’s own, and of each player in each condition",
      }[scatter?.random ?? "intercept"];
      const nu = model === undefined ? "" : ` Degrees of freedom by Satterthwaite: ${model.nu.toFixed(1)}.`;
      return `Mixed model by REML: the condition, ${own}${session}, and the scatter of shots.${nu}`;
    }
    case "each-player":
      return `No model over ${count} ${count === 1 ? "player" : "players"}: each player’s own shots, by Welch.`;
    case "between-players":
      return "No player has both conditions: means of players against each other, by Welch, players as units.";
    case "withheld":
      return "No model: there is no value, or no scatter, in one of the conditions.";
  }
}

/** The p of an analysis as a table shows it. */
export const pText = (p: number): string => (Number.isNaN(p) ? "none" : p < 0.001 ? "below 0.001" : p.toFixed(3));

/** Whether both analyses fall on one side, in words. */
export function agreementText({ status, agrees, twoStage }: StudyMeasure): string {
  if (status === "each-player") return "None over so few players: each stands by itself.";
  if (status === "between-players") return "One: no player has both conditions.";
  if (status === "withheld") return "None: there is no value, or no scatter, in one of the conditions.";
  if (twoStage === undefined)
    return "The check player by player could not be made: fewer than two players have both conditions.";
  return agrees
    ? "The two analyses agree."
    : "The two analyses do not agree: the p player by player is the one quoted, and the question stays open.";
}
