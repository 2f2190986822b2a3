import { describe, expect, test } from "vitest";
import { askedOf, askedWith, askFromQuery, kindOfAsk, queryFromAsk, swapped } from "./compare-address.ts";

const bare = askFromQuery({ a: "intent=low;lieName=flat", b: "intent=high;lieName=flat" });
const again = (query: Record<string, string | undefined>) =>
  askFromQuery(
    Object.fromEntries(Object.entries(query).filter((pair): pair is [string, string] => pair[1] !== undefined)),
  );

describe("an address of a comparison", () => {
  test("says the sides; all else has a default that is left out", () => {
    expect(bare).toMatchObject({
      axes: "turf",
      registration: "impact",
      view: "stretches",
      measures: "few",
      unread: [],
    });
    expect(queryFromAsk(bare)).toEqual({ a: "intent=low;lieName=flat", b: "intent=high;lieName=flat", axes: "turf" });
    expect(again(queryFromAsk(bare))).toEqual(bare);
  });

  test("other curves are a look of their own, in whatever order; curves that do not exist are left out", () => {
    const other = again(queryFromAsk(askedWith(bare, { curves: ["both.up", "lead.share"] })));
    expect(other).toMatchObject({ curves: ["both.up", "lead.share"] });
    expect(other.looked).toHaveLength(2);
    expect(again(queryFromAsk(askedWith(other, { curves: ["lead.share", "both.up"] }))).looked).toHaveLength(2);
    expect(askFromQuery({ curves: "both.mood,both.up,both.up" }).curves).toEqual(["both.up"]);
  });

  test("names a side that cannot be read", () => {
    expect(askFromQuery({ a: "mood=good", b: "shot=x" })).toMatchObject({ a: undefined, unread: ["a"] });
  });

  test("counts each way of looking once, the axes not, and keeps the count when one comes back to a view", () => {
    const events = again(queryFromAsk(askedWith(bare, { registration: "events" })));
    expect(events.looked).toHaveLength(2);
    const back = again(queryFromAsk(askedWith(events, { registration: "impact" })));
    expect(back.looked).toHaveLength(2);
    expect(again(queryFromAsk(askedWith(back, { axes: "level" }))).looked).toHaveLength(2);
    expect(again(queryFromAsk(swapped(back))).looked).toHaveLength(2);
    expect(
      again(queryFromAsk(askedOf(back, back.a, { kind: "shots", asked: { intent: "stock" } }))).looked,
    ).toHaveLength(1);
  });
});

test("what is compared follows from the sides", () => {
  const shot = { kind: "shot", shotId: "x" } as const;
  const usual = { kind: "usual", shotId: "x" } as const;
  expect(kindOfAsk(bare)).toBe("conditions");
  expect(kindOfAsk({ a: shot, b: { kind: "shot", shotId: "y" } })).toBe("shots");
  expect(kindOfAsk({ a: usual, b: shot })).toBe("shot-usual");
  expect(kindOfAsk(swapped({ ...bare, a: usual, b: shot }))).toBe("shot-usual");
  expect(kindOfAsk({ a: usual, b: { kind: "shot", shotId: "y" } })).toBeUndefined();
  expect(kindOfAsk({ a: bare.a, b: shot })).toBe("shot-usual");
  expect(kindOfAsk({ a: bare.a, b: usual })).toBeUndefined();
  expect(kindOfAsk({ a: usual, b: usual })).toBeUndefined();
  expect(kindOfAsk({ a: shot, b: undefined })).toBeUndefined();
});
