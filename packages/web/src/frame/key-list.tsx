import { type ReactElement, useEffect, useRef } from "react";
import { SHOT_KEYS } from "../shot/shot-keys.ts";

export interface KeyListProps {
  readonly isOpen: boolean;
  readonly areLettersOn: boolean;
  readonly onLetters: (areOn: boolean) => void;
  readonly onClose: () => void;
}

/** The list of keys, as a dialog; single letters can be switched off here. */
export function KeyList({ isOpen, areLettersOn, onLetters, onClose }: KeyListProps): ReactElement {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    if (isOpen) dialog.current?.showModal();
    else dialog.current?.close();
  }, [isOpen]);
  return (
    <dialog ref={dialog} className="keys" aria-labelledby="keys-title" onClose={onClose}>
      <h2 id="keys-title">Keys on this page</h2>
      <dl>
        {SHOT_KEYS.map((key) => (
          <div key={key.shown}>
            <dt>
              <kbd className="key">{key.shown}</kbd>
            </dt>
            <dd>{key.does}</dd>
          </div>
        ))}
      </dl>
      <p className="small">On the ruler itself also Up and Down, Page Up and Page Down, Home and End.</p>
      <label className="check">
        <input type="checkbox" checked={areLettersOn} onChange={(event) => onLetters(event.target.checked)} />
        Single letters and signs act as keys
      </label>
      <button type="button" className="btn" onClick={() => dialog.current?.close()}>
        Close
      </button>
    </dialog>
  );
}
