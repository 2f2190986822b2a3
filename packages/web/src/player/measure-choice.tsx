import { CATALOGUE, type CatalogueEntry, MEASURE_FAMILIES } from "@underfoot/mechanics";
import type { ReactElement } from "react";

export interface MeasureChoiceProps {
  readonly entry: CatalogueEntry;
  readonly axes: "turf" | "level" | undefined;
  readonly onChoice: (entry: CatalogueEntry, axes: "turf" | "level" | undefined) => void;
}

const wordsOf = (family: string): string => `${family[0]?.toUpperCase() ?? ""}${family.slice(1).replaceAll("-", " ")}`;

/** Measures that are numbers: a text such as the peak order has no chart. */
const CHARTED = CATALOGUE.filter(({ unit, statistic }) => unit !== "" && statistic !== "text");

/** One measure of the catalogue, and on which axes where it matters. */
export function MeasureChoice({ entry, axes, onChoice }: MeasureChoiceProps): ReactElement {
  const both = entry.axes.filter((one) => one !== undefined);
  return (
    <div className="deeds">
      <label className="field">
        Measure
        <select
          value={entry.id}
          onChange={({ target }) => {
            const chosen = CHARTED.find(({ id }) => id === target.value) ?? entry;
            onChoice(chosen, chosen.axes.includes(axes) ? axes : chosen.axes[0]);
          }}
        >
          {MEASURE_FAMILIES.map((family) => (
            <optgroup key={family} label={wordsOf(family)}>
              {CHARTED.filter((one) => one.family === family).map(({ id, title, unit }) => (
                <option key={id} value={id}>{`${title} (${unit === "1" ? "no unit" : unit})`}</option>
              ))}
            </optgroup>
          ))}
        </select>
      </label>
      {both.length < 2 ? null : (
        <fieldset className="switch">
          <legend className="hidden">Axes</legend>
          {both.map((one) => (
            <button key={one} type="button" aria-pressed={one === axes} onClick={() => onChoice(entry, one)}>
              {one} axes
            </button>
          ))}
        </fieldset>
      )}
    </div>
  );
}
