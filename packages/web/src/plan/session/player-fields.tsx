import type { Ask } from "@underfoot/protocol";
import { type ReactElement, useState } from "react";
import { ChoiceField, NotesField, NumberField, TextField } from "../fields.tsx";
import { kgFromMass, type MassUnit, massFromKg } from "./mass-entry.ts";

export type PlayerDraft = Ask<"post /api/players">["json"];
export type PlayerPart = { readonly [K in keyof PlayerDraft]?: PlayerDraft[K] | undefined };

interface PlayerFieldsProps {
  readonly player: PlayerPart;
  /** Only what was changed; undefined takes it away. */
  readonly onPart: (part: PlayerPart) => void;
}

/** Everything that is kept of a player. */
export function PlayerFields({ player, onPart }: PlayerFieldsProps): ReactElement {
  return (
    <div className="fields">
      <TextField
        label="Code (leaves this machine)"
        value={player.code}
        isRequired
        most={40}
        onValue={(code) => code !== undefined && onPart({ code })}
      />
      <TextField
        label="Name (stays on this machine)"
        value={player.name}
        most={200}
        onValue={(name) => onPart({ name })}
      />
      <ChoiceField
        label="Hand"
        value={player.handed}
        choices={[
          ["right", "right-handed"],
          ["left", "left-handed"],
        ]}
        onValue={(handed) => onPart({ handed })}
      />
      <ChoiceField
        label="Pronoun"
        value={player.pronoun}
        choices={[
          ["she", "she"],
          ["he", "he"],
          ["they", "they"],
        ]}
        onValue={(pronoun) => onPart({ pronoun })}
      />
      <MassField label="Mass" massKg={player.massKg} onMassKg={(massKg) => onPart({ massKg })} />
      <ChoiceField
        label="Consent"
        value={player.consent}
        choices={[
          ["none", "nothing agreed"],
          ["report", "for player and coach"],
          ["study", "also counted in studies"],
        ]}
        onValue={(consent) => onPart({ consent })}
      />
      <TextField
        label="Consent given on"
        type="date"
        value={player.consentDay}
        onValue={(consentDay) => onPart({ consentDay })}
      />
      <TextField label="Shoes" value={player.shoes} most={200} onValue={(shoes) => onPart({ shoes })} />
      <NotesField label="Notes on the player" value={player.notes} most={4000} onValue={(notes) => onPart({ notes })} />
    </div>
  );
}

interface MassFieldProps {
  readonly label: string;
  readonly massKg: number | undefined;
  readonly onMassKg: (massKg: number | undefined) => void;
  readonly least?: number;
  readonly most?: number;
}

/** A mass typed in kilograms or pounds; kept in kilograms. */
export function MassField({ label, massKg, onMassKg, least = 15, most = 250 }: MassFieldProps): ReactElement {
  const [unit, setUnit] = useState<MassUnit>("kg");
  return (
    <div className="with-unit">
      <NumberField
        label={`${label}, ${unit}`}
        value={massKg === undefined ? undefined : massFromKg(massKg, unit)}
        min={massFromKg(least, unit)}
        max={massFromKg(most, unit)}
        onValue={(mass) => onMassKg(mass === undefined ? undefined : kgFromMass(mass, unit))}
      />
      <select
        aria-label={`Unit of ${label.toLowerCase()}`}
        value={unit}
        onChange={(event) => setUnit(event.target.value as MassUnit)}
      >
        <option value="kg">kg</option>
        <option value="lb">lb</option>
      </select>
    </div>
  );
}
