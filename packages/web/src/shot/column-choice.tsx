import { COLUMN_KINDS, type ColumnKindId, MOST_COLUMNS } from "@underfoot/report";
import { type ReactElement, useEffect, useRef } from "react";

export interface ColumnChoiceProps {
  readonly isOpen: boolean;
  readonly columns: readonly ColumnKindId[];
  readonly onColumns: (columns: readonly ColumnKindId[]) => void;
  readonly onClose: () => void;
}

/** Which columns fall beside the pressure: five at most, in the order of this list. */
export function ColumnChoice({ isOpen, columns, onColumns, onClose }: ColumnChoiceProps): ReactElement {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    if (isOpen) dialog.current?.showModal();
    else dialog.current?.close();
  }, [isOpen]);
  const isFull = columns.length >= MOST_COLUMNS;
  return (
    <dialog ref={dialog} aria-labelledby="columns-title" onClose={onClose}>
      <h2 id="columns-title">Columns</h2>
      <p className="small">
        {isFull ? "Five columns stand beside each other; take one away to add another." : "Choose up to five."}
      </p>
      <fieldset className="column-choice">
        <legend className="hidden">Columns to show</legend>
        {COLUMN_KINDS.map((kind) => {
          const isShown = columns.includes(kind.id);
          return (
            <label key={kind.id} className="check">
              <input
                type="checkbox"
                checked={isShown}
                disabled={!isShown && isFull}
                onChange={() => onColumns(columnsWith(columns, kind.id, !isShown))}
              />
              {kind.title}
            </label>
          );
        })}
      </fieldset>
      <button type="button" className="btn main" onClick={() => dialog.current?.close()}>
        Done
      </button>
    </dialog>
  );
}

function columnsWith(columns: readonly ColumnKindId[], id: ColumnKindId, isShown: boolean): readonly ColumnKindId[] {
  const wanted = new Set(isShown ? [...columns, id] : columns.filter((column) => column !== id));
  return COLUMN_KINDS.map((kind) => kind.id).filter((column) => wanted.has(column));
}
