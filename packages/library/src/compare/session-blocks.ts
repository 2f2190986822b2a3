import type { ComparisonPlan } from "@underfoot/compare";
import { UnderfootError } from "@underfoot/domain";
import { drawnPlan } from "@underfoot/pipeline";
import type { PlannedShot, SessionPlan } from "../records/sessions.ts";

/** A shot of a session in the order hit, whatever its label. */
export interface HitShot {
  readonly shotId: string;
  readonly label: string;
  readonly intent?: string | undefined;
  readonly lieName?: string | undefined;
}

const MOST_VISITS = 8;
const nameOf = ({ intent, lieName }: Pick<HitShot, "intent" | "lieName">): string => JSON.stringify([intent, lieName]);

const isSame = (one: readonly PlannedShot[], other: readonly PlannedShot[]): boolean =>
  one.length === other.length &&
  one.every(
    (shot, k) => nameOf(shot) === nameOf(other[k] ?? { intent: "", lieName: "" }) && shot.club === other[k]?.club,
  );

/** Block of each shot of the plan, drawn again from its seed; undefined where the order was changed by hand since. */
function plannedBlocks({ conditions, order, seed, drawn }: SessionPlan): readonly number[] | undefined {
  const visits = order === "split" ? Array.from({ length: MOST_VISITS }, (_, k) => k + 1) : [undefined];
  for (const count of visits) {
    try {
      const { shots } = drawnPlan({ conditions, order, seed, ...(count === undefined ? {} : { visits: count }) });
      if (isSame(shots, drawn)) return shots.map(({ block }) => block);
    } catch (fault) {
      // So many visits were not possible: then the plan was not drawn with them.
      if (!(fault instanceof UnderfootError)) throw fault;
    }
  }
  return undefined;
}

/** Shuffled all together, since the counts differ. */
function isShuffled({ order, conditions }: SessionPlan): boolean {
  return order === "blocked" && new Set(conditions.map(({ count }) => count)).size > 1;
}

/**
 * Which block of the plan each shot belongs to. Where the shots are those of the plan one by one, by their place; else each takes the first
 * place of its condition that is still open, and a mishit leaves it open, since it is hit again in the same block.
 */
function blocksOfShots(
  shots: readonly HitShot[],
  drawn: readonly PlannedShot[],
  blocks: readonly number[],
): ReadonlyMap<string, number> {
  const isByPlace = shots.length <= drawn.length && shots.every((shot, k) => nameOf(shot) === nameOf(drawn[k] ?? {}));
  if (isByPlace) return new Map(shots.map(({ shotId }, k) => [shotId, blocks[k] ?? 0]));
  const open = new Map<string, number[]>();
  drawn.forEach((shot, k) => void open.set(nameOf(shot), [...(open.get(nameOf(shot)) ?? []), blocks[k] ?? 0]));
  return new Map(
    shots.flatMap((shot) => {
      const places = open.get(nameOf(shot)) ?? [];
      const block = shot.label === "kept" ? places.shift() : places[0];
      return block === undefined ? [] : [[shot.shotId, block] as const];
    }),
  );
}

/** A session and all its shots in the order hit. */
export interface HitSession {
  readonly plan: SessionPlan | undefined;
  readonly shots: readonly HitShot[];
}

/**
 * The plan that the sessions of a comparison were hit by; undefined where one had none, was changed by hand, or they were drawn in different
 * ways: then the shots are compared as they were hit, session by session.
 */
export function planOfSessions(sessions: readonly HitSession[]): ComparisonPlan | undefined {
  const plans = sessions.map(({ plan, shots }) => {
    if (plan === undefined) return undefined;
    if (plan.order === "as-given" || isShuffled(plan))
      return { order: plan.order === "as-given" ? plan.order : ("free" as const), blockOf: new Map<string, number>() };
    const blocks = plannedBlocks(plan);
    return blocks && { order: plan.order, blockOf: blocksOfShots(shots, plan.drawn, blocks) };
  });
  const [first] = plans;
  if (first === undefined || plans.some((plan) => plan?.order !== first.order)) return undefined;
  return { order: first.order, blockOf: new Map(plans.flatMap((plan) => [...(plan?.blockOf ?? [])])) };
}
