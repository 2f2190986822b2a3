import { CallFault, call } from "../api/call.ts";

/** How taking shots back out went. */
export interface TakenBack {
  readonly total: number;
  readonly taken: number;
  /** Why some stay, each sentence once. */
  readonly stay: readonly string[];
}

/**
 * Undoes the bringing in of shots through the history, the latest first. A shot that somebody changed since stays.
 *
 * @param tell  told after every shot
 */
export async function takeBack(shotIds: readonly string[], tell: (so: TakenBack) => void): Promise<TakenBack> {
  let so: TakenBack = { total: shotIds.length, taken: 0, stay: [] };
  for (const id of shotIds.toReversed()) {
    const why = await takenBack(id);
    so = why === undefined ? { ...so, taken: so.taken + 1 } : { ...so, stay: [...new Set([...so.stay, why])] };
    tell(so);
  }
  return so;
}

/** @returns why the shot stays; undefined where it is out */
async function takenBack(shotId: string): Promise<string | undefined> {
  try {
    const entries = await call("get /api/history", { query: { shotId, limit: 20 } });
    const standing = entries.filter(({ undoneById, undoesId }) => undoneById === undefined && undoesId === undefined);
    const [latest] = standing;
    if (latest === undefined) return undefined;
    if (standing.length > 1) return `Shots that were changed since they came in stay: ${latest.deed}.`;
    await call("post /api/history/{id}/undo", { params: { id: latest.id } });
    return undefined;
  } catch (cause) {
    if (!(cause instanceof CallFault)) throw cause;
    return `${cause.message} ${cause.remedy}`;
  }
}
