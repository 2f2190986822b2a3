import { type ShotsAsked, shotsAsked, UnderfootError } from "@underfoot/domain";
import type { Library } from "@underfoot/library";
import { type Call, choice, wholeNumber } from "./command.ts";
import { playerByCode } from "./player-by-code.ts";
import { UsageFault } from "./usage-fault.ts";

/** What `--help` says of a query. */
export const QUERY_HELP = `A QUERY says which shots are meant: facts with = between ; all of which must hold, or shots by their ids:
  intent=low;lieName=flat     club=wedge 56;fromDay=2026-03-01     pitchDeg=2,6     shot=ID;shot=ID
Facts: shot, playerId, sessionId, intent, lieName, club, contact, fromDay, toDay, pitchDeg, rollDeg. Quote it: ; and spaces
mean something to the shell. "underfoot list" shows ids and words.`;

/** A query that has to be given. @throws UsageFault */
export function queryOf(call: Call, option: string): ShotsAsked {
  const text = call.values[option];
  if (text === undefined)
    throw new UsageFault(`--${option} QUERY is missing. See "--help" for how shots are asked for.`);
  try {
    return shotsAsked(text);
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    throw new UsageFault(`--${option}: ${fault.message} ${fault.remedy}`, { cause: fault });
  }
}

/** The player and session named for all queries; what a query says itself wins. */
export async function narrowed(library: Library, call: Call, asked: ShotsAsked): Promise<ShotsAsked> {
  const { player, session } = call.values;
  if (asked.shotIds !== undefined) return asked;
  return {
    ...(player === undefined ? {} : { playerId: (await playerByCode(library, player)).id }),
    ...(session === undefined ? {} : { sessionId: (await library.sessions.byId(session)).id }),
    ...asked,
  };
}

/** Words between commas; undefined where the option is not given. */
export function listOf(call: Call, option: string): readonly string[] | undefined {
  const text = call.values[option];
  if (text === undefined) return undefined;
  const words = text.split(",").map((word) => word.trim());
  if (words.includes("")) throw new UsageFault(`--${option} is "${text}"; write names with commas between them.`);
  return words;
}

const MOST_SEED = Number.MAX_SAFE_INTEGER;

/** The seed that was given; undefined leaves it to the library. */
function seedOf(call: Call): number | undefined {
  if (call.values["seed"] === undefined) return undefined;
  return wholeNumber(call, "seed", { least: 0, most: MOST_SEED, fallback: 1 });
}

/** MEASURE=VALUE, as often as it is given. */
export function marginsOf(call: Call): Readonly<Record<string, number>> {
  const margins = (call.lists["margin"] ?? []).map((text) => {
    const at = text.lastIndexOf("=");
    const value = at < 1 || text.slice(at + 1).trim() === "" ? Number.NaN : Number(text.slice(at + 1));
    if (!(Number.isFinite(value) && value > 0))
      throw new UsageFault(
        `--margin is "${text}"; write a measure, = and a number above 0, as lead.share.at.impact=5.`,
      );
    return [text.slice(0, at).trim(), value] as const;
  });
  return Object.fromEntries(margins);
}

/** What comparisons and studies take alike. */
export function viewOf(call: Call) {
  const axes = choice(call, "axes", ["turf", "level"], "turf");
  const registration = choice(call, "registration", ["impact", "events"], "impact");
  return {
    ...{ axes, registration, curves: call.lists["curve"], seed: seedOf(call) },
    times: wholeNumber(call, "times", { least: 1, most: 1000, fallback: 1 }),
  };
}
