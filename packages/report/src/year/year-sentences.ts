import { minimalDetectableChange, type SessionTrend, sessionScatter } from "@underfoot/statistics";
import { differenceText } from "../unit-text.ts";
import { dayNumber, dayText } from "./day-number.ts";
import type { YearPoint } from "./player-year.ts";
import type { YearChange } from "./year-changes.ts";

interface Words {
  readonly unit: string;
  readonly title: string;
  readonly possessive: string;
}

interface RowWords extends Words {
  readonly change: SessionTrend["change"];
  readonly points: readonly YearPoint[];
  readonly changes: readonly YearChange[];
}

const ALPHA = 0.05;

interface Interval {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** Numbers of an interval, rounded to the first digit of half its width. */
function texts({ value, low, high }: Interval, unit: string) {
  const resolution = (high - low) / 2;
  return {
    size: differenceText(Math.abs(value), unit, resolution).text,
    signed: differenceText(value, unit, resolution).text,
    range: `${differenceText(low, unit, resolution).number} to ${differenceText(high, unit, resolution).text}`,
  };
}

const lower = (title: string): string => `${title[0]?.toLowerCase() ?? ""}${title.slice(1)}`;
const direction = (value: number): "rose" | "fell" => (value > 0 ? "rose" : "fell");

/** What may be said of a condition's change over so many sessions, and never more. */
export function rowSentence({ change, points, changes, unit, title, possessive }: RowWords): string {
  const J = points.length;
  switch (change.kind) {
    case "nothing":
      return "One session. Change needs at least two.";
    case "two-days": {
      const { signed, range } = texts(change.difference, unit);
      return `${signed} between these two days (${range}); two days are not a trend.`;
    }
    case "points":
      return `${J} sessions, each with its own interval. A trend needs five.`;
    case "trend": {
      const { size, range } = texts(change.slope, unit);
      if (change.p <= ALPHA && change.exceedsShared)
        return `Over ${J} sessions ${lower(title)} ${direction(change.slope.value)} by about ${size} a month (${range}).`;
      return `No change beyond ${possessive} scatter over ${J} sessions (${range} a month).`;
    }
    case "steps": {
      const found = change.steps.filter((step) => step.exceedsShared && step.low * step.high > 0);
      const slope = texts(change.slope, unit);
      if (found.length === 0)
        return `No step beyond ${possessive} scatter where something changed, over ${J} sessions; beside that ${slope.signed} a month (${slope.range}).`;
      return found
        .map((step) => {
          const { size, range } = texts(step, unit);
          const what = changes.filter(({ day }) => dayNumber(day) === step.day).map(({ kind }) => kind);
          return `${title} ${direction(step.value)} by ${size} when ${what.join(" and ") || "something"} changed (${range}); beside that ${slope.signed} a month (${slope.range}).`;
        })
        .join(" ");
    }
    case "apart":
      return `${changedWords(changes)}. What lies between stands apart: ${J} sessions cannot tell a step from a trend.`;
  }
}

/** "The club changed on 16 Sep 2025", "Plates changed on 7 days, the club on 1". */
function changedWords(changes: readonly YearChange[]): string {
  const [only] = changes;
  if (only !== undefined && changes.length === 1) return `On ${dayText(only.day)} ${only.what}`;
  const kinds = [...new Set(changes.map(({ kind }) => kind))];
  const counts = kinds.map((kind) => {
    const days = new Set(changes.filter((change) => change.kind === kind).map(({ day }) => day)).size;
    return `${kind} on ${days} ${days === 1 ? "day" : "days"}`;
  });
  return `Something changed: ${counts.join(", ")}`;
}

interface ReachWords extends Words {
  readonly points: readonly YearPoint[];
  readonly hasChanges: boolean;
}

/** The smallest change that would have left the scatter: between sessions where four are known, else of their shots alone. */
export function reachSentence({ points, unit, hasChanges }: ReachWords): string {
  const many = points.filter(({ countShots }) => countShots >= 2);
  if (many.length === 0) return "With one shot a day no scatter is known.";
  const sizes = many.map(({ countShots }) => countShots).sort((a, b) => a - b);
  const countShots = sizes[Math.floor(sizes.length / 2)] ?? 2;
  const shots = points.map((point) => point.shots.map(({ value }) => value));
  const between = sessionScatter(shots, { countShots });
  if (between.kind === "session-scatter" && !hasChanges)
    return `From one session of ${countShots} shots to the next, a change of ${differenceText(between.mdcSession, unit, between.mdcSession).text} or more would leave the scatter.`;
  const nu = many.reduce((sum, point) => sum + point.countShots - 1, 0);
  const squares = many.reduce((sum, point) => {
    return sum + point.shots.reduce((part, { value }) => part + (value - point.mean) ** 2, 0);
  }, 0);
  const sd = Math.sqrt(squares / nu);
  const change = minimalDetectableChange({ sd, nu, nFirst: countShots, nSecond: countShots });
  const why = hasChanges ? "days without a known change" : "four sessions";
  return `Two days of ${countShots} shots must differ by ${differenceText(change, unit, change).text} to leave the scatter of shots; how much days differ by themselves needs ${why}.`;
}
