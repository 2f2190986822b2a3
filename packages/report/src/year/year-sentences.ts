import { minimalDetectableChange, sessionScatter } from "@underfoot/statistics";
import { REACH_RULES, type ReachFacts, SESSION_RULES, type SessionsFacts } from "../comparison/rules-of-sessions.ts";
import { neededSentence } from "../comparison/worded-rule.ts";
import type { Sentence } from "../sentence.ts";
import type { YearPoint } from "./player-year.ts";

/** What may be said of a condition's change over so many sessions. */
export function rowSentence(facts: SessionsFacts): Sentence {
  return neededSentence(SESSION_RULES, facts);
}

interface ReachOptions {
  readonly points: readonly YearPoint[];
  readonly unit: string;
  readonly hasChanges: boolean;
}

/** The smallest change that would have left the scatter: between sessions where four are known, else of their shots alone. */
export function reachSentence(options: ReachOptions): Sentence {
  return neededSentence(REACH_RULES, reachOf(options));
}

function reachOf({ points, unit, hasChanges }: ReachOptions): ReachFacts {
  const many = points.filter(({ countShots }) => countShots >= 2);
  const sizes = many.map(({ countShots }) => countShots).sort((a, b) => a - b);
  const countShots = sizes[Math.floor(sizes.length / 2)] ?? 0;
  const bare = { unit, countShots, hasChanges };
  if (many.length === 0) return { ...bare, change: Number.NaN, isBetweenSessions: false };
  const shots = points.map((point) => point.shots.map(({ value }) => value));
  const between = sessionScatter(shots, { countShots });
  if (between.kind === "session-scatter" && !hasChanges)
    return { ...bare, change: between.mdcSession, isBetweenSessions: true };
  const nu = many.reduce((sum, point) => sum + point.countShots - 1, 0);
  const squares = many.reduce((sum, point) => {
    return sum + point.shots.reduce((part, { value }) => part + (value - point.mean) ** 2, 0);
  }, 0);
  const sd = Math.sqrt(squares / nu);
  const change = minimalDetectableChange({ sd, nu, nFirst: countShots, nSecond: countShots });
  return { ...bare, change, isBetweenSessions: false };
}
