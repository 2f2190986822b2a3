import { type ShotsAsked, shotsAskedText } from "@underfoot/domain";
import { placeHref } from "../frame/place.ts";
import type { Facts } from "./shot-query.ts";

interface ChosenShot {
  readonly id: string;
  readonly day: string;
  readonly ordinal: number;
}

const textOf = ({ id }: ChosenShot): string => shotsAskedText({ shotIds: [id] });

/** Where two chosen shots are compared, the one hit first as A; undefined for any other number. */
export function shotsCompareHref(chosen: readonly ChosenShot[]): string | undefined {
  const [a, b, another] = chosen.toSorted(
    (one, other) => one.day.localeCompare(other.day) || one.ordinal - other.ordinal,
  );
  if (a === undefined || b === undefined || another !== undefined) return undefined;
  return placeHref("compare", undefined, { a: textOf(a), b: textOf(b) });
}

/** Where the shots of these facts are side A; undefined where no player is named, since only one player's shots are compared. */
export function factsCompareHref(facts: Facts): string | undefined {
  const { playerId, sessionId, intent, lieName, club, contact, fromDay, toDay } = facts;
  if (playerId === undefined) return undefined;
  const named = Object.entries({ playerId, sessionId, intent, lieName, club, contact, fromDay, toDay });
  const asked: ShotsAsked = Object.fromEntries(named.filter(([, word]) => word !== undefined));
  return placeHref("compare", undefined, { a: shotsAskedText(asked) });
}
