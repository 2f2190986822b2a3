import type { ColumnMapping, LabAxis, MappedPlate } from "@underfoot/formats";
import type { ReactElement } from "react";
import { ChoiceField, NumberField } from "../plan/fields.tsx";
import { withPlateFacts } from "./mapping-edit.ts";

export interface PlateEntryProps {
  readonly mapping: ColumnMapping;
  readonly onMapping: (mapping: ColumnMapping) => void;
}

const UPS: readonly (readonly [LabAxis, string])[] = [
  ["+x", "+x"],
  ["-x", "−x"],
  ["+y", "+y"],
  ["-y", "−y"],
  ["+z", "+z"],
  ["-z", "−z"],
];
const SENSES = [
  ["load", "told by the sign of the load"],
  ["on-player", "of the ground on the player"],
  ["on-plate", "of the player on the plate"],
] as const;
const FROMS = [
  ["plate-centre", "the plate's centre"],
  ["lab", "the laboratory's origin"],
] as const;

/** What no column says: up, the rate, and of each plate its sense, size and place. */
export function PlateEntry({ mapping, onMapping }: PlateEntryProps): ReactElement {
  return (
    <div className="plate-entry">
      <div className="plate-fields">
        <ChoiceField
          label="Up is"
          value={mapping.up}
          none="told by the load"
          choices={UPS}
          onValue={(up) => {
            const { up: _, ...rest } = mapping;
            onMapping((up as string) === "" ? rest : { ...rest, up });
          }}
        />
        {"rateHz" in mapping.time ? (
          <NumberField
            label="Samples a second, Hz"
            value={Number.isFinite(mapping.time.rateHz) ? mapping.time.rateHz : undefined}
            min={1}
            onValue={(rateHz = Number.NaN) => onMapping({ ...mapping, time: { rateHz } })}
          />
        ) : null}
      </div>
      {mapping.plates.map((plate, k) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a plate is known by its number.
        <fieldset key={k}>
          <legend>Plate {k + 1}</legend>
          <PlateFields plate={plate} onPlate={(change) => onMapping(withPlateFacts(mapping, k + 1, () => change))} />
        </fieldset>
      ))}
    </div>
  );
}

function PlateFields({
  plate,
  onPlate,
}: {
  readonly plate: MappedPlate;
  readonly onPlate: (plate: MappedPlate) => void;
}): ReactElement {
  const { sense, ...senseless } = plate;
  return (
    <div className="plate-fields">
      <ChoiceField
        label="Forces are"
        value={sense ?? "load"}
        choices={SENSES}
        onValue={(chosen) => onPlate(chosen === "load" ? senseless : { ...plate, sense: chosen })}
      />
      <NumbersField
        label="Size, m, along the first and second level axis"
        values={plate.sizeM}
        count={2}
        onValues={(values) => {
          const { sizeM: _, ...rest } = plate;
          onPlate(values ? { ...rest, sizeM: [values[0] ?? 0, values[1] ?? 0] } : rest);
        }}
      />
      <NumbersField
        label="Centre of its surface in the laboratory, x y z, m"
        values={plate.centreM}
        count={3}
        onValues={(values) => {
          const { centreM: _, ...rest } = plate;
          onPlate(values ? { ...rest, centreM: [values[0] ?? 0, values[1] ?? 0, values[2] ?? 0] } : rest);
        }}
      />
      {plate.gives === "force+cop" ? (
        <ChoiceField
          label="Pressure counted from"
          value={plate.cop[0]?.from ?? "plate-centre"}
          choices={FROMS}
          onValue={(from) => onPlate({ ...plate, cop: plate.cop.map((column) => ({ ...column, from })) })}
        />
      ) : null}
      {plate.gives === "force+moment" ? (
        <>
          <ChoiceField
            label="Moments about"
            value={plate.momentAbout ?? "plate-centre"}
            choices={FROMS}
            onValue={(momentAbout) => onPlate({ ...plate, momentAbout })}
          />
          <NumberField
            label="Below the surface, m"
            value={plate.depthM ?? 0}
            min={0}
            max={1}
            onValue={(depthM = 0) => onPlate({ ...plate, depthM })}
          />
        </>
      ) : null}
    </div>
  );
}

interface NumbersFieldProps {
  readonly label: string;
  readonly values: readonly number[] | undefined;
  readonly count: number;
  /** Undefined: not all of them are given. */
  readonly onValues: (values: readonly number[] | undefined) => void;
}

/** Some numbers in one field, parted by blanks. */
function NumbersField({ label, values, count, onValues }: NumbersFieldProps): ReactElement {
  const shown = values?.join(" ") ?? "";
  return (
    <label className="field">
      <span>{label}</span>
      <input
        key={shown}
        type="text"
        inputMode="decimal"
        defaultValue={shown}
        placeholder={Array.from({ length: count }, () => "0.0").join(" ")}
        onBlur={({ target }) => {
          const numbers = target.value
            .trim()
            .split(/[\s;]+/)
            .map(Number);
          const areAll = numbers.length === count && numbers.every(Number.isFinite) && target.value.trim() !== "";
          target.setCustomValidity(
            areAll || target.value.trim() === "" ? "" : `Give ${count} numbers in m, with blanks between.`,
          );
          if (target.reportValidity() && target.value.trim() !== shown) onValues(areAll ? numbers : undefined);
        }}
      />
    </label>
  );
}
