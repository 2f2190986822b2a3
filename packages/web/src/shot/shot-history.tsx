import { dayText } from "@underfoot/report";
import { type ReactElement, useState } from "react";
import { call } from "../api/call.ts";
import { useAnswer } from "../api/use-answer.ts";
import { FaultNote } from "../frame/fault-note.tsx";
import { placeHref } from "../frame/place.ts";
import { momentText } from "../settings/keeping-text.ts";
import { isUndoable } from "./stored-shot.ts";
import type { StoredShot } from "./use-stored-shot.ts";

/** Everything done to the shot, the latest first; what still stands can be taken back. */
export function ShotHistory({ stored }: { readonly stored: StoredShot }): ReactElement {
  const { history, isBusy, undoEntry } = stored;
  return (
    <details>
      <summary>What was done to this shot ({history.length})</summary>
      <ol className="shot-history">
        {history.map((entry) => (
          <li key={entry.id}>
            <span className="quiet">{momentText(entry.madeMs)}</span>
            <span>
              {entry.by} {entry.deed}
              {entry.undoneById === undefined ? "" : " (undone)"}
            </span>
            {isUndoable(entry) ? (
              <button
                type="button"
                className="btn"
                aria-label={`Undo: ${entry.deed}`}
                disabled={isBusy}
                onClick={() => void undoEntry(entry.id)}
              >
                Undo
              </button>
            ) : null}
          </li>
        ))}
      </ol>
    </details>
  );
}

/** Which session the shot belongs to, and a way into another. */
export function ShotSession({ stored }: { readonly stored: StoredShot }): ReactElement {
  const { shot, change, isBusy } = stored;
  const [isOpen, setIsOpen] = useState(false);
  const [chosen, setChosen] = useState("");
  const sessions = useAnswer("get /api/sessions", isOpen ? { query: { limit: 500 } } : undefined, ["session"]);
  const others = sessions.answer?.rows.filter(({ id }) => id !== shot.sessionId) ?? [];
  const move = (): void => {
    void change(() =>
      call("put /api/shots/{id}/session", { params: { id: shot.id }, json: { sessionId: chosen } }),
    ).then(() => setChosen(""));
  };
  return (
    <details onToggle={({ currentTarget }) => setIsOpen(currentTarget.open)}>
      <summary>
        {shot.sessionId === undefined
          ? "In no session"
          : `Session of ${dayText(shot.day)}${shot.playerCode === undefined ? "" : `, ${shot.playerCode}`}`}
      </summary>
      <FaultNote fault={sessions.fault} onAgain={sessions.again} />
      <div className="deeds">
        {shot.sessionId === undefined ? null : (
          <a className="btn" href={placeHref("shots", undefined, { sessionId: shot.sessionId })}>
            Its shots
          </a>
        )}
        <label className="field">
          <span>Move to another session</span>
          <select value={chosen} onChange={({ target }) => setChosen(target.value)}>
            <option value="">{others.length === 0 && !sessions.isBusy ? "there is no other" : "choose"}</option>
            {others.map(({ id, day, playerCode, shotCount }) => (
              <option key={id} value={id}>
                {dayText(day)}, {playerCode}, {shotCount} shots
              </option>
            ))}
          </select>
        </label>
        <button type="button" className="btn" disabled={chosen === "" || isBusy} onClick={move}>
          Move
        </button>
      </div>
    </details>
  );
}
