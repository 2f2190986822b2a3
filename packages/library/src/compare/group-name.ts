import { dayText, type ShotsAsked } from "@underfoot/domain";
import type { ShotSaid } from "./computed-shot.ts";

const rangeText = (what: string, range: readonly [number, number] | undefined): readonly string[] =>
  range === undefined ? [] : [`${what} ${range[0]} to ${range[1]}°`];

/** Shots that were asked for, and those that were found. */
export interface FoundShots {
  readonly asked: ShotsAsked;
  readonly shots: readonly Pick<ShotSaid, "ordinal" | "day">[];
}

const ALL_SHOTS = "all shots";

/** What shots are called beside others: by the facts they were asked for. */
export function groupName({ asked, shots }: FoundShots): string {
  const { shotIds, intent, lieName, club, contact, pitchDeg, rollDeg, fromDay, toDay, sessionId } = asked;
  const [first] = shots;
  if (shotIds?.length === 1 && first) return `shot ${first.ordinal} of ${dayText(first.day)}`;
  const parts = [
    ...(shotIds === undefined ? [] : [`${shotIds.length} chosen shots`]),
    ...[intent, lieName, club, contact].filter((word) => word !== undefined),
    ...rangeText("pitch", pitchDeg),
    ...rangeText("roll", rollDeg),
    ...(sessionId === undefined || first === undefined ? [] : [dayText(first.day)]),
    ...(fromDay === undefined ? [] : [`from ${dayText(fromDay)}`]),
    ...(toDay === undefined ? [] : [`to ${dayText(toDay)}`]),
  ];
  return parts.length === 0 ? ALL_SHOTS : parts.join(", ");
}

/** Days that both sides were asked for by tell nothing apart. */
function withoutSharedDays(own: FoundShots, other: FoundShots): FoundShots {
  const { sessionId, fromDay, toDay, ...asked } = own.asked;
  const isOneDay = other.asked.sessionId !== undefined && own.shots[0]?.day === other.shots[0]?.day;
  return {
    shots: own.shots,
    asked: {
      ...asked,
      ...(sessionId === undefined || isOneDay ? {} : { sessionId }),
      ...(fromDay === undefined || fromDay === other.asked.fromDay ? {} : { fromDay }),
      ...(toDay === undefined || toDay === other.asked.toDay ? {} : { toDay }),
    },
  };
}

/**
 * What two sides are called: the day only where it differs, or where a side has no other name. Two that are asked for by the same words get a
 * letter each.
 */
export function groupNames(a: FoundShots, b: FoundShots): readonly [string, string] {
  const bare = [groupName(withoutSharedDays(a, b)), groupName(withoutSharedDays(b, a))] as const;
  const [ofA, ofB] = bare.includes(ALL_SHOTS) ? [groupName(a), groupName(b)] : bare;
  return ofA === ofB ? [`${ofA}, A`, `${ofB}, B`] : [ofA, ofB];
}
