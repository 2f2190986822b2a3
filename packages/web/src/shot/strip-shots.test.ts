import type { ShotLineShape } from "@underfoot/protocol";
import { expect, test } from "vitest";
import type { Source } from "./source.ts";
import { stripFromFiles, stripFromLines } from "./strip-shots.ts";

const line = (part: Partial<ShotLineShape>): ShotLineShape => ({
  ...{ id: "s1", sessionId: "d1", playerCode: "Player A", recordingSha256: "ab", stretch: { first: 0, end: 1 } },
  ...{ ordinal: 3, day: "2026-03-17", fileName: "a.c3d", label: "kept", createdMs: 0 },
  ...part,
});

test("shots of one session are named by number and what was asked for, others by player and day too", () => {
  const low = line({ intent: "low", lieName: "upslope", pitchDeg: 4.9, rollDeg: 0, club: "wedge 58" });
  expect(stripFromLines([low])[0]).toEqual({
    ...{ id: "s1", number: "3", words: "Shot 3, low, upslope 4.9°, wedge 58", mark: "kept" },
  });
  const words = stripFromLines([low, line({ id: "s2", sessionId: "d2", label: "set-aside" })]).map((one) => one.words);
  expect(words).toEqual([
    "Player A, 17 Mar 2026, shot 3, low, upslope 4.9°, wedge 58",
    "Player A, 17 Mar 2026, shot 3, a.c3d, set aside",
  ]);
});

test("a shot in no session has no number, a file that is only looked at a plus", () => {
  expect(stripFromLines([line({ ordinal: 0, label: "mishit" })])[0]).toMatchObject({
    ...{ number: "–", words: "a.c3d, mishit", mark: "mishit" },
  });
  const file = { id: "file b.c3d", kind: "file", file: "b.c3d" } as Source;
  expect(stripFromFiles([file])[0]).toMatchObject({ number: "+1", words: "+1 b.c3d, not stored", mark: "file" });
});
