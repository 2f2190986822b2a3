import { type Finding, random, UnderfootError } from "@underfoot/domain";
import { drawnOrder, type Plan, planReach, planVerdict, williamsRows } from "@underfoot/statistics";

/** What is to be hit: an intent at a lie, with a club where clubs are part of the plan. */
export interface PlannedCondition {
  readonly intent: string;
  readonly lieName: string;
  readonly club?: string;
  /** Shots of it in the session. */
  readonly count: number;
}

/**
 * `blocked`: every block holds each condition once, each block shuffled by itself; with unequal counts all shots are shuffled
 * together. `balanced`: each condition follows each other one equally often (Williams 1949). `split`: a lie's shots
 * come in visits. `as-given`: nothing is drawn.
 */
export type PlanOrder = "blocked" | "balanced" | "split" | "as-given";

export interface PlanAsked {
  readonly conditions: readonly PlannedCondition[];
  readonly order: PlanOrder;
  /** A whole number from 0 on, stored with the session: the same plan and seed give the same order. */
  readonly seed: number;
  /** Visits to each lie in `split`; left out: two where the counts allow it, else three, else one. */
  readonly visits?: number;
  /** Two-sided level that a comparison of two conditions must be able to reach; 0.05 by default. */
  readonly alphaOfOne?: number;
}

export interface PlannedShot {
  /** From 1, in the order they are hit. */
  readonly number: number;
  readonly intent: string;
  readonly lieName: string;
  readonly club?: string;
  /** Place of the condition in what was asked, from 0. */
  readonly condition: number;
  /** Block, row or visit, from 0: a mishit is hit again at the end of it. */
  readonly block: number;
}

export interface DrawnPlan {
  readonly order: PlanOrder;
  readonly seed: number;
  /** How it was drawn; undefined: as given. */
  readonly plan: Plan | undefined;
  readonly shots: readonly PlannedShot[];
  /** Smallest two-sided p that two conditions can show, and two lies in `split` from four visits on; undefined: none. */
  readonly smallestP: number | undefined;
  readonly smallestPOfLies: number | undefined;
  readonly findings: readonly Finding[];
}

const ALPHA_OF_ONE = 0.05;
/** More shots than anybody hits in a day (ours). */
const MOST_SHOTS = 2000;
const MOST_VISITS = 8;

const fault = (code: string, sentence: string, remedy: string): UnderfootError =>
  new UnderfootError({ code, sentence, remedy });
const said = (severity: Finding["severity"], code: string, sentence: string, remedy: string): Finding => ({
  code,
  severity,
  sentence,
  remedy,
});
const plural = (count: number, word: string): string => `${count} ${word}${count === 1 ? "" : "s"}`;
const pText = (p: number): string => (p < 0.001 ? "below 0.001" : p.toFixed(p < 0.01 ? 4 : 3));

/**
 * The shots of a session in the order they are hit, drawn from a stored seed, with what such an order cannot show.
 *
 * @throws UnderfootError `plan-empty`, `plan-count`, `plan-seed`, `plan-twice`, `plan-not-balanced`, `plan-visits`
 */
export function drawnPlan(asked: PlanAsked): DrawnPlan {
  checked(asked);
  const { conditions, order, seed } = asked;
  const shotOf = (condition: number, block: number, at: number): PlannedShot => {
    const { count: _, ...what } = conditions[condition]!;
    return { number: at + 1, ...what, condition, block };
  };
  if (order === "as-given") {
    const all = conditions.flatMap(({ count }, condition) => Array.from({ length: count }, () => condition));
    return {
      order,
      seed,
      plan: undefined,
      shots: all.map((condition, at) => shotOf(condition, condition, at)),
      smallestP: undefined,
      smallestPOfLies: undefined,
      findings: conditions.length > 1 ? [NOT_DRAWN] : [],
    };
  }
  const plan = planOf(asked);
  const drawn = drawnOrder({ plan, conditions, seed }, random);
  const reach = planReach(plan, conditions.length);
  return {
    order,
    seed,
    plan,
    shots: drawn.shots.map(({ conditionIndex, block }, at) => shotOf(conditionIndex, block, at)),
    smallestP: reach.smallestP,
    smallestPOfLies: reach.smallestPOfLies,
    findings: findingsOf(asked, plan),
  };
}

const NOT_DRAWN = said(
  "caution",
  "order-not-drawn",
  "The order is as written, not drawn: what changes in the course of a session cannot be told from what changes with the condition.",
  "Have the order drawn, in blocks or by lies.",
);

