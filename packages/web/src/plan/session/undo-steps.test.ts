import type { HistoryShape } from "@underfoot/protocol";
import { describe, expect, test } from "vitest";
import { undoSteps } from "./undo-steps.ts";

const entry = (id: string, part: Partial<HistoryShape> = {}): HistoryShape => ({
  id,
  madeMs: 1000,
  by: "somebody",
  deed: `did ${id}`,
  changes: [],
  ...part,
});
const HERE = { sessionId: "s1", playerId: "p1" };

describe("what can be undone", () => {
  test("is the latest change of this session, its player, a club or a layout that still stands", () => {
    const entries = [
      entry("5", { sessionId: "s1", undoneById: "9" }),
      entry("4", { playerId: "p1" }),
      entry("3", { sessionId: "s1" }),
    ];
    expect(undoSteps(entries, HERE, 0).undo?.id).toBe("4");
    expect(undoSteps([entry("6", { changes: [{ table: "clubs" }] }), ...entries], HERE, 0).undo?.id).toBe("6");
  });

  test("is nothing of another session, another player, a shot, or of the time before", () => {
    const entries = [
      entry("6", { sessionId: "s2", playerId: "p1" }),
      entry("5", { playerId: "p2" }),
      entry("4", { sessionId: "s1", shotId: "k1" }),
      entry("3", { changes: [{ table: "settings" }] }),
      entry("2", { sessionId: "s1", madeMs: 10 }),
    ];
    expect(undoSteps(entries, HERE, 500)).toEqual({ undo: undefined, bringBack: undefined });
  });

  test("is no check that was made, but going on past one can be taken back", () => {
    const made = entry("2", { sessionId: "s1", changes: [{ table: "plate_checks", before: null, after: {} }] });
    const wentOn = entry("3", { sessionId: "s1", changes: [{ table: "plate_checks", before: {}, after: {} }] });
    expect(undoSteps([made], HERE, 0).undo).toBeUndefined();
    expect(undoSteps([wentOn, made], HERE, 0).undo).toBe(wentOn);
  });

  test("an undoing can be brought back while nothing was done since", () => {
    const undone = entry("1", { sessionId: "s1", undoneById: "2" });
    const undoing = entry("2", { sessionId: "s1", undoesId: "1" });
    expect(undoSteps([undoing, undone], HERE, 0)).toEqual({ undo: undefined, bringBack: undoing });
    expect(undoSteps([entry("3", { sessionId: "s1" }), undoing, undone], HERE, 0).bringBack).toBeUndefined();
  });

  test("what was brought back stands again, before anything older, and can be undone again", () => {
    const older = entry("0", { sessionId: "s1" });
    const done = entry("1", { sessionId: "s1", undoneById: "2" });
    const undone = entry("2", { sessionId: "s1", undoesId: "1", undoneById: "3" });
    const back = entry("3", { sessionId: "s1", undoesId: "2" });
    expect(undoSteps([back, undone, done, older], HERE, 0)).toEqual({ undo: back, bringBack: undefined });
    const again = entry("4", { sessionId: "s1", undoesId: "3" });
    const turned = [again, { ...back, undoneById: "4" }, undone, done, older];
    expect(undoSteps(turned, HERE, 0)).toEqual({ undo: older, bringBack: again });
  });
});
