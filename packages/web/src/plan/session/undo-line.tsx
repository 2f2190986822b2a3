import { type ReactElement, useMemo } from "react";
import { FaultNote } from "../../frame/fault-note.tsx";
import { useKeys } from "../../frame/use-keys.ts";
import { PLAN_KEYS } from "../plan-keys.ts";
import type { Keeping } from "./use-keeping.ts";

/** What was kept last, and the way back; nothing while nothing was changed. */
export function UndoLine({ undo, bringBack, deed, undoEntry }: Keeping): ReactElement {
  const back = bringBack ?? undo;
  const deeds = useMemo(
    () => ({ undo: () => undo !== undefined && !deed.isBusy && void undoEntry(undo) }),
    [undo, deed.isBusy, undoEntry],
  );
  useKeys(PLAN_KEYS, deeds);
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
