import type { Ask } from "@underfoot/protocol";
import type { ReactElement } from "react";
import { ChoiceField, NotesField, NumberField, TextField } from "../fields.tsx";
import { PlatePlaceEntry } from "./plate-place-entry.tsx";

export type LayoutDraft = Ask<"post /api/layouts">["json"];
type LaidPlateShape = LayoutDraft["plates"][number];

/** Two plates, one under each foot. */
export const NEW_LAYOUT: LayoutDraft = {
  name: "",
  plates: [
    { plate: 1, foot: "lead" },
    { plate: 2, foot: "trail" },
  ],
};

interface LayoutFieldsProps {
  readonly layout: LayoutDraft;
  readonly onPart: (part: Partial<LayoutDraft>) => void;
}

/** Which plate is under which foot, what each stands, and where they lie. */
export function LayoutFields({ layout, onPart }: LayoutFieldsProps): ReactElement {
  const changePlate = (at: number, part: { readonly [K in keyof LaidPlateShape]?: LaidPlateShape[K] | undefined }) =>
    onPart({ plates: layout.plates.map((plate, k) => (k === at ? withPart(plate, part) : plate)) });
  return (
    <div className="layout-fields">
      <div className="fields">
        <TextField
          label="Name of the layout"
          value={layout.name}
          isRequired
          most={100}
          onValue={(name) => name !== undefined && onPart({ name })}
        />
      </div>
      {layout.plates.map((plate, at) => (
        <fieldset key={plate.plate} className="plan-group">
          <legend>Plate {plate.plate} of the recordings</legend>
          <PlateFields plate={plate} onPart={(part) => changePlate(at, part)} />
          {layout.plates.length > 1 && at === layout.plates.length - 1 ? (
            <button type="button" className="btn" onClick={() => onPart({ plates: layout.plates.slice(0, -1) })}>
              Take plate {plate.plate} out
            </button>
          ) : null}
        </fieldset>
      ))}
      {layout.plates.length < 4 ? (
        <button
          type="button"
          className="btn"
          onClick={() =>
            onPart({ plates: [...layout.plates, { plate: layout.plates.length + 1, foot: "none" as const }] })
          }
        >
          Add a plate
        </button>
      ) : null}
      <PlatePlaceEntry plates={layout.plates} onPlates={(plates) => onPart({ plates: [...plates] })} />
      <NotesField label="Notes on the plates" value={layout.note} most={1000} onValue={(note) => onPart({ note })} />
    </div>
  );
}

interface PlateFieldsProps {
  readonly plate: LaidPlateShape;
  readonly onPart: (part: { readonly [K in keyof LaidPlateShape]?: LaidPlateShape[K] | undefined }) => void;
}

function PlateFields({ plate, onPart }: PlateFieldsProps): ReactElement {
  return (
    <div className="fields">
      <ChoiceField
        label="Under"
        value={plate.foot}
        choices={[
          ["lead", "the lead foot, nearer the target"],
          ["trail", "the trail foot"],
          ["both", "both feet"],
          ["none", "no foot"],
        ]}
        onValue={(foot) => onPart({ foot })}
      />
      <NumberField
        label="Rated load, N"
        value={plate.ratedLoadN}
        min={1}
        onValue={(ratedLoadN) => onPart({ ratedLoadN })}
      />
      <NumberField
        label="Rated tilt, °"
        value={plate.ratedTiltDeg}
        min={0}
        max={90}
        onValue={(ratedTiltDeg) => onPart({ ratedTiltDeg })}
      />
      <TextField
        label="Calibrated on"
        type="date"
        value={plate.calibration?.day}
        onValue={(day) => onPart({ calibration: day === undefined ? undefined : { ...plate.calibration, day } })}
      />
    </div>
  );
}

/** What is undefined is left out: that is how the library reads "not said". */
function withPart(
  plate: LaidPlateShape,
  part: { readonly [K in keyof LaidPlateShape]?: LaidPlateShape[K] | undefined },
): LaidPlateShape {
  const all = Object.entries({ ...plate, ...part }).filter(([, value]) => value !== undefined);
  return Object.fromEntries(all) as LaidPlateShape;
}
