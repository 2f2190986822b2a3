import { type ReactElement, useEffect, useRef, useState } from "react";
import { FRAME_KEYS, type ScreenKey } from "./keys.ts";
import { remember, remembered } from "./remembered.ts";

export interface KeyListProps {
  /** Of this screen; those of every screen come after them. */
  readonly keys: readonly ScreenKey[];
  readonly onClose: () => void;
}

/** The list of keys, as a dialog; single letters can be switched off here. */
export function KeyList({ keys, onClose }: KeyListProps): ReactElement {
  const dialog = useRef<HTMLDialogElement>(null);
  const [areLettersOn, setAreLettersOn] = useState(() => remembered("letters") !== "off");
  useEffect(() => dialog.current?.showModal(), []);
  return (
    <dialog ref={dialog} className="keys" aria-labelledby="keys-title" onClose={onClose}>
      <h2 id="keys-title">Keys on this page</h2>
      <dl>
        {[...keys, ...FRAME_KEYS].map((key) => (
          <div key={key.shown}>
            <dt>
              <kbd className="key">{key.shown}</kbd>
            </dt>
            <dd>{key.does}</dd>
          </div>
        ))}
      </dl>
      <label className="check">
        <input
          type="checkbox"
          checked={areLettersOn}
          onChange={({ target }) => {
            remember("letters", target.checked ? "on" : "off");
            setAreLettersOn(target.checked);
          }}
        />
        Single letters and signs act as keys
      </label>
      <button type="button" className="btn" onClick={() => dialog.current?.close()}>
        Close
      </button>
    </dialog>
  );
}
