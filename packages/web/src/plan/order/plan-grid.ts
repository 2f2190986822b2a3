import type { SessionShape } from "@underfoot/protocol";

export type SessionPlanShape = NonNullable<SessionShape["plan"]>;
export type PlanLie = SessionPlanShape["lies"][number];
type PlanCondition = SessionPlanShape["conditions"][number];

/** Before anything was chosen. */
export const NO_PLAN: SessionPlanShape = { order: "blocked", seed: 1, lies: [], conditions: [], asked: [], drawn: [] };

/** Intents down, lies across; a cell is one condition. */
export interface PlanGrid {
  readonly intents: readonly string[];
  readonly lies: readonly string[];
  readonly cells: readonly { readonly intent: string; readonly cells: readonly PlanCell[]; readonly total: number }[];
  readonly lieTotals: readonly number[];
  readonly total: number;
  /** The one club of all conditions; undefined where they differ or none is said. */
  readonly club: string | undefined;
  readonly hasOneClub: boolean;
}

interface PlanCell {
  readonly lieName: string;
  readonly count: number;
  readonly club: string | undefined;
}

const sum = (counts: readonly number[]): number => counts.reduce((total, count) => total + count, 0);
const isAt = (condition: PlanCondition, intent: string, lieName: string): boolean =>
  condition.intent === intent && condition.lieName === lieName;

/** @param offered  intents that have a row although nothing is asked of them yet */
export function planGrid(plan: SessionPlanShape, offered: readonly string[] = []): PlanGrid {
  const intents = [...new Set([...offered, ...plan.conditions.map(({ intent }) => intent)])];
  const lies = [...new Set([...plan.lies.map(({ name }) => name), ...plan.conditions.map(({ lieName }) => lieName)])];
  const cellAt = (intent: string, lieName: string): PlanCell => {
    const here = plan.conditions.filter((condition) => isAt(condition, intent, lieName));
    return { lieName, count: sum(here.map(({ count }) => count)), club: here[0]?.club };
  };
  const cells = intents.map((intent) => {
    const row = lies.map((lieName) => cellAt(intent, lieName));
    return { intent, cells: row, total: sum(row.map(({ count }) => count)) };
  });
  const clubs = new Set(plan.conditions.map(({ club }) => club));
  return {
    intents,
    lies,
    cells,
    lieTotals: lies.map((_, column) => sum(cells.map((row) => row.cells[column]?.count ?? 0))),
    total: sum(cells.map(({ total }) => total)),
    club: clubs.size === 1 ? [...clubs][0] : undefined,
    hasOneClub: clubs.size <= 1,
  };
}

/** How often a condition is asked for; 0 takes it out. Its club stays, a new one takes `club`. */
export function withCount(
  plan: SessionPlanShape,
  { intent, lieName, count, club }: { intent: string; lieName: string; count: number; club: string | undefined },
): SessionPlanShape {
  const others = plan.conditions.filter((condition) => !isAt(condition, intent, lieName));
  if (count < 1) return { ...plan, conditions: others };
  const at = plan.conditions.findIndex((condition) => isAt(condition, intent, lieName));
  const before = plan.conditions[at];
  const said = before === undefined ? club : before.club;
  const condition = { intent, lieName, count, ...(said === undefined ? {} : { club: said }) };
  const conditions = at < 0 ? [...others, condition] : others.toSpliced(at, 0, condition);
  return { ...plan, conditions };
}

/** Every condition as often; those that are asked for already. */
export function withCountOfEach(plan: SessionPlanShape, count: number): SessionPlanShape {
  return { ...plan, conditions: plan.conditions.map((condition) => ({ ...condition, count })) };
}

/** The club of one condition, or of all where none is named; "" takes it away. */
export function withClub(
  plan: SessionPlanShape,
  club: string,
  at?: { readonly intent: string; readonly lieName: string },
): SessionPlanShape {
  const conditions = plan.conditions.map((condition) => {
    if (at !== undefined && !isAt(condition, at.intent, at.lieName)) return condition;
    const { club: _, ...rest } = condition;
    return club === "" ? rest : { ...rest, club };
  });
  return { ...plan, conditions };
}

/** An intent and what was asked of it, taken out. */
export function withoutIntent(plan: SessionPlanShape, intent: string): SessionPlanShape {
  return {
    ...plan,
    conditions: plan.conditions.filter((condition) => condition.intent !== intent),
    asked: plan.asked.filter((asked) => asked.intent !== intent),
  };
}

/** A lie changed; where its name changes, so does it in every condition. */
export function withLie(plan: SessionPlanShape, at: number, lie: PlanLie): SessionPlanShape {
  const before = plan.lies[at];
  const lies = before === undefined ? [...plan.lies, lie] : plan.lies.with(at, lie);
  const conditions = plan.conditions.map((condition) =>
    before !== undefined && condition.lieName === before.name ? { ...condition, lieName: lie.name } : condition,
  );
  return { ...plan, lies, conditions };
}

/** A lie and the conditions on it, taken out. */
export function withoutLie(plan: SessionPlanShape, at: number): SessionPlanShape {
  const gone = plan.lies[at]?.name;
  return {
    ...plan,
    lies: plan.lies.toSpliced(at, 1),
    conditions: plan.conditions.filter(({ lieName }) => lieName !== gone),
  };
}

/** What is asked of a measure must leave something: a sentence where it does not, undefined where it does. */
export function rangeFault(least: number | undefined, most: number | undefined): string | undefined {
  if (least === undefined && most === undefined) return "Say at least or at most, or both.";
  return least !== undefined && most !== undefined && least > most
    ? "At least lies above at most, so nothing could be as asked: change one of them."
    : undefined;
}
