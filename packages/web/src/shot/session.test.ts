import { expect, test } from "vitest";
import { canUndo, EMPTY_SESSION, entryOf, neighbourId, type Source, sessionAfter } from "./session.ts";

const source = (id: string): Source => ({
  id,
  kind: "file",
  file: `${id}.c3d`,
  read: () => Promise.resolve({ bytes: new Uint8Array(0), sidecarText: undefined }),
});
const opened = sessionAfter(EMPTY_SESSION, { kind: "added", sources: [source("a"), source("b")], isOpened: true });
const mark = (event: "top" | "impact", timeS: number) => ({ kind: "marked", mark: { event, timeS, sdMs: 4 } }) as const;

test("the first source added is open, and neighbours end at the ends", () => {
  expect(opened.openId).toBe("a");
  expect(neighbourId(opened, 1)).toBe("b");
  expect(neighbourId(opened, -1)).toBe("a");
});

test("marking an event twice keeps one mark, and undo brings back the one before, then none", () => {
  const twice = sessionAfter(sessionAfter(opened, mark("top", 1)), mark("top", 1.2));
  expect(entryOf(twice, "a").marks).toEqual([{ event: "top", timeS: 1.2, sdMs: 4 }]);
  const once = sessionAfter(twice, { kind: "undone" });
  expect(entryOf(once, "a").marks).toEqual([{ event: "top", timeS: 1, sdMs: 4 }]);
  const none = sessionAfter(once, { kind: "undone" });
  expect(entryOf(none, "a").marks).toEqual([]);
  expect(canUndo(none)).toBe(false);
  expect(sessionAfter(none, { kind: "undone" }).entries).toEqual({ a: [] });
});

test("an entry belongs to the recording that was open, and the session before it is unchanged", () => {
  const marked = sessionAfter(opened, mark("impact", 2));
  expect(entryOf(marked, "b").marks).toEqual([]);
  expect(entryOf(opened, "a").marks).toEqual([]);
});

test("a file dropped again takes its old place and keeps what was entered", () => {
  const marked = sessionAfter(opened, mark("impact", 2));
  const again = sessionAfter(marked, { kind: "added", sources: [source("a")], isOpened: true });
  expect(again.sources.map(({ id }) => id)).toEqual(["a", "b"]);
  expect(entryOf(again, "a").marks).toHaveLength(1);
});
