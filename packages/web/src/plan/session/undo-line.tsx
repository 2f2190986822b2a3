import { type ReactElement, useEffect } from "react";
import { FaultNote } from "../../frame/fault-note.tsx";
import type { Keeping } from "./use-keeping.ts";

/** What was kept last, and the way back; nothing while nothing was changed. */
export function UndoLine({ undo, bringBack, deed, undoEntry }: Keeping): ReactElement {
  const back = bringBack ?? undo;
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const isTyping = event.target instanceof HTMLElement && event.target.matches("input, textarea, select");
      if (isTyping || event.key !== "z" || !(event.ctrlKey || event.metaKey) || undo === undefined) return;
      event.preventDefault();
      void undoEntry(undo);
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  });
  return (
    <div className="undo-line" data-empty={back === undefined && deed.fault === undefined}>
      <FaultNote fault={deed.fault} />
      <p role="status">{back === undefined ? "" : bringBack === undefined ? `Kept: ${back.deed}.` : `${back.deed}.`}</p>
      {undo === undefined ? null : (
        <button type="button" className="btn" disabled={deed.isBusy} onClick={() => void undoEntry(undo)}>
          Undo
          <span className="hidden">: {undo.deed}</span>
        </button>
      )}
      {bringBack === undefined ? null : (
        <button type="button" className="btn" disabled={deed.isBusy} onClick={() => void undoEntry(bringBack)}>
          Bring it back
        </button>
      )}
    </div>
  );
}
