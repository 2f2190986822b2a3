import { expect, test } from "vitest";
import { outcomeAskFrom, outcomeQuery, withShots } from "./outcome-address.ts";

const QUERY = { of: "playerId=p1;intent=low", outcome: "carry", measure: "both.up.peak", axes: "turf" };

test("an address says the whole question, and back", () => {
  expect(outcomeQuery(outcomeAskFrom(QUERY))).toEqual({ ...QUERY, measures: undefined });
});

test("a result that is not known is the strike place; a single shot has no link to show", () => {
  const ask = outcomeAskFrom({ of: "shot=x", outcome: "toString" });
  expect(ask).toMatchObject({ outcome: "strikeToe", of: undefined });
});

test("other shots begin anew: nothing was looked at in them", () => {
  const ask = outcomeAskFrom({ ...QUERY, measures: "a,b" });
  expect(ask.measures).toEqual(["a", "b", "both.up.peak"]);
  expect(withShots(ask, { kind: "shots", asked: { playerId: "p2" } }).measures).toEqual(["both.up.peak"]);
});
