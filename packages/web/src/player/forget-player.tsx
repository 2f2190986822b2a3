import type { PlayerShape } from "@underfoot/protocol";
import { type ReactElement, useState } from "react";
import { call } from "../api/call.ts";
import { useDeed } from "../api/use-deed.ts";
import { FaultNote } from "../frame/fault-note.tsx";
import { forgottenText } from "./forgotten-text.ts";

/** Removes a person everywhere. The code has to be written once more, since nothing brings it back. */
export function ForgetPlayer({ player }: { readonly player: PlayerShape }): ReactElement {
  const [code, setCode] = useState("");
  const [done, setDone] = useState<string>();
  const deed = useDeed();
  const forget = async (): Promise<void> => {
    const gone = await deed.run(() =>
      call("delete /api/players/{id}", { params: { id: player.id }, query: { code: player.code } }),
    );
    if (gone !== undefined) setDone(forgottenText(player.code, gone));
  };
  return (
    <details>
      <summary>Forget this player</summary>
      {done !== undefined ? (
        <p role="status">{done}</p>
      ) : (
        <div className="deeds">
          <p className="small">
            Removes the player, the sessions, shots, recordings, results and the history. It cannot be undone, and
            backups on other disks have to be removed by hand.
          </p>
          <label className="field">
            Write {player.code} to confirm
            <input value={code} onChange={({ target }) => setCode(target.value)} autoComplete="off" />
          </label>
          <button type="button" className="btn" disabled={code !== player.code || deed.isBusy} onClick={forget}>
            Forget {player.code}
          </button>
          <FaultNote fault={deed.fault} />
        </div>
      )}
    </details>
  );
}
