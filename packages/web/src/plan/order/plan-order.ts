import { UnderfootError } from "@underfoot/domain";
import { type DrawnPlan, drawnPlan, type PlannedShot } from "@underfoot/pipeline";
import type { SessionPlanShape } from "./plan-grid.ts";

/** The order of a plan, or the sentence why there is none. */
export type OrderOfPlan =
  | { readonly kind: "drawn"; readonly drawn: DrawnPlan }
  | { readonly kind: "none"; readonly sentence: string };

export function orderOf({ conditions, order, seed }: SessionPlanShape): OrderOfPlan {
  try {
    return { kind: "drawn", drawn: drawnPlan({ conditions: conditions.map(withoutUndefined), order, seed }) };
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return { kind: "none", sentence: `${fault.message} ${fault.remedy}` };
  }
}

/** What is undefined was not said. */
function withoutUndefined<T extends { readonly club?: string | undefined }>({ club, ...rest }: T) {
  return club === undefined ? rest : { ...rest, club };
}

/** The plan with its order drawn anew from its seed; empty where none can be drawn. */
export function redrawn(plan: SessionPlanShape): SessionPlanShape {
  const order = orderOf(plan);
  return { ...plan, drawn: order.kind === "drawn" ? order.drawn.shots.map(plainShot) : [] };
}

const plainShot = ({ intent, lieName, club }: PlannedShot) => ({
  intent,
  lieName,
  ...(club === undefined ? {} : { club }),
});

/** "low on flat with 58". */
function shotWords({
  intent,
  lieName,
  club,
}: Pick<PlannedShot, "intent" | "lieName"> & { club?: string | undefined }): string {
  return `${intent} on ${lieName}${club === undefined ? "" : ` with ${club}`}`;
}

/** What comes next, in one sentence. */
export function nextSentence({ drawn, lies, conditions }: SessionPlanShape, countShots: number): string {
  if (lies.length === 0) return "Next: write down the lie that is hit from.";
  if (conditions.length === 0) return "Next: say which shots are to be hit, and how many of each.";
  const next = drawn[countShots];
  if (next !== undefined) return `Next: shot ${countShots + 1} of ${drawn.length}, ${shotWords(next)}.`;
  if (drawn.length === 0) return "Next: mend the plan, no order can be drawn from it.";
  return `All ${drawn.length} planned shots are stored.`;
}
