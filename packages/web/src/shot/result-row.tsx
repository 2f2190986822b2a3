import type { ShotFacts, ShotResult } from "@underfoot/domain";
import type { ShotShape } from "@underfoot/protocol";
import type { ReactElement, RefObject } from "react";
import { call } from "../api/call.ts";
import { ChoiceField, NumberField, TextField } from "../plan/fields.tsx";
import { resultAfter } from "./stored-shot.ts";
import type { StoredShot } from "./use-stored-shot.ts";

type Label = ShotShape["label"];

const LABELS: readonly { readonly label: Label; readonly word: string; readonly key: string }[] = [
  { label: "kept", word: "Keep", key: "K" },
  { label: "mishit", word: "Mishit", key: "M" },
  { label: "set-aside", word: "Set aside", key: "X" },
];

const CONTACTS: readonly (readonly [NonNullable<ShotResult["contact"]>, string])[] = [
  ["clean", "clean"],
  ["fat", "fat"],
  ["thin", "thin"],
  ["shank", "shank"],
  ["top", "topped"],
  ["miss", "missed"],
];

/** Labels the shot; nothing is asked where it already is so. */
export function labelShot({ shot, change }: StoredShot, label: Label): Promise<void> {
  if (shot.label === label) return Promise.resolve();
  return change(() => call("put /api/shots/{id}/label", { params: { id: shot.id }, json: { label } }));
}

export interface ResultRowProps {
  readonly stored: StoredShot;
  readonly facts: ShotFacts;
  /** Where key N goes. */
  readonly note: RefObject<HTMLDivElement | null>;
}

/** What became of the ball, and whether the shot counts; each part is stored when it is left. */
export function ResultRow({ stored, facts, note }: ResultRowProps): ReactElement {
  const { shot, change } = stored;
  const params = { id: shot.id };
  const { contact, startLineDeg, carryM } = facts.result ?? {};
  const say = (part: Parameters<typeof resultAfter>[1]): void => {
    const { strikeMm, ...result } = resultAfter(facts.result, part) ?? {};
    const isSaid = strikeMm !== undefined || Object.keys(result).length > 0;
    const strike = strikeMm === undefined ? {} : { strikeMm: [strikeMm[0], strikeMm[1]] as [number, number] };
    void change(() =>
      call("put /api/shots/{id}/result", { params, json: { result: isSaid ? { ...result, ...strike } : null } }),
    );
  };
  return (
    <section className="result-row" aria-label="Result of the shot">
      <fieldset className="switch">
        <legend className="hidden">Does it count</legend>
        {LABELS.map(({ label, word, key }) => (
          <button
            key={label}
            type="button"
            aria-pressed={shot.label === label}
            onClick={() => void labelShot(stored, label)}
          >
            {word} <kbd className="key">{key}</kbd>
          </button>
        ))}
      </fieldset>
      <ChoiceField
        label="Strike"
        value={contact}
        none="not said"
        choices={CONTACTS}
        onValue={(word) => say({ contact: CONTACTS.find(([known]) => known === word)?.[0] })}
      />
      <NumberField
        label="Start line, ° right"
        min={-90}
        max={90}
        value={startLineDeg}
        onValue={(value) => say({ startLineDeg: value })}
      />
      <NumberField label="Carry, m" min={0} max={400} value={carryM} onValue={(value) => say({ carryM: value })} />
      <div ref={note} className="note-field">
        <TextField
          label="Note"
          most={4000}
          value={facts.note}
          onValue={(text) =>
            void change(() => call("put /api/shots/{id}/note", { params, json: { note: text ?? null } }))
          }
        />
      </div>
    </section>
  );
}
