import type { HistoryShape } from "@underfoot/protocol";
import { useCallback, useEffect, useMemo, useState } from "react";
import { call } from "../../api/call.ts";
import { onChanges } from "../../api/changes.ts";
import { type Deed, useDeed } from "../../api/use-deed.ts";
import { type UndoSteps, undoSteps } from "./undo-steps.ts";

/** Every change of this screen goes through here: kept at once, and undone from here. */
export interface Keeping extends UndoSteps {
  /** Busy until the history says what was done, so that nothing older can be undone in its place. */
  readonly deed: Deed;
  readonly undoEntry: (entry: HistoryShape) => Promise<void>;
  /** Looks the history up again after something that was kept elsewhere on this screen. */
  readonly look: () => void;
}

const HISTORY_ROWS = 30;
/** Changes come in bursts: one question after the last of them. */
const SETTLE_MS = 80;

export function useKeeping(sessionId: string, playerId: string): Keeping {
  const { run, ...deed } = useDeed();
  const [sinceMs] = useState(() => Date.now());
  const [entries, setEntries] = useState<readonly HistoryShape[]>([]);
  const look = useCallback(async () => {
    const query = { limit: HISTORY_ROWS };
    // What belongs to no session is looked for among the latest of all.
    const found = await Promise.all([
      call("get /api/history", { query: { ...query, sessionId } }),
      call("get /api/history", { query }),
    ]);
    setEntries(found.flat());
  }, [sessionId]);
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const later = (): void => {
      clearTimeout(timer);
      timer = setTimeout(() => void run(look), SETTLE_MS);
    };
    const stop = onChanges(({ kind }) => kind === "elsewhere" && later());
    return () => {
      clearTimeout(timer);
      stop();
    };
  }, [run, look]);
  const runAndLook = useCallback<Deed["run"]>(
    async (work) => {
      const done = await run(work);
      // After a refusal nothing changed, and its sentence stays.
      if (done !== undefined) await run(look);
      return done;
    },
    [run, look],
  );
  const steps = useMemo(
    () => undoSteps(entries, { sessionId, playerId }, sinceMs),
    [entries, sessionId, playerId, sinceMs],
  );
  const undoEntry = useCallback(
    async ({ id }: HistoryShape): Promise<void> => {
      await runAndLook(() => call("post /api/history/{id}/undo", { params: { id } }));
    },
    [runAndLook],
  );
  return { ...steps, deed: { ...deed, run: runAndLook }, undoEntry, look: () => void run(look) };
}
