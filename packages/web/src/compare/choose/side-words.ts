import { dayText } from "@underfoot/report";
import type { SideFacts } from "./shot-counts.ts";
import { SIDE_FACTS, type SideFact } from "./side-query.ts";

/** Words of the facts in which two sides differ, and of those they share. */
export interface SideWords {
  readonly a: string;
  readonly b: string;
  /** Empty where they share nothing. */
  readonly both: string;
}

type DayOfSession = (sessionId: string) => string | undefined;

function words(facts: SideFacts, of: readonly SideFact[], dayOf: DayOfSession): string {
  const said = of.flatMap((fact) => {
    const word = facts[fact];
    if (word === undefined) return [];
    const day = fact === "sessionId" ? dayOf(word) : undefined;
    return [day === undefined ? word : dayText(day)];
  });
  return said.join(", ");
}

/** Names of two sides by what tells them apart. A side that is not narrowed where the other is, is "any". */
export function sideWords(a: SideFacts, b: SideFacts, dayOf: DayOfSession): SideWords {
  const differing = SIDE_FACTS.filter((fact) => a[fact] !== b[fact]);
  const shared = SIDE_FACTS.filter((fact) => a[fact] === b[fact]);
  const own = (facts: SideFacts): string => words(facts, differing, dayOf);
  return { a: own(a) || "all shots", b: own(b) || "all shots", both: words(a, shared, dayOf) };
}

/** "25 Nov 2025", "15 Apr 2025 to 10 Mar 2026, 8 days"; empty without a day. */
export function daysText(days: readonly string[]): string {
  const [first, last] = [days[0], days.at(-1)];
  if (first === undefined || last === undefined) return "";
  if (first === last) return dayText(first);
  return `${dayText(first)} to ${dayText(last)}, ${days.length} days`;
}
