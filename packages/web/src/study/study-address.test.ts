import { expect, test } from "vitest";
import { curveOf, studyAskFrom, studyQuery, withSides } from "./study-address.ts";

const QUERY = { a: "intent=low", b: "intent=high;lieName=flat", measure: "lead.share.at.impact", axes: "level" };

test("an address says the whole study, and back", () => {
  const ask = studyAskFrom(QUERY);
  expect(ask.b).toEqual({ kind: "shots", asked: { intent: "high", lieName: "flat" } });
  expect(studyQuery(ask)).toEqual({ ...QUERY, measures: undefined, curve: undefined });
});

test("a single shot, everybody's shots and what cannot be read are no condition of a study", () => {
  for (const a of ["shot=x", "", "fast=yes"]) expect(studyAskFrom({ ...QUERY, a }).a).toBeUndefined();
});

test("measures looked at add up; other conditions begin anew", () => {
  const two = { ...studyAskFrom({ ...QUERY, measures: "both.up.peak" }), measure: "both.turn.peak" };
  expect(studyQuery(two)["measures"]).toBe("both.up.peak,lead.share.at.impact,both.turn.peak");
  const [a, b] = [two.b, two.a];
  if (a === undefined || b === undefined) throw new RangeError("two sides");
  expect(studyQuery(withSides(two, a, b))["measures"]).toBeUndefined();
});

test("the curve is the measure's own where nobody chose another", () => {
  const known = ["both.target", "both.up", "lead.share"];
  expect(curveOf({ ...studyAskFrom({}), measure: "both.up.peak" }, known)).toBe("both.up");
  expect(curveOf({ ...studyAskFrom({}), measure: "both.rhythm.ratio" }, known)).toBe("both.target");
  expect(curveOf({ ...studyAskFrom({ curve: "lead.share" }), measure: "both.up.peak" }, known)).toBe("lead.share");
});
