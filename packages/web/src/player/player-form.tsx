import type { Ask, PlayerShape } from "@underfoot/protocol";
import type { FormEvent, ReactElement } from "react";
import { CallFault, call } from "../api/call.ts";
import { useDeed } from "../api/use-deed.ts";
import { FaultNote } from "../frame/fault-note.tsx";

type Part = Partial<Record<keyof PlayerShape, string | number | null>>;

/** Kilograms as a person writes them; a comma is a decimal point. */
function kilograms(text: string): number {
  const massKg = Number(text.replace(",", "."));
  if (Number.isFinite(massKg)) return massKg;
  throw new CallFault({
    code: "mass",
    sentence: `"${text}" is no mass.`,
    remedy: "Write it in kilograms, such as 81.5, or leave it empty.",
  });
}

/** What the form says: an empty field takes the value away. */
function partOf(form: FormData): Part {
  const text = (name: string): string | null => String(form.get(name) ?? "").trim() || null;
  const mass = text("massKg");
  return {
    code: text("code"),
    name: text("name"),
    handed: text("handed"),
    pronoun: text("pronoun"),
    massKg: mass === null ? null : kilograms(mass),
    shoes: text("shoes"),
    consent: text("consent"),
    consentDay: text("consentDay"),
    notes: text("notes"),
  };
}

/** Changes a player's record. What was before stays in the history and can be brought back. */
export function PlayerForm({
  player,
  onDone,
}: {
  readonly player: PlayerShape;
  readonly onDone: () => void;
}): ReactElement {
  const deed = useDeed();
  const onSubmit = async (event: FormEvent<HTMLFormElement>): Promise<void> => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const changed = await deed.run(async () => {
      const json = partOf(form) as PlayerPart;
      return call("patch /api/players/{id}", { params: { id: player.id }, json });
    });
    if (changed !== undefined) onDone();
  };
  return (
    <form onSubmit={onSubmit}>
      <Field name="code" word="Code (leaves this machine)" value={player.code} isNeeded />
      <Field name="name" word="Name (stays on this machine)" value={player.name} />
      <Choice name="handed" word="Hand" value={player.handed} words={{ right: "right", left: "left" }} />
      <Choice name="pronoun" word="Pronoun" value={player.pronoun} words={{ she: "she", he: "he", they: "they" }} />
      <Field name="massKg" word="Mass, kg" value={player.massKg?.toString()} />
      <Field name="shoes" word="Shoes" value={player.shoes} />
      <Choice
        name="consent"
        word="Consent"
        value={player.consent}
        words={{ none: "nothing agreed", report: "for player and coach", study: "also counted in studies" }}
      />
      <Field name="consentDay" word="Consent given on" value={player.consentDay} type="date" />
      <label className="field">
        Notes
        <textarea name="notes" rows={3} defaultValue={player.notes} />
      </label>
      <FaultNote fault={deed.fault} />
      <p className="deeds">
        <button type="submit" className="btn main" disabled={deed.isBusy}>
          Save
        </button>
        <button type="button" className="btn" onClick={onDone}>
          Leave as it was
        </button>
      </p>
    </form>
  );
}

type PlayerPart = Ask<"patch /api/players/{id}">["json"];

interface FieldProps {
  readonly name: string;
  readonly word: string;
  readonly value: string | undefined;
  readonly type?: "text" | "date";
  readonly isNeeded?: boolean;
}

function Field({ name, word, value, type = "text", isNeeded = false }: FieldProps): ReactElement {
  return (
    <label className="field">
      {word}
      <input name={name} type={type} defaultValue={value} required={isNeeded} autoComplete="off" />
    </label>
  );
}

function Choice({
  name,
  word,
  value,
  words,
}: {
  readonly name: string;
  readonly word: string;
  readonly value: string;
  readonly words: Readonly<Record<string, string>>;
}): ReactElement {
  return (
    <label className="field">
      {word}
      <select name={name} defaultValue={value}>
        {Object.entries(words).map(([key, shown]) => (
          <option key={key} value={key}>
            {shown}
          </option>
        ))}
      </select>
    </label>
  );
}
