import { dayText } from "@underfoot/domain";
import type { SessionTrend } from "@underfoot/statistics";
import type { SentenceInput } from "../sentence.ts";
import { differenceText } from "../unit-text.ts";
import { dayNumber } from "../year/day-number.ts";
import type { YearChange } from "../year/year-changes.ts";
import {
  amountInput,
  countInput,
  countText,
  differenceInput,
  estimateText,
  listText,
  pInput,
} from "./estimate-text.ts";
import { titleInside } from "./measure-words.ts";
import type { WordedRule } from "./worded-rule.ts";

/** One measure of one condition over the days of a player. */
export interface SessionsFacts {
  readonly change: SessionTrend["change"];
  readonly countSessions: number;
  readonly changes: readonly YearChange[];
  readonly unit: string;
  readonly title: string;
  /** "her", "his", "the player’s". */
  readonly possessive: string;
}

type Change<Kind extends SessionTrend["change"]["kind"]> = Extract<SessionTrend["change"], { readonly kind: Kind }>;

function changeOf<Kind extends SessionTrend["change"]["kind"]>(
  { change }: Pick<SessionsFacts, "change">,
  kind: Kind,
): Change<Kind> | undefined {
  return change.kind === kind ? (change as Change<Kind>) : undefined;
}

const ALPHA = 0.05;

/** Steps at known changes that leave the scatter and what each session shares. */
function foundSteps(facts: Pick<SessionsFacts, "change">) {
  return (changeOf(facts, "steps")?.steps ?? []).filter((step) => step.exceedsShared && step.low * step.high > 0);
}

/** Whether the sessions of a condition changed by more than their scatter and what each of them shares. */
export function isChangeBeyond(facts: Pick<SessionsFacts, "change">): boolean {
  const trend = changeOf(facts, "trend");
  return (trend !== undefined && trend.p <= ALPHA && trend.exceedsShared) || foundSteps(facts).length > 0;
}

const NOT_KNOWN = { value: Number.NaN, low: Number.NaN, high: Number.NaN };
const riseOrFall = (value: number): "rose" | "fell" => (value > 0 ? "rose" : "fell");

function sessionSlots({ countSessions, title, possessive }: SessionsFacts): Readonly<Record<string, string>> {
  return { J: String(countSessions), measure: titleInside(title), possessive };
}

function slopeInputs(facts: SessionsFacts): readonly SentenceInput[] {
  const { change, unit, countSessions } = facts;
  const slope = change.kind === "trend" || change.kind === "steps" ? change.slope : NOT_KNOWN;
  return [
    differenceInput("change a month", slope, unit),
    ...(change.kind === "trend" ? [pInput("p", change.p)] : []),
    countInput("sessions", countSessions),
  ];
}

/** "The club changed on 16 Sep 2025", "something changed: plates on 7 days, club on 1 day". */
function changedWords(changes: readonly YearChange[]): string {
  const [only] = changes;
  if (only !== undefined && changes.length === 1) return `On ${dayText(only.day)} ${only.what}`;
  const kinds = [...new Set(changes.map(({ kind }) => kind))];
  const counts = kinds.map((kind) => {
    const days = new Set(changes.filter((change) => change.kind === kind).map(({ day }) => day)).size;
    return `${kind} on ${countText(days, "day")}`;
  });
  return `Something changed: ${counts.join(", ")}`;
}

const whatChanged = ({ changes }: SessionsFacts, day: number | undefined): string =>
  listText(changes.filter((change) => dayNumber(change.day) === day).map(({ kind }) => kind)) || "something";

