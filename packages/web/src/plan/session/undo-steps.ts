import type { HistoryShape } from "@underfoot/protocol";

/** What this screen changes: its session, the player, and the rows of the tables that no session owns. */
export interface Concerned {
  readonly sessionId: string;
  readonly playerId: string | undefined;
}

/** The tables whose rows belong to no session and are changed here. */
const TABLES = ["clubs", "plate_layouts"];

export interface UndoSteps {
  /** The latest change that still stands. */
  readonly undo: HistoryShape | undefined;
  /** The undoing just made, which can itself be undone. */
  readonly bringBack: HistoryShape | undefined;
}

/** A check that was made is not taken back: it is repeated, and the earlier one stays in sight. */
const isMadeCheck = ({ changes }: HistoryShape): boolean =>
  changes.some((change) => change["table"] === "plate_checks" && change["before"] === null);

function isConcerned(entry: HistoryShape, { sessionId, playerId }: Concerned): boolean {
  if (entry.shotId !== undefined || isMadeCheck(entry)) return false;
  if (entry.sessionId !== undefined) return entry.sessionId === sessionId;
  if (entry.playerId !== undefined) return entry.playerId === playerId;
  return entry.changes.some((change) => TABLES.includes(String(change["table"])));
}

/**
 * How often a change was turned: 0 done, 1 undone, 2 brought back, and so on. What it turned may lie too far back to be
 * among the entries: then it is taken as something that was done.
 */
function turns({ undoesId }: HistoryShape, byId: ReadonlyMap<string, HistoryShape>): number {
  if (undoesId === undefined) return 0;
  const turned = byId.get(undoesId);
  return 1 + (turned === undefined ? 0 : turns(turned, byId));
}

/**
 * What can be undone on this screen, and what can be brought back.
 *
 * @param entries  the history, the latest first; the same entry may come twice
 * @param sinceMs  what was done before is not offered: it was not done on this screen just now
 */
export function undoSteps(entries: readonly HistoryShape[], concerned: Concerned, sinceMs: number): UndoSteps {
  const byId = new Map(entries.map((entry) => [entry.id, entry]));
  const mine = [...byId.values()]
    .filter((entry) => entry.madeMs >= sinceMs && isConcerned(entry, concerned))
    .sort((a, b) => (a.id < b.id ? 1 : -1));
  const [latest] = mine;
  const isDone = (entry: HistoryShape): boolean => turns(entry, byId) % 2 === 0;
  return {
    undo: mine.find((entry) => entry.undoneById === undefined && isDone(entry)),
    bringBack: latest !== undefined && latest.undoneById === undefined && !isDone(latest) ? latest : undefined,
  };
}
