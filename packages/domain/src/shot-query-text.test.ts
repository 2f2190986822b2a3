import { expect, test } from "vitest";
import { type ShotsAsked, shotsAsked, shotsAskedText } from "./shot-query-text.ts";

test.each<[string, ShotsAsked]>([
  ["intent=low;lieName=flat", { intent: "low", lieName: "flat" }],
  ["shot=01a;shot=01b", { shotIds: ["01a", "01b"] }],
  [
    "playerId=p1;sessionId=s1;club=wedge 50;contact=thin",
    { playerId: "p1", sessionId: "s1", club: "wedge 50", contact: "thin" },
  ],
  [
    "fromDay=2026-03-01;toDay=2026-03-31;pitchDeg=-4,5.5",
    { fromDay: "2026-03-01", toDay: "2026-03-31", pitchDeg: [-4, 5.5] },
  ],
  ["", {}],
])("%s is read and written", (text, asked) => {
  expect(shotsAsked(text)).toEqual(asked);
  expect(shotsAskedText(asked)).toBe(text);
});

test.each(["a;b=c%3B 100%25", "%3B", "up 4%", "=;="])("the word %s comes back", (word) => {
  expect(shotsAsked(shotsAskedText({ intent: word, lieName: word }))).toEqual({ intent: word, lieName: word });
});

test("spaces and empty parts do not count, a percent sign may stand alone, a shot said twice is one", () => {
  expect(shotsAsked(" intent = low ; ; lieName=up 4% ;shot=x;shot=x")).toEqual({
    ...{ intent: "low", lieName: "up 4%" },
    shotIds: ["x"],
  });
});

test.each([
  ["low", "has no ="],
  ["colour=red", 'there is no fact "colour"'],
  ["intent=", "intent is empty"],
  ["intent=low;intent=high", "intent is said twice"],
  ["pitchDeg=4", "must be two numbers"],
  ["pitchDeg=5,1", "must be two numbers"],
  ["rollDeg=,1", "must be two numbers"],
])("%s is refused in one sentence", (text, why) => {
  expect(() => shotsAsked(text)).toThrow(why);
});
