import type { HistoryShape } from "@underfoot/protocol";
import { type ReactElement, useState } from "react";
import { call } from "../api/call.ts";
import { useAnswer } from "../api/use-answer.ts";
import { useDeed } from "../api/use-deed.ts";
import { FaultNote } from "../frame/fault-note.tsx";
import { momentText } from "./keeping-text.ts";

const STEP = 20;

/** What was done in this library, the latest first; each thing can be undone, and that too. */
export function HistoryList(): ReactElement {
  const [count, setCount] = useState(STEP);
  const { answer, fault, again } = useAnswer("get /api/history", { query: { limit: count } }, [
    "player",
    "club",
    "layout",
    "session",
    "check",
    "shot",
    "setting",
  ]);
  const deed = useDeed();
  const entries = answer ?? [];
  return (
    <section aria-labelledby="history-title">
      <h2 id="history-title">What was done</h2>
      <FaultNote fault={deed.fault ?? fault} onAgain={fault === undefined ? undefined : again} />
      {answer !== undefined && entries.length === 0 ? <p className="small">Nothing yet.</p> : null}
      <ol className="history">
        {entries.map((entry) => (
          <li key={entry.id}>
            <span className="quiet">{momentText(entry.madeMs)}</span>
            <span>
              {entry.by} {entry.deed}
              {entry.undoneById === undefined ? "" : " (undone)"}
            </span>
            {canUndo(entry) ? (
              <button
                type="button"
                className="btn"
                aria-label={`Undo: ${entry.deed}`}
                disabled={deed.isBusy}
                onClick={() => deed.run(() => call("post /api/history/{id}/undo", { params: { id: entry.id } }))}
              >
                Undo
              </button>
            ) : null}
          </li>
        ))}
      </ol>
      {entries.length < count ? null : (
        <button type="button" className="btn" onClick={() => setCount(count + STEP)}>
          Show earlier
        </button>
      )}
    </section>
  );
}

const canUndo = ({ undoneById, changes }: HistoryShape): boolean => undoneById === undefined && changes.length > 0;
