import type { Handed, ShotFacts } from "@underfoot/domain";
import { type ReactElement, type ReactNode, useState } from "react";
import {
  type FactsForm as Form,
  factsFromForm,
  firstFacts,
  type PlatePlace,
  TARGET_DIRECTIONS,
  type TargetDirection,
} from "./facts-entry.ts";

export interface FactsFormProps {
  readonly plates: readonly PlatePlace[];
  readonly onFacts: (facts: ShotFacts) => void;
  /** What the button says. */
  readonly deed?: string;
}

/** Hand, target, feet and lie, for a recording that came without a sidecar. */
export function FactsForm({ plates, onFacts, deed = "Compute the shot" }: FactsFormProps): ReactElement {
  const [form, setForm] = useState<Form>(() => firstFacts(plates));
  const [refusal, setRefusal] = useState<string>();
  const change = (part: Partial<Form>): void => setForm({ ...form, ...part });
  return (
    <form
      className="facts"
      aria-labelledby="facts-title"
      onSubmit={(event) => {
        event.preventDefault();
        const facts = factsFromForm(form, plates);
        setRefusal(typeof facts === "string" ? facts : undefined);
        if (typeof facts !== "string") onFacts(facts);
      }}
    >
      <h2 id="facts-title">Say who stood where</h2>
      <Field label="Player">
        <select value={form.handed} onChange={(event) => change({ handed: event.target.value as Handed })}>
          <option value="right">right-handed</option>
          <option value="left">left-handed</option>
        </select>
      </Field>
      <PlateField
        label="Lead foot (nearer the target)"
        plates={plates}
        value={form.leadPlate}
        onPlate={(leadPlate) => change({ leadPlate })}
      />
      <PlateField
        label="Trail foot"
        plates={plates}
        value={form.trailPlate}
        onPlate={(trailPlate) => change({ trailPlate })}
      />
      <Field label="Target lies">
        <select
          value={form.direction}
          onChange={(event) => change({ direction: event.target.value as TargetDirection })}
        >
          {TARGET_DIRECTIONS.map((direction) => (
            <option key={direction} value={direction}>
              {direction === "trail to lead"
                ? "from the trail plate to the lead plate"
                : `along ${direction.replace("-", "−")} of the laboratory`}
            </option>
          ))}
        </select>
      </Field>
      <AngleField
        label="Pitch in degrees, + rises toward the target"
        value={form.pitchDeg}
        onAngle={(pitchDeg) => change({ pitchDeg })}
      />
      <AngleField
        label="Roll in degrees, + rises toward the ball"
        value={form.rollDeg}
        onAngle={(rollDeg) => change({ rollDeg })}
      />
      {refusal === undefined ? null : <p role="alert">{refusal}</p>}
      <button type="submit" className="btn main">
        {deed}
      </button>
    </form>
  );
}

function Field({ label, children }: { readonly label: string; readonly children: ReactNode }): ReactElement {
  return (
    // biome-ignore lint/a11y/noLabelWithoutControl: the control is the child.
    <label className="field">
      <span>{label}</span>
      {children}
    </label>
  );
}

interface PlateFieldProps {
  readonly label: string;
  readonly plates: readonly PlatePlace[];
  readonly value: number;
  readonly onPlate: (plate: number) => void;
}

function PlateField({ label, plates, value, onPlate }: PlateFieldProps): ReactElement {
  return (
    <Field label={label}>
      <select value={value} onChange={(event) => onPlate(Number(event.target.value))}>
        {plates.map(({ index }) => (
          <option key={index} value={index}>
            plate {index}
          </option>
        ))}
      </select>
    </Field>
  );
}

interface AngleFieldProps {
  readonly label: string;
  readonly value: number;
  readonly onAngle: (angleDeg: number) => void;
}

function AngleField({ label, value, onAngle }: AngleFieldProps): ReactElement {
  return (
    <Field label={label}>
      <input
        type="number"
        min={-30}
        max={30}
        step="0.1"
        required
        value={Number.isNaN(value) ? "" : value}
        onChange={(event) => onAngle(event.target.valueAsNumber)}
      />
    </Field>
  );
}
