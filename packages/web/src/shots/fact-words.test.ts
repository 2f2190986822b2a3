import fc from "fast-check";
import { expect, test } from "vitest";
import { factsWithout, factWords, foundSentence, type KnownNames, rangeFromText, rangeText } from "./fact-words.ts";
import { FACT_NAMES, factsFromQuery, factsFromText, factsText, queryFromFacts } from "./shot-query.ts";

const known: KnownNames = {
  player: (id) => (id === "p1" ? "Player A" : undefined),
  sessionDay: (id) => (id === "s1" ? "2026-03-17" : undefined),
};

test.each([
  [{ total: 1284, setAside: 37, players: 6, facts: [] }, "1,284 shots, 6 players; 37 set aside."],
  [{ total: 1, setAside: 0, players: 1, facts: [] }, "1 shot, 1 player; none set aside."],
  [
    { total: 12, setAside: 1, players: 6, facts: ["Player A", "low", "upslope"] },
    "12 shots: Player A, low, upslope; 1 set aside.",
  ],
  [{ total: 3, setAside: undefined, players: 6, facts: ["mishit"] }, "3 shots: mishit."],
  [{ total: 0, setAside: 0, players: 6, facts: ["low", "flat"] }, "No shot is all of this: low, flat."],
  [{ total: 0, setAside: 0, players: 0, facts: [] }, "No shots yet"],
])("%j is said as %s", (found, sentence) => expect(foundSentence(found)).toBe(sentence));

test.each([
  ["playerId", "p1", "Player A"],
  ["playerId", "p9", "a player who is not here"],
  ["sessionId", "s1", "session of 17 Mar 2026"],
  ["label", "set-aside", "set aside"],
  ["findingCode", "friction-high", "friction high"],
  ["leastSeverity", "caution", "caution or worse"],
  ["leastSeverity", "stop", "not computed"],
  ["fromDay", "2026-03-09", "from 9 Mar 2026"],
  ["toDay", "March", "until March"],
  ["carryM", "20,400", "carry at least 20.0 m"],
  ["carryM", "20,30.5", "carry 20.0 m to 30.5 m"],
  ["startLineDeg", "-90,-2", "start line at most −2.0°"],
  ["fileName", "demo", "file named with “demo”"],
] as const)("%s %s reads %s", (name, text, words) => expect(factWords(name, text, known)).toBe(words));

test("a range goes to the address and back; an end that nobody gave stays open", () => {
  const end = fc.option(fc.integer({ min: 1, max: 80 }), { nil: undefined });
  fc.assert(
    fc.property(end, end, (from, to) => {
      expect(rangeFromText("carryM", rangeText("carryM", [from, to]))).toEqual([from, to]);
    }),
  );
  expect(rangeText("startLineDeg", [undefined, undefined])).toBeUndefined();
  expect(rangeFromText("carryM", "wrong")).toEqual([undefined, undefined]);
});

test("the facts of an address are those it names and no others, and go through a text and back", () => {
  expect(factsFromQuery({ intent: "low", file: "x", club: " ", from: "y" })).toEqual({ intent: "low" });
  fc.assert(
    fc.property(
      fc.dictionary(fc.constantFrom(...FACT_NAMES), fc.stringMatching(/^[^\s].{0,8}[^\s]$/), { noNullPrototype: true }),
      (facts) => {
        expect(factsFromText(factsText(facts))).toEqual(facts);
      },
    ),
  );
  expect(factsWithout({ intent: "low", club: "wedge" }, "club")).toEqual({ intent: "low" });
});

test("shots of one session come as they were hit, all others the newest first", () => {
  expect(queryFromFacts({ sessionId: "s1" }).order).toBe("session");
  expect(queryFromFacts({ intent: "low" })).toEqual({ intent: "low", order: "newest" });
});
