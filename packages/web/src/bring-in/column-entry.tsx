import type { ColumnMapping, LabAxis } from "@underfoot/formats";
import type { LookedColumn } from "@underfoot/pipeline";
import type { ReactElement } from "react";
import {
  type ColumnMeaning,
  choiceOf,
  meaningChoices,
  meaningFromChoice,
  meaningOf,
  unitsFor,
  withMeaning,
  withUnit,
} from "./mapping-edit.ts";

export interface ColumnEntryProps {
  readonly column: LookedColumn;
  readonly mapping: ColumnMapping;
  /** Counts where the time column is taken away. */
  readonly rateHz: number;
  readonly onMapping: (mapping: ColumnMapping) => void;
}

/** What one column means, its sign and its unit. */
export function ColumnEntry({ column: { name }, mapping, rateHz, onMapping }: ColumnEntryProps): ReactElement {
  const meaning = meaningOf(mapping, name);
  const units = unitsFor(meaning);
  const say = (next: ColumnMeaning): void => onMapping(withMeaning(mapping, name, next, { rateHz }));
  return (
    <div className="column-entry">
      <select
        aria-label={`${name} means`}
        value={choiceOf(meaning)}
        onChange={({ target }) => say(meaningFromChoice(target.value, meaning))}
      >
        {meaningChoices(mapping).map(({ group, choices }) => (
          <optgroup key={group} label={group}>
            {choices.map(([choice, words]) => (
              <option key={choice} value={choice}>
                {words}
              </option>
            ))}
          </optgroup>
        ))}
      </select>
      <span className="column-pair">
        {meaning.kind === "plate" ? (
          <select
            aria-label={`Sign of ${name}`}
            value={meaning.axis[0]}
            onChange={({ target }) => say({ ...meaning, axis: `${target.value}${meaning.axis[1]}` as LabAxis })}
          >
            <option value="+">+</option>
            <option value="-">−</option>
          </select>
        ) : null}
        {units.length > 0 && "unit" in meaning ? (
          <select
            aria-label={`Unit of ${name}`}
            value={meaning.unit}
            onChange={({ target }) => onMapping(withUnit(mapping, name, target.value))}
          >
            {meaning.unit === "" ? <option value="">unit?</option> : null}
            {units.map((unit) => (
              <option key={unit}>{unit}</option>
            ))}
          </select>
        ) : null}
      </span>
    </div>
  );
}
