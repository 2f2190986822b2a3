/**
 * How an order is drawn.
 *
 * - `free`: all shots shuffled together, any count for each condition.
 * - `blocked`: every block holds each condition equally often, each block shuffled by itself. The default for one player.
 * - `williams`: rows in which each condition follows each other one equally often (Williams 1949), whole sets, taken in shuffled order by
 *   blocks of one player or by players. Where a shot may carry over to the next.
 * - `split`: a lie is costly to change, so its shots come in visits: all its conditions, shuffled, before the next lie.
 */
export type Plan =
  | { readonly kind: "free"; readonly countEach: readonly number[] }
  | { readonly kind: "blocked"; readonly countBlocks: number; readonly countEachPerBlock: number }
  | { readonly kind: "williams"; readonly countSets: number }
  | {
      readonly kind: "split";
      /** Visits to each lie. */
      readonly countVisits: number;
      readonly countEachPerVisit: number;
      /** The lie, 0, 1, ..., that each condition is hit at. */
      readonly lieOfCondition: readonly number[];
    };

function countsOf(plan: Plan): readonly number[] {
  switch (plan.kind) {
    case "free":
      return plan.countEach;
    case "blocked":
      return [plan.countBlocks, plan.countEachPerBlock];
    case "williams":
      return [plan.countSets];
    case "split":
      return [plan.countVisits, plan.countEachPerVisit];
  }
}

/** The plan itself, or a RangeError where it cannot be carried out with so many conditions. */
export function checkedPlan(plan: Plan, countConditions: number): Plan {
  const isWhole = countsOf(plan).every((count) => Number.isInteger(count) && count >= 1);
  const each = plan.kind === "free" ? plan.countEach : plan.kind === "split" ? plan.lieOfCondition : undefined;
  const isComplete = each === undefined || each.length === countConditions;
  const least = plan.kind === "williams" ? 2 : 1;
  if (!isWhole || !isComplete || countConditions < least)
    throw new RangeError(`plan ${JSON.stringify(plan)} cannot be drawn for ${countConditions} conditions`);
  return plan;
}
