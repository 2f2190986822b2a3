import fc from "fast-check";
import { expect, test } from "vitest";
import { placeFromHash, placeHref, SCREENS } from "./place.ts";

test("an address names its place and back", () => {
  expect(placeFromHash("")).toEqual({ screen: "shot", id: undefined, query: {} });
  expect(placeFromHash("#/shots?intent=low")).toEqual({ screen: "shots", id: undefined, query: { intent: "low" } });
  fc.assert(
    fc.property(
      fc.constantFrom(...SCREENS),
      fc.option(fc.string({ minLength: 1, unit: "grapheme" }), { nil: undefined }),
      fc.dictionary(fc.string({ minLength: 1 }), fc.string({ minLength: 1 }), { noNullPrototype: true }),
      (screen, id, query) => {
        const place = placeFromHash(placeHref(screen, id, query));
        expect(place).toEqual({ screen, id, query });
      },
    ),
  );
});
