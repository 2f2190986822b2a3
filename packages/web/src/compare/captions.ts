import { columnParts } from "@underfoot/compare";
import type { CompareAsk } from "./compare-address.ts";
import type { AnyComparison } from "./drawn-comparison.ts";

/** The axes of what is shown; while others are on their way, still those. */
export function axesOf(compared: AnyComparison, { axes }: CompareAsk): string {
  const named = compared.measures.flatMap(({ column }) => columnParts(column).axes ?? []);
  return named[0] ?? axes;
}

/** How the pairs are to be read. */
export function pairCaption(compared: AnyComparison, ask: CompareAsk, possessive: string): string {
  const time =
    ask.registration === "events"
      ? "Time falls, laid over each other by events: timing is taken out."
      : "Time falls, from impact.";
  const axes = axesOf(compared, ask);
  switch (compared.kind) {
    case "conditions": {
      const isFew = compared.curves?.status === "too-few";
      const gravity =
        compared.design.isBetweenLies && axes === "turf"
          ? `gravity and ${possessive} scatter allow it`
          : `${possessive} scatter allows it`;
      const band = isFew ? "Too few shots for a band: every shot is a thin line." : `Grey: ${gravity}. Solid: beyond.`;
      const slope = compared.design.isBetweenLies && axes === "level" ? " On level axes there is no slope share." : "";
      return `${time} Each pair: A and B, then B minus A. ${band}${slope}`;
    }
    case "shot-usual":
      return `${time} A is the usual curve, B the shot. Grey: where a whole curve of this condition is expected. Solid: outside.`;
    case "shot-pair":
      return `${time} Each pair: A and B, then B minus A. One shot each: no band.`;
  }
}

/** Shots a side from which scatter is spoken of. */
const LEAST_FOR_SCATTER = 5;

/** What one step of the list is. */
export function stepCaption(compared: AnyComparison, possessive: string): string {
  switch (compared.kind) {
    case "conditions": {
      const [a, b] = [compared.a.shotIds.length, compared.b.shotIds.length];
      const counts = a === b ? `${a} shots` : `${a} and ${b} shots`;
      if (Math.min(a, b) < LEAST_FOR_SCATTER)
        return `Means of ${counts}: too few for ${possessive} scatter, so dots only.`;
      return `One step is ${possessive} minimal detectable change for means of ${counts}.`;
    }
    case "shot-usual":
      return `One step is half of ${possessive} usual band of ${compared.usual.shotIds.length} shots.`;
    case "shot-pair":
      return "One step is what two such shots usually differ by.";
  }
}