/** What may be said of a condition's change over so many sessions, and no more: the first that may speak. */
export const SESSION_RULES: readonly WordedRule<SessionsFacts>[] = [
  {
    id: "one-session",
    condition: "One session.",
    templates: ["One session. Change needs at least two."],
    maySay: (facts) => changeOf(facts, "nothing") !== undefined,
    filled: () => ({ slots: {}, inputs: [] }),
  },
  {
    id: "two-days",
    condition: "Two sessions.",
    templates: ["{d} between these two days ({interval}); two days are not a trend."],
    maySay: (facts) => changeOf(facts, "two-days") !== undefined,
    filled: (facts) => {
      const difference = changeOf(facts, "two-days")?.difference ?? NOT_KNOWN;
      const { signed, range } = estimateText(difference, facts.unit);
      return {
        slots: { d: signed.replace("+", ""), interval: range },
        inputs: [differenceInput("between the two days", difference, facts.unit)],
      };
    },
  },
  {
    id: "sessions-apart",
    condition: "Three or four sessions.",
    templates: ["{J} sessions, each with its own interval. A trend needs five."],
    maySay: (facts) => changeOf(facts, "points") !== undefined,
    filled: (facts) => ({ slots: sessionSlots(facts), inputs: [countInput("sessions", facts.countSessions)] }),
  },
  {
    id: "trend",
    condition:
      "Five sessions or more without a known change; p of Mann and Kendall at most 0.05, and over the span more than twice what the shots of one session share.",
    templates: ["Over {J} sessions {measure} {rose|fell} by about {slope} a month ({interval})."],
    maySay: (facts) => changeOf(facts, "trend") !== undefined && isChangeBeyond(facts),
    filled: (facts) => {
      const slope = changeOf(facts, "trend")?.slope ?? NOT_KNOWN;
      const { size, along } = estimateText(slope, facts.unit);
      return {
        slots: { ...sessionSlots(facts), slope: size, interval: along, "rose|fell": riseOrFall(slope.value) },
        inputs: slopeInputs(facts),
      };
    },
  },
  {
    id: "trend-within",
    condition: "Five sessions or more without a known change, and not beyond scatter.",
    templates: ["No change beyond {possessive} scatter over {J} sessions ({interval} a month)."],
    maySay: (facts) => changeOf(facts, "trend") !== undefined,
    filled: (facts) => ({
      slots: {
        ...sessionSlots(facts),
        interval: estimateText(changeOf(facts, "trend")?.slope ?? NOT_KNOWN, facts.unit).range,
      },
      inputs: slopeInputs(facts),
    }),
  },
  {
    id: "trend-step",
    condition:
      "Eight sessions or more, three on each side of a change that a person entered; the step’s interval leaves out zero, and the step exceeds twice what the shots of one session share.",
    templates: [
      "{measure} {rose|fell} by {step} when {what} changed ({interval}); beside that {slope} a month ({interval2}).",
      "{measure} {rose|fell} by {step} when {what} changed ({interval}); {others}; beside that {slope} a month ({interval2}).",
    ],
    maySay: (facts) => foundSteps(facts).length > 0,
    filled: (facts) => {
      const { unit } = facts;
      const [first = { ...NOT_KNOWN, day: Number.NaN }, ...rest] = foundSteps(facts);
      const beside = estimateText(changeOf(facts, "steps")?.slope ?? NOT_KNOWN, unit);
      const step = estimateText(first, unit);
      const others = rest.map((other) => {
        const { size, along } = estimateText(other, unit);
        return `${riseOrFall(other.value)} by ${size} when ${whatChanged(facts, other.day)} changed (${along})`;
      });
      return {
        template: rest.length === 0 ? 0 : 1,
        slots: {
          ...sessionSlots(facts),
          "rose|fell": riseOrFall(first.value),
          step: step.size,
          interval: step.along,
          what: whatChanged(facts, first.day),
          others: listText(others),
          slope: beside.signed.replace("+", ""),
          interval2: beside.range,
        },
        inputs: [
          ...foundSteps(facts).map((one) => differenceInput(`step, ${whatChanged(facts, one.day)}`, one, unit)),
          ...slopeInputs(facts),
        ],
      };
    },
  },
  {
    id: "step-within",
    condition: "As trend-step, and no step leaves scatter.",
    templates: [
      "No step beyond {possessive} scatter where something changed, over {J} sessions; beside that {slope} a month ({interval}).",
    ],
    maySay: (facts) => changeOf(facts, "steps") !== undefined,
    filled: (facts) => {
      const { signed, range } = estimateText(changeOf(facts, "steps")?.slope ?? NOT_KNOWN, facts.unit);
      return {
        slots: { ...sessionSlots(facts), slope: signed.replace("+", ""), interval: range },
        inputs: slopeInputs(facts),
      };
    },
  },
  {
    id: "runs-apart",
    condition: "A known change with too few sessions beside it to tell a step from a slope.",
    templates: ["{changed}. What lies between stands apart: {J} sessions cannot tell a step from a trend."],
    maySay: () => true,
    filled: (facts) => ({
      slots: { ...sessionSlots(facts), changed: changedWords(facts.changes) },
      inputs: [countInput("sessions", facts.countSessions)],
    }),
  },
];

/** What a further session would have to show. */
export interface ReachFacts {
  readonly unit: string;
  /** Smallest change that leaves the scatter; NaN where no day has two shots. */
  readonly change: number;
  readonly countShots: number;
  /** Between sessions where at least four without a known change are there, else of their shots alone. */
  readonly isBetweenSessions: boolean;
  readonly hasChanges: boolean;
}

/** The smallest change that would have left the scatter: the first that may speak. */
export const REACH_RULES: readonly WordedRule<ReachFacts>[] = [
  {
    id: "reach-unknown",
    condition: "No day has two shots.",
    templates: ["With one shot a day no scatter is known."],
    maySay: ({ change }) => Number.isNaN(change),
    filled: () => ({ slots: {}, inputs: [] }),
  },
  {
    id: "reach-of-sessions",
    condition: "Four sessions or more without a known change.",
    templates: ["From one session of {n} shots to the next, a change of {change} or more would leave the scatter."],
    maySay: ({ isBetweenSessions }) => isBetweenSessions,
    filled: reachSlots,
  },
  {
    id: "reach-of-shots",
    condition: "Fewer than four sessions, or a known change among them: the shots’ own scatter alone.",
    templates: [
      "Two days of {n} shots must differ by {change} to leave the scatter of shots; how much days differ by themselves needs {why}.",
    ],
    maySay: () => true,
    filled: reachSlots,
  },
];

function reachSlots({ unit, change, countShots, hasChanges }: ReachFacts) {
  return {
    slots: {
      n: String(countShots),
      change: differenceText(change, unit, change).text,
      why: hasChanges ? "days without a known change" : "four sessions",
    },
    inputs: [amountInput("smallest change", change, unit), countInput("shots a day", countShots)],
  };
}
