import type { ShotsAsked } from "@underfoot/domain";
import type { ShotSaid } from "./computed-shot.ts";

const rangeText = (what: string, range: readonly [number, number] | undefined): readonly string[] =>
  range === undefined ? [] : [`${what} ${range[0]} to ${range[1]}°`];

/** What shots are called beside others: by the facts they were asked for. */
export function groupName(asked: ShotsAsked, shots: readonly Pick<ShotSaid, "ordinal" | "day">[]): string {
  const { shotIds, intent, lieName, club, contact, pitchDeg, rollDeg, fromDay, toDay, sessionId } = asked;
  const [first] = shots;
  if (shotIds?.length === 1 && first) return `shot ${first.ordinal} of ${first.day}`;
  const parts = [
    ...(shotIds === undefined ? [] : [`${shotIds.length} chosen shots`]),
    ...[intent, lieName, club, contact].filter((word) => word !== undefined),
    ...rangeText("pitch", pitchDeg),
    ...rangeText("roll", rollDeg),
    ...(sessionId === undefined || first === undefined ? [] : [first.day]),
    ...(fromDay === undefined ? [] : [`from ${fromDay}`]),
    ...(toDay === undefined ? [] : [`to ${toDay}`]),
  ];
  return parts.length === 0 ? "all shots" : parts.join(", ");
}
