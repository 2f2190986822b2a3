import type { PlayerShape, PointShape } from "@underfoot/protocol";
import { expect, test } from "vitest";
import { firstStudySides, studyPlayers, whoText } from "./study-shots.ts";

/** Invented players; `id` and `code` are the same letter. */
const player = (code: string, consent: PlayerShape["consent"]) => ({ id: code, code, consent }) as PlayerShape;
const shots = (of: string, intent: string, count: number, label: PointShape["label"] = "kept") =>
  Array.from({ length: count }, (_, k) => ({
    ...{ shotId: `${of}${intent}${k}`, sessionId: `session ${of}`, day: "2026-01-01", ordinal: k, label, intent },
    ...{ lieName: "flat", value: 1, sigma: 1 },
  })) as PointShape[];

const PLAYERS = [player("D", "study"), player("E", "study"), player("F", "report"), player("G", "study")];
const SESSIONS = ["D", "E", "F", "G"].map((code) => ({ id: `session ${code}`, playerId: code }));
const POINTS = [
  ...shots("F", "low", 40),
  ...shots("F", "high", 40),
  ...shots("G", "stock", 90),
  ...shots("D", "low", 4),
  ...shots("D", "high", 5),
  ...shots("E", "low", 3),
  ...shots("E", "high", 2),
  ...shots("E", "steep", 9, "mishit"),
];

test("only those who agreed to studies are counted, and the others are a number", () => {
  const found = studyPlayers(PLAYERS, SESSIONS, POINTS);
  expect(found.agreed.map(({ code }) => code)).toEqual(["D", "E", "G"]);
  expect(new Set(found.shots.map(({ playerId }) => playerId))).toEqual(new Set(["D", "E", "G"]));
  expect(found.countWithoutConsent).toBe(1);
});

test("to begin with: the two conditions that most players have kept shots of, however many one player hit of others", () => {
  const found = studyPlayers(PLAYERS, SESSIONS, POINTS);
  expect(firstStudySides(found.shots)).toEqual([
    { intent: "low", lieName: "flat" },
    { intent: "high", lieName: "flat" },
  ]);
  expect(firstStudySides(found.shots.filter(({ playerId }) => playerId === "G"))).toBeUndefined();
});

test("who is in by code, who is out by count and reason", () => {
  expect(whoText({ codes: ["D", "E"], countAgreed: 3, countWithoutConsent: 1 })).toBe(
    "In: D and E (2 players). Left out: 1 whose consent is not to studies, 1 without a kept shot of either condition.",
  );
  expect(whoText({ codes: ["D"], countAgreed: 1, countWithoutConsent: 0 })).toBe(
    "In: D (1 player). Nobody is left out.",
  );
});
