import type { ShotsAsked } from "@underfoot/domain";
import type { PointShape } from "@underfoot/protocol";
import { SIDE_FACTS, type SideFact } from "./side-query.ts";

/** What of a shot a side is chosen by. */
export type CountedShot = Pick<PointShape, "shotId" | "label" | "day" | "ordinal"> &
  Partial<Pick<PointShape, SideFact>>;

/** What a side is chosen by on the page. */
export type SideFacts = Pick<ShotsAsked, SideFact>;

/** A word that can be chosen, with the kept shots it would leave. */
export interface CountedWord {
  readonly word: string;
  readonly countKept: number;
}

const has = (shot: CountedShot, facts: SideFacts, except?: SideFact): boolean =>
  SIDE_FACTS.every((fact) => fact === except || facts[fact] === undefined || shot[fact] === facts[fact]);

/** The shots of a side, mishits and those set aside among them. */
export function shotsOfSide<S extends CountedShot>(shots: readonly S[], facts: SideFacts): readonly S[] {
  return shots.filter((shot) => has(shot, facts));
}

/** What a shot is held against: the shots of its own intent, lie and club in its own session. */
export function conditionOfShot({ sessionId, intent, lieName, club }: CountedShot): SideFacts {
  return {
    ...(sessionId === undefined ? {} : { sessionId }),
    ...(intent === undefined ? {} : { intent }),
    ...(lieName === undefined ? {} : { lieName }),
    ...(club === undefined ? {} : { club }),
  };
}

/** Every word of a fact that occurs, with the kept shots that have it and all the other facts chosen. In order of first use. */
export function countedWords(shots: readonly CountedShot[], facts: SideFacts, fact: SideFact): readonly CountedWord[] {
  const counts = new Map<string, number>();
  for (const shot of shots) {
    const word = shot[fact];
    if (word === undefined) continue;
    const counted = shot.label === "kept" && has(shot, facts, fact) ? 1 : 0;
    counts.set(word, (counts.get(word) ?? 0) + counted);
  }
  return [...counts].map(([word, countKept]) => ({ word, countKept }));
}

/**
 * The two conditions, intent on a lie, with the most kept shots: what to begin with. The later a condition was first hit, the more it is B.
 * @returns undefined where there are not two
 */
export function firstConditions(shots: readonly CountedShot[]): readonly [SideFacts, SideFacts] | undefined {
  const conditions = new Map<string, { facts: SideFacts; countKept: number; place: number }>();
  for (const shot of shots) {
    const { intent, lieName } = shot;
    if (intent === undefined || lieName === undefined) continue;
    const key = JSON.stringify([intent, lieName]);
    const known = conditions.get(key) ?? { facts: { intent, lieName }, countKept: 0, place: conditions.size };
    conditions.set(key, { ...known, countKept: known.countKept + (shot.label === "kept" ? 1 : 0) });
  }
  const [one, other] = [...conditions.values()].sort((x, y) => y.countKept - x.countKept || x.place - y.place);
  if (one === undefined || other === undefined) return undefined;
  return one.place < other.place ? [one.facts, other.facts] : [other.facts, one.facts];
}

/** Days on which the kept shots were hit, earliest first. */
export function daysOf(shots: readonly CountedShot[]): readonly string[] {
  return [...new Set(shots.filter(({ label }) => label === "kept").map(({ day }) => day))].sort();
}
