import { expect, test } from "vitest";
import { lookedAtFrom, lookedAtQuery } from "./looked-at.ts";

test("what was looked at stays looked at, once each", () => {
  const first = lookedAtFrom({}, "a");
  expect(first).toEqual({ measure: "a", measures: ["a"] });
  expect(lookedAtQuery(first)).toEqual({ measure: "a", measures: undefined });
  const second = lookedAtQuery({ ...first, measure: "b" });
  expect(second).toEqual({ measure: "b", measures: "a,b" });
  expect(lookedAtFrom({ measure: "a", measures: "a,b,b" }, "c")).toEqual({ measure: "a", measures: ["a", "b"] });
});
