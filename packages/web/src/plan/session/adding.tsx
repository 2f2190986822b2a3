import type { Ask, ClubShape, LayoutShape, PlayerShape } from "@underfoot/protocol";
import { type ReactElement, type ReactNode, useState } from "react";
import { call } from "../../api/call.ts";
import { useDeed } from "../../api/use-deed.ts";
import { FaultNote } from "../../frame/fault-note.tsx";
import { NumberField, TextField } from "../fields.tsx";
import { type LayoutDraft, LayoutFields, NEW_LAYOUT } from "./layout-fields.tsx";
import { type PlayerDraft, PlayerFields, type PlayerPart } from "./player-fields.tsx";

interface AddingProps<T> {
  readonly onAdded: (added: T) => void;
  readonly onCancel: () => void;
}

interface AddFormProps<T> extends AddingProps<T> {
  readonly title: string;
  /** Adds it; undefined: something is still missing, and the browser has said what. */
  readonly add: () => Promise<T>;
  readonly children: ReactNode;
}

/** A thing filled in and added where it is needed. Nothing is kept before the button is pressed. */
function AddForm<T>({ title, add, onAdded, onCancel, children }: AddFormProps<T>): ReactElement {
  const deed = useDeed();
  return (
    <form
      className="adding"
      aria-label={title}
      onSubmit={async (event) => {
        event.preventDefault();
        const added = await deed.run(add);
        if (added !== undefined) onAdded(added);
      }}
    >
      <h3>{title}</h3>
      {children}
      <FaultNote fault={deed.fault} />
      <div className="deeds">
        <button type="submit" className="btn main" disabled={deed.isBusy}>
          {title}
        </button>
        <button type="button" className="btn" onClick={onCancel}>
          Cancel
        </button>
      </div>
    </form>
  );
}

/** What is undefined was not said. */
function said<T extends object>(draft: T): T {
  return Object.fromEntries(Object.entries(draft).filter(([, value]) => value !== undefined)) as T;
}

const NEW_PLAYER: PlayerPart = { code: "", handed: "right", pronoun: "they", consent: "none" };

export function AddPlayer(props: AddingProps<PlayerShape>): ReactElement {
  const [draft, setDraft] = useState(NEW_PLAYER);
  return (
    <AddForm
      {...props}
      title="Add the player"
      add={() => call("post /api/players", { json: said(draft) as PlayerDraft })}
    >
      <PlayerFields player={draft} onPart={(part) => setDraft((before) => ({ ...before, ...part }))} />
    </AddForm>
  );
}

export function AddLayout(props: AddingProps<LayoutShape>): ReactElement {
  const [draft, setDraft] = useState<LayoutDraft>(NEW_LAYOUT);
  return (
    <AddForm {...props} title="Add the layout" add={() => call("post /api/layouts", { json: said(draft) })}>
      <LayoutFields layout={draft} onPart={(part) => setDraft((before) => ({ ...before, ...part }))} />
    </AddForm>
  );
}

export function AddClub(props: AddingProps<ClubShape>): ReactElement {
  const [draft, setDraft] = useState<Ask<"post /api/clubs">["json"]>({ name: "" });
  return (
    <AddForm {...props} title="Add the club" add={() => call("post /api/clubs", { json: said(draft) })}>
      <div className="fields">
        <TextField
          label="Name of the club"
          value={draft.name}
          isRequired
          most={100}
          onValue={(name = "") => setDraft((before) => ({ ...before, name }))}
        />
        <NumberField
          label="Loft, °"
          value={draft.loftDeg}
          min={0}
          max={90}
          onValue={(loftDeg) => setDraft((before) => said({ ...before, loftDeg }))}
        />
      </div>
    </AddForm>
  );
}

interface ChosenOrAddedProps {
  readonly label: string;
  readonly value: string | undefined;
  readonly choices: readonly (readonly [id: string, word: string])[];
  readonly none: string;
  readonly onChosen: (id: string | undefined) => void;
  /** "Add a player": opens the form. */
  readonly addWord: string;
  readonly form: (close: () => void) => ReactNode;
}

/** One of those that are there, or a new one. */
export function ChosenOrAdded(props: ChosenOrAddedProps): ReactElement {
  const { label, value, choices, none, onChosen, addWord, form } = props;
  const [isAdding, setIsAdding] = useState(false);
  return (
    <div className="chosen-or-added">
      <div className="with-unit">
        <label className="field">
          <span>{label}</span>
          <select value={value ?? ""} onChange={(event) => onChosen(event.target.value || undefined)}>
            <option value="">{none}</option>
            {choices.map(([id, word]) => (
              <option key={id} value={id}>
                {word}
              </option>
            ))}
          </select>
        </label>
        {isAdding ? null : (
          <button type="button" className="btn" onClick={() => setIsAdding(true)}>
            {addWord}
          </button>
        )}
      </div>
      {isAdding ? form(() => setIsAdding(false)) : null}
    </div>
  );
}
