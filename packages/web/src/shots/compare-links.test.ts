import { expect, test } from "vitest";
import { placeFromHash } from "../frame/place.ts";
import { factsCompareHref, shotsCompareHref } from "./compare-links.ts";

const query = (href: string | undefined) => placeFromHash(href ?? "").query;
const shot = (id: string, day: string, ordinal: number) => ({ id, day, ordinal });

test("two chosen shots are compared, the one hit first as A", () => {
  const chosen = [shot("x", "2026-03-17", 4), shot("y", "2026-03-17", 2)];
  expect(query(shotsCompareHref(chosen))).toEqual({ a: "shot=y", b: "shot=x" });
  expect(query(shotsCompareHref([shot("z", "2026-03-18", 1), ...chosen.slice(0, 1)]))).toEqual({
    a: "shot=x",
    b: "shot=z",
  });
  expect(shotsCompareHref(chosen.slice(0, 1))).toBeUndefined();
  expect(shotsCompareHref([...chosen, shot("z", "2026-03-18", 1)])).toBeUndefined();
});

test("found shots of one player become side A; what a comparison cannot ask by is left out", () => {
  expect(query(factsCompareHref({ playerId: "p1", intent: "low", label: "kept" }))).toEqual({
    a: "playerId=p1;intent=low",
  });
  expect(factsCompareHref({ intent: "low" })).toBeUndefined();
});
