import { expect, test } from "vitest";
import { askFromQuery, kindOfAsk } from "../compare/compare-address.ts";
import { placeFromHash } from "../frame/place.ts";
import { compareHref, shotsHref } from "./cell-links.ts";

const flat = { intent: "low", lie: "flat", shotIds: ["s1"] };
const above = { intent: "low", lie: "ball above feet", shotIds: ["s2", "s3"] };

test("two cells are two conditions on the compare screen, the first one A", () => {
  const href = compareHref(flat, above, { owner: { playerId: "p", sessionId: "day" }, axes: "level" });
  const place = placeFromHash(href);
  const ask = askFromQuery(place.query);
  expect([place.screen, kindOfAsk(ask), ask.axes]).toEqual(["compare", "conditions", "level"]);
  expect(ask.a).toEqual({
    kind: "shots",
    asked: { playerId: "p", sessionId: "day", intent: "low", lieName: "flat" },
  });
  expect(ask.b).toMatchObject({ asked: { lieName: "ball above feet" } });
});

test("shots on a lie that nobody named are asked for one by one", () => {
  const unnamed = { intent: "low", lie: "-4.2 0.1", shotIds: ["s4", "s5"] };
  const { query } = placeFromHash(
    compareHref(flat, unnamed, { owner: { playerId: "p", sessionId: undefined }, axes: undefined }),
  );
  expect(askFromQuery(query).b).toEqual({ kind: "shots", asked: { shotIds: ["s4", "s5"] } });
});

test("the shots of a cell are found by its facts", () => {
  const { screen, query } = placeFromHash(shotsHref(above, { playerId: "p", sessionId: undefined }));
  expect([screen, query]).toEqual(["shots", { playerId: "p", intent: "low", lieName: "ball above feet" }]);
});
