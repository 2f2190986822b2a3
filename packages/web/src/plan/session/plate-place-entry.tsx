import { UnderfootError } from "@underfoot/domain";
import { recordingFromBytes } from "@underfoot/formats";
import { type ReactElement, useState } from "react";
import { NumberField } from "../fields.tsx";
import { type Placeable, placedSideBySide, plateSizes, USUAL_PLACE } from "../ground/plate-place.ts";

interface PlatePlaceEntryProps<P extends Placeable> {
  readonly plates: readonly P[];
  readonly onPlates: (plates: readonly P[]) => void;
}

/** Where the plates lie: read from a recording that says it, or from three lengths. */
export function PlatePlaceEntry<P extends Placeable>({ plates, onPlates }: PlatePlaceEntryProps<P>): ReactElement {
  const [lengths, setLengths] = useState(USUAL_PLACE);
  const [said, setSaid] = useState<string>();
  const take = async (file: File): Promise<void> => {
    const bytes = new Uint8Array(await file.arrayBuffer());
    const taken = placesIn(bytes, file.name, plates);
    if (typeof taken === "string") return setSaid(taken);
    setSaid(`Place of ${taken.length} plates taken from ${file.name}.`);
    onPlates(taken);
  };
  const sizes = plateSizes(plates);
  return (
    <fieldset className="plan-group">
      <legend>Where the plates lie</legend>
      <p className="small">
        {sizes === undefined
          ? "Not said yet. A recording that carries its plates says it best; three lengths will do for the drawing."
          : sizes}
      </p>
      <div className="fields">
        <NumberField
          label="Along the target line, m"
          value={lengths.alongM}
          min={0.1}
          max={3}
          onValue={(alongM = USUAL_PLACE.alongM) => setLengths({ ...lengths, alongM })}
        />
        <NumberField
          label="Heel to toe, m"
          value={lengths.aheadM}
          min={0.1}
          max={3}
          onValue={(aheadM = USUAL_PLACE.aheadM) => setLengths({ ...lengths, aheadM })}
        />
        <NumberField
          label="Gap between them, m"
          value={lengths.gapM}
          min={0}
          max={2}
          onValue={(gapM = USUAL_PLACE.gapM) => setLengths({ ...lengths, gapM })}
        />
      </div>
      <div className="deeds">
        <button type="button" className="btn" onClick={() => onPlates(placedSideBySide(plates, lengths))}>
          Lay them side by side
        </button>
        <label className="btn file">
          Take the place from a recording
          <input
            type="file"
            accept=".c3d"
            onChange={(event) => {
              const [file] = event.target.files ?? [];
              event.target.value = "";
              if (file !== undefined) void take(file);
            }}
          />
        </label>
      </div>
      {said === undefined ? null : (
        <p role="status" className="small">
          {said}
        </p>
      )}
    </fieldset>
  );
}

/** The plates with the corners that the recording gives them; a sentence where it gives none. */
function placesIn<P extends Placeable>(
  bytes: Uint8Array,
  fileName: string,
  plates: readonly P[],
): readonly P[] | string {
  try {
    const { plates: described } = recordingFromBytes(bytes, { file: fileName });
    const placed = described.filter(({ isPlaced }) => isPlaced);
    if (placed.length === 0)
      return `${fileName} does not say where its plates lie: choose another recording, or write the lengths.`;
    return plates.map((plate) => {
      const found = placed.find(({ index }) => index === plate.plate);
      return found === undefined ? plate : { ...plate, cornersM: found.corners.map((corner) => ({ ...corner })) };
    });
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return `${fault.message} ${fault.remedy}`;
  }
}
