import { CallFault } from "../api/call.ts";

/** One shot that was changed, and where in the history it says so. */
export interface ChangedShot {
  readonly id: string;
  readonly historyId: string;
}

export interface RefusedShot {
  readonly id: string;
  readonly fault: CallFault;
}

export interface DeedOutcome {
  readonly changed: readonly ChangedShot[];
  readonly refused: readonly RefusedShot[];
}

export interface DeedWay {
  readonly doTo: (id: string) => Promise<unknown>;
  /** The latest entry of a shot's history; undefined: there is none. */
  readonly latestOf: (id: string) => Promise<string | undefined>;
  readonly onProgress: (done: number) => void;
  readonly isStopped: () => boolean;
}

/**
 * Does the same to shot after shot. One that is refused holds none of the others up; one that was so already is not
 * counted, so that undo never takes back what somebody did before.
 */
export async function deedOnShots(ids: readonly string[], way: DeedWay): Promise<DeedOutcome> {
  const changed: ChangedShot[] = [];
  const refused: RefusedShot[] = [];
  for (const [k, id] of ids.entries()) {
    if (way.isStopped()) break;
    try {
      const before = await way.latestOf(id);
      await way.doTo(id);
      const after = await way.latestOf(id);
      if (after !== undefined && after !== before) changed.push({ id, historyId: after });
    } catch (cause) {
      if (!(cause instanceof CallFault)) throw cause;
      refused.push({ id, fault: cause });
    }
    way.onProgress(k + 1);
  }
  return { changed, refused };
}
