import fc from "fast-check";
import { expect, test } from "vitest";
import { SIDE_FACTS, type SideQuery, sideFromText, sideText } from "./side-query.ts";

test("a side reads as a person would write it", () => {
  expect(sideFromText("intent=low;lieName=ball above;playerId=p1")).toEqual({
    kind: "shots",
    asked: { playerId: "p1", intent: "low", lieName: "ball above" },
  });
  expect(sideFromText("shot=s9")).toEqual({ kind: "shot", shotId: "s9" });
  expect(sideFromText("shot=s9;shot=s8")).toEqual({ kind: "shots", asked: { shotIds: ["s9", "s8"] } });
  expect(sideFromText("usual=s9")).toEqual({ kind: "usual", shotId: "s9" });
  expect(sideText({ kind: "shots", asked: { playerId: "p1", club: "wedge 56", intent: "low" } })).toBe(
    "playerId=p1;intent=low;club=wedge 56",
  );
});

test("what is no side is not guessed at", () => {
  for (const text of ["", "intent", "intent=", "mood=good", "usual=a;shot=b", "usual=a;intent=low", "club=a;club=b"])
    expect(sideFromText(text), text).toBeUndefined();
});

test("every side comes back from its address", () => {
  const word = fc.string({ minLength: 1, unit: "grapheme" }).filter((text) => text.trim() === text);
  const shots = fc.record({
    kind: fc.constant("shots" as const),
    asked: fc
      .dictionary(fc.constantFrom("playerId", ...SIDE_FACTS), word, { noNullPrototype: true })
      .filter((facts) => Object.keys(facts).length > 0),
  });
  const single = fc.record({ kind: fc.constantFrom("shot" as const, "usual" as const), shotId: word });
  fc.assert(
    fc.property(fc.oneof(shots, single), (side) => {
      expect(sideFromText(sideText(side as SideQuery))).toEqual(side);
    }),
  );
});
