import type { CatalogueEntry } from "@underfoot/mechanics";
import { dayText, type YearRow } from "@underfoot/report";
import type { ReactElement } from "react";
import { SentenceWords } from "../shot/reading-view.tsx";
import { YearChart } from "./year-chart.tsx";
import { YearTable } from "./year-table.tsx";

export interface YearRowViewProps {
  readonly row: YearRow;
  readonly entry: CatalogueEntry;
  /** On a phone one condition is shown at a time. */
  readonly isChosen: boolean;
}

/** One condition over the sessions: what may be said first, then the picture that shows it, then the numbers. */
export function YearRowView({ row, entry, isChosen }: YearRowViewProps): ReactElement {
  return (
    <section className={isChosen ? "year-row chosen" : "year-row"} aria-label={`${row.intent}, ${row.lieName}`}>
      <h2>
        {row.intent}, {row.lieName}
      </h2>
      <p>
        <SentenceWords sentence={row.sentence} />
      </p>
      <YearChart row={row} unit={entry.unit} />
      <p className="caption">
        <SentenceWords sentence={row.reach} />
      </p>
      {row.changes.length === 0 ? null : (
        <ul className="year-changes">
          {row.changes.map(({ day, what }) => (
            <li key={`${day} ${what}`}>{`${dayText(day)}: ${what}.`}</li>
          ))}
        </ul>
      )}
      <details>
        <summary>Table</summary>
        <YearTable row={row} unit={entry.unit} title={entry.title} />
      </details>
    </section>
  );
}
