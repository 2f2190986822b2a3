import { expect, test } from "vitest";
import { canUndo, entryOf, filesAfter, NO_FILES } from "./opened-files.ts";
import type { Source } from "./source.ts";

const source = (id: string): Source => ({
  id,
  kind: "file",
  file: `${id}.c3d`,
  read: () => Promise.resolve({ bytes: new Uint8Array(0), sidecarText: undefined }),
});
const opened = filesAfter(NO_FILES, { kind: "added", sources: [source("a"), source("b")] });
const mark = (event: "top" | "impact", timeS: number) =>
  ({ kind: "marked", id: "a", mark: { event, timeS, sdMs: 4 } }) as const;

test("marking an event twice keeps one mark, and undo brings back the one before, then none", () => {
  const twice = filesAfter(filesAfter(opened, mark("top", 1)), mark("top", 1.2));
  expect(entryOf(twice, "a").marks).toEqual([{ event: "top", timeS: 1.2, sdMs: 4 }]);
  const once = filesAfter(twice, { kind: "undone", id: "a" });
  expect(entryOf(once, "a").marks).toEqual([{ event: "top", timeS: 1, sdMs: 4 }]);
  const none = filesAfter(once, { kind: "undone", id: "a" });
  expect(entryOf(none, "a").marks).toEqual([]);
  expect(canUndo(none, "a")).toBe(false);
  expect(filesAfter(none, { kind: "undone", id: "a" }).entries).toEqual({ a: [] });
});

test("an entry belongs to its file, and the files before it are unchanged", () => {
  const marked = filesAfter(opened, mark("impact", 2));
  expect(entryOf(marked, "b").marks).toEqual([]);
  expect(entryOf(opened, "a").marks).toEqual([]);
});

test("a file dropped again takes its old place and keeps what was entered", () => {
  const marked = filesAfter(opened, mark("impact", 2));
  const again = filesAfter(marked, { kind: "added", sources: [source("a")] });
  expect(again.sources.map(({ id }) => id)).toEqual(["a", "b"]);
  expect(entryOf(again, "a").marks).toHaveLength(1);
});
