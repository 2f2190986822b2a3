import type { HistoryShape } from "@underfoot/protocol";
import { useState } from "react";
import { call } from "../../api/call.ts";
import { useAnswer } from "../../api/use-answer.ts";
import { type Deed, useDeed } from "../../api/use-deed.ts";
import { type UndoSteps, undoSteps } from "./undo-steps.ts";

/** Every change of this screen goes through here: kept at once, and undone from here. */
export interface Keeping extends UndoSteps {
  readonly deed: Deed;
  readonly undoEntry: (entry: HistoryShape) => Promise<void>;
}

const HISTORY_ROWS = 30;
const KINDS = ["session", "player", "layout", "club", "check"] as const;

export function useKeeping(sessionId: string, playerId: string | undefined): Keeping {
  const deed = useDeed();
  const [sinceMs] = useState(() => Date.now());
  const query = { limit: HISTORY_ROWS };
  const ofSession = useAnswer("get /api/history", { query: { ...query, sessionId } }, KINDS);
  const ofAll = useAnswer("get /api/history", { query }, KINDS);
  const entries = [...(ofSession.answer ?? []), ...(ofAll.answer ?? [])];
  const undoEntry = async ({ id }: HistoryShape): Promise<void> => {
    await deed.run(() => call("post /api/history/{id}/undo", { params: { id } }));
    ofSession.again();
    ofAll.again();
  };
  return { ...undoSteps(entries, { sessionId, playerId }, sinceMs), deed, undoEntry };
}
