import type { ColumnMapping } from "@underfoot/formats";
import type { LookedColumn, LookedFile } from "@underfoot/pipeline";
import type { ReactElement } from "react";
import { ColumnEntry } from "./column-entry.tsx";
import { ColumnSpan, ColumnTrace } from "./column-trace.tsx";
import { guessText, senseText } from "./look-words.ts";

export interface ColumnListProps {
  readonly look: LookedFile;
  readonly mapping: ColumnMapping | undefined;
  /** Undefined where the file itself says what its channels are. */
  readonly onMapping: ((mapping: ColumnMapping) => void) | undefined;
}

/** Every channel as a falling trace, with what it is taken for and why. */
export function ColumnList({ look, mapping, onMapping }: ColumnListProps): ReactElement {
  return (
    <ul className={onMapping === undefined ? "columns" : "columns entered"}>
      {look.columns.map((column) => (
        <li key={column.name}>
          <ColumnTrace column={column} />
          <ColumnSpan column={column} />
          <p className="column-name">{column.name}</p>
          <Guess column={column} />
          {onMapping === undefined || mapping === undefined || column.guess.part === "word" ? null : (
            <ColumnEntry column={column} mapping={mapping} rateHz={look.rateHz} onMapping={onMapping} />
          )}
        </li>
      ))}
    </ul>
  );
}

function Guess({ column }: { readonly column: LookedColumn }): ReactElement {
  const sense = senseText(column);
  return (
    <p className="column-guess">
      {guessText(column)}
      {sense === "" ? "" : `; ${sense}`}
      <small>{column.why}</small>
    </p>
  );
}
