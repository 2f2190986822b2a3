import type { ShotFacts } from "@underfoot/domain";
import { DEFAULT_SETTINGS } from "@underfoot/mechanics";
import type { HistoryShape, SettingsShape, ShotShape } from "@underfoot/protocol";
import { expect, test } from "vitest";
import {
  factsBefore,
  factsOfResults,
  isUndoable,
  isUndoneNext,
  libraryKeptSettings,
  resultAfter,
  storedFacts,
  storedSource,
  wishedFacts,
} from "./stored-shot.ts";

const SHOT: ShotShape = {
  ...{ id: "s1", recordingSha256: "ab", stretch: { first: 100, end: 900 }, ordinal: 3, day: "2026-03-17" },
  ...{ fileName: "long.c3d", label: "mishit", createdMs: 0, findings: [] },
  facts: {
    ...{ underfoot: "shot", version: 1, handed: "left", target: [1, 0, 0], keep: "kept", note: "Windy." },
    plates: [{ plate: 1, foot: "both" }],
    events: [
      { event: "top", t: 3.1, source: "marked", sd: 6 },
      { event: "impact", t: 3.5, source: "signal" },
    ],
    result: { contact: "thin", good: false },
  },
};
const FACTS = storedFacts(SHOT) as ShotFacts;

test("a stored shot is read by its hash and stretch, its facts as a sidecar writes them", () => {
  expect(storedSource(SHOT)).toMatchObject({
    id: "s1",
    file: "long.c3d",
    sha256: "ab",
    stretch: { first: 100, end: 900 },
  });
  expect(FACTS).toMatchObject({
    handed: "left",
    target: { x: 1, y: 0, z: 0 },
    result: { contact: "thin", isGood: false },
  });
  expect(storedFacts({ ...SHOT, facts: undefined })).toBeUndefined();
});

test("a label, a result or a note changes nothing that the results hang on; a lie does", () => {
  const other: ShotFacts = { ...FACTS, keep: "set-aside", note: "Calm.", result: { carryM: 31 } };
  expect(factsOfResults(other)).toEqual(factsOfResults(FACTS));
  const lie = { pitchDeg: 5, rollDeg: 0, source: "inclinometer", sdDeg: 0.2 } as const;
  expect(factsOfResults({ ...FACTS, lie })).not.toEqual(factsOfResults(FACTS));
});

test("a mark is shown before it is confirmed, unless it cannot stand: the library then says why", () => {
  const mark = { event: "delivery", timeS: 3.4, sdMs: 4 } as const;
  expect(wishedFacts(FACTS, mark)?.events).toContainEqual({ ...mark, source: "marked" });
  expect(wishedFacts(FACTS, { ...mark, timeS: 3.6 })).toBeUndefined();
});

test("before the marks of this visit the events stood as they were when the shot was opened", () => {
  expect(factsBefore(FACTS, FACTS)).toBeUndefined();
  const marked = wishedFacts(FACTS, { event: "top", timeS: 3.2, sdMs: 4 }) as ShotFacts;
  expect(factsBefore({ ...marked, club: "wedge 50" }, FACTS)).toEqual({ ...FACTS, club: "wedge 50" });
  // A mark that was taken back is no mark of this visit.
  expect(factsBefore({ ...FACTS, events: [] }, FACTS)).toBeUndefined();
});

test("a part of a result is said or taken back, the rest stays; nothing left is no result", () => {
  expect(resultAfter({ contact: "thin", isGood: false }, { carryM: 20 })).toEqual({
    ...{ contact: "thin", isGood: false, carryM: 20 },
  });
  expect(resultAfter({ contact: "thin", carryM: 20 }, { contact: undefined })).toEqual({ carryM: 20 });
  expect(resultAfter({ contact: "thin" }, { contact: undefined })).toBeNull();
  expect(resultAfter(undefined, { startLineDeg: 0 })).toEqual({ startLineDeg: 0 });
});

test("what was undone, did nothing or brought the shot in is not undone from the shot; an undoing only from the list", () => {
  const entry: HistoryShape = {
    ...{ id: "h1", madeMs: 0, by: "coach", deed: "changed the note", shotId: "s1" },
    changes: [{ table: "shot_facts", id: "s1", before: {}, after: {} }],
  };
  expect([isUndoable(entry), isUndoneNext(entry)]).toEqual([true, true]);
  expect(isUndoable({ ...entry, undoneById: "h2" })).toBe(false);
  expect(isUndoable({ ...entry, changes: [] })).toBe(false);
  const hidden = { table: "shots", id: "s1", before: { removed_ms: 5 }, after: { removed_ms: null } };
  expect(isUndoable({ ...entry, changes: [hidden] })).toBe(false);
  const added = { table: "players", id: "p1", before: null, after: { code: "Player D" } };
  expect(isUndoable({ ...entry, changes: [added] })).toBe(true);
  const undoing = { ...entry, undoesId: "h0" };
  expect([isUndoable(undoing), isUndoneNext(undoing)]).toEqual([true, false]);
});

test("the library's settings stand over the defaults", () => {
  const answer: SettingsShape = {
    ...{ mechanics: { loadOnN: 40 }, defaults: {}, backupFolder: "", isBackupFolderDefault: true },
  };
  expect(libraryKeptSettings(answer)).toEqual({ ...DEFAULT_SETTINGS, loadOnN: 40 });
});