function checked({ conditions, seed, alphaOfOne = ALPHA_OF_ONE }: PlanAsked): void {
  if (conditions.length === 0)
    throw fault("plan-empty", "The plan holds no shot.", "Choose at least one intent at one lie.");
  const wrong = conditions.find(({ count }) => !(Number.isInteger(count) && count >= 1 && count <= MOST_SHOTS));
  if (wrong)
    throw fault(
      "plan-count",
      `${wrong.intent} at ${wrong.lieName} is to be hit ${wrong.count} times; a count is a whole number from 1 to ${MOST_SHOTS}.`,
      "Correct the count, or take the condition out of the plan.",
    );
  if (!(Number.isSafeInteger(seed) && seed >= 0))
    throw fault(
      "plan-seed",
      `The seed ${seed} is no whole number from 0 on.`,
      "Give a whole number, or draw a new one.",
    );
  if (!(alphaOfOne > 0 && alphaOfOne < 1))
    throw fault("plan-level", `The level ${alphaOfOne} does not lie between 0 and 1.`, "Give 0.05 for 5 %.");
  const names = conditions.map(({ intent, lieName, club }) => JSON.stringify([intent, lieName, club]));
  const twice = conditions[names.findIndex((name, k) => names.indexOf(name) !== k)];
  if (twice)
    throw fault(
      "plan-twice",
      `${twice.intent} at ${twice.lieName} stands twice in the plan.`,
      "Give its shots in one place, as one count.",
    );
}

/** How the order is drawn. */
function planOf(asked: PlanAsked): Plan {
  const { conditions, order } = asked;
  const counts = conditions.map(({ count }) => count);
  const count = counts[0]!;
  const isEqual = counts.every((one) => one === count);
  if (order === "blocked")
    return isEqual
      ? { kind: "blocked", countBlocks: count, countEachPerBlock: 1 }
      : { kind: "free", countEach: counts };
  if (order === "balanced") return balanced(conditions.length, count, isEqual);
  if (!isEqual)
    throw fault(
      "plan-visits",
      `In visits every condition is hit equally often; here it is ${Math.min(...counts)} to ${Math.max(...counts)} times.`,
      "Make the counts equal, or draw the order in blocks.",
    );
  const lies = [...new Set(conditions.map(({ lieName }) => lieName))];
  const countVisits = asked.visits ?? [2, 3].find((visits) => count % visits === 0) ?? 1;
  if (!(Number.isInteger(countVisits) && countVisits >= 1 && countVisits <= MOST_VISITS && count % countVisits === 0))
    throw fault(
      "plan-visits",
      `${plural(count, "shot")} a condition cannot be spread evenly over ${countVisits} visits to each lie.`,
      `Choose a count that ${countVisits} divides, or another number of visits (1 to ${MOST_VISITS}).`,
    );
  return {
    kind: "split",
    countVisits,
    countEachPerVisit: count / countVisits,
    lieOfCondition: conditions.map(({ lieName }) => lies.indexOf(lieName)),
  };
}

function balanced(countConditions: number, count: number, isEqual: boolean): Plan {
  if (countConditions < 2)
    throw fault(
      "plan-not-balanced",
      "With one condition there is nothing to balance.",
      "Add a condition, or draw the order in blocks.",
    );
  const rows = williamsRows(countConditions).length;
  if (!isEqual || count % rows !== 0) {
    const next = Math.ceil(count / rows) * rows;
    throw fault(
      "plan-not-balanced",
      `${plural(countConditions, "condition")} follow each other equally often only with ${rows}, ${2 * rows}, ... shots of each.`,
      `Plan ${next} shots of each condition, or draw the order in blocks.`,
    );
  }
  return { kind: "williams", countSets: count / rows };
}

function findingsOf({ conditions, order, alphaOfOne = ALPHA_OF_ONE }: PlanAsked, plan: Plan): readonly Finding[] {
  const findings: Finding[] = [];
  const verdict = planVerdict({ plan, countConditions: conditions.length, alphaOfOne });
  if (verdict.reach.findings.includes("lie-once"))
    findings.push(
      said(
        "caution",
        "lie-once",
        "Each lie is visited once: lie and time cannot be told apart.",
        "Visit each lie at least twice.",
      ),
    );
  if (verdict.reach.findings.includes("too-few-for-words"))
    findings.push(
      said(
        "note",
        "too-few-for-words",
        `A condition has only ${plural(verdict.reach.countShotsLeast, "shot")}: below 5 a difference is given without a verdict.`,
        "Plan at least 5 shots of each condition.",
      ),
    );
  if (order === "blocked" && plan.kind === "free")
    findings.push(
      said(
        "note",
        "counts-differ",
        "The counts differ, so all shots are shuffled together instead of in blocks.",
        "Make the counts equal to have blocks.",
      ),
    );
  if (verdict.kind === "refused") findings.push(cannotShow(verdict, conditions.length, alphaOfOne));
  return findings;
}

function cannotShow(
  { reach, nextReach }: Extract<ReturnType<typeof planVerdict>, { kind: "refused" }>,
  countConditions: number,
  alphaOfOne: number,
): Finding {
  const smallest = Math.max(reach.smallestP ?? 0, reach.smallestPOfLies ?? 0);
  const next = Math.max(nextReach.smallestP ?? 0, nextReach.smallestPOfLies ?? 0);
  return said(
    "caution",
    "plan-cannot-show",
    `However large a difference is, these counts cannot show it at ${100 * alphaOfOne} %: the smallest p of two of the ${countConditions} conditions is ${pText(smallest)}.`,
    `Plan ${nextReach.countShotsLeast} shots of each condition: the smallest p is then ${pText(next)}.`,
  );
}
