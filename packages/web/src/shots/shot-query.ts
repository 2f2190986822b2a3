import type { Ask } from "@underfoot/protocol";

/** What shots are asked for by, as the server takes it. */
export type ShotQuery = NonNullable<Ask<"get /api/shots">["query"]>;

/** Facts that shots are found by: the words of the address and of the server alike. */
export const FACT_NAMES = [
  "playerId",
  "sessionId",
  "intent",
  "lieName",
  "club",
  "label",
  "contact",
  "findingCode",
  "leastSeverity",
  "fromDay",
  "toDay",
  "carryM",
  "startLineDeg",
  "fileName",
] as const satisfies readonly (keyof ShotQuery)[];
export type FactName = (typeof FACT_NAMES)[number];
export type Facts = Readonly<Partial<Record<FactName, string>>>;

/** The facts that an address names; what it says besides is left out. */
export function factsFromQuery(query: Readonly<Record<string, string>>): Facts {
  return Object.fromEntries(
    FACT_NAMES.flatMap((name) => {
      const text = query[name]?.trim();
      return text === undefined || text === "" ? [] : [[name, text]];
    }),
  );
}

/** The same as one text, for the address of a shot that was opened from the list. */
export const factsText = (facts: Facts): string => new URLSearchParams({ ...facts }).toString();

export const factsFromText = (text: string): Facts => factsFromQuery(Object.fromEntries(new URLSearchParams(text)));

/** The question to the server. Shots of one session come as they were hit, all others with the newest first. */
export function queryFromFacts(facts: Facts): ShotQuery {
  // What is not allowed, a label that does not exist, is refused by the server with a sentence.
  return { ...facts, order: facts.sessionId === undefined ? "newest" : "session" } as ShotQuery;
}
