import type { Board, BoardCell } from "@underfoot/compare";
import type { BoardReading } from "@underfoot/report";
import type { ReactElement } from "react";
import { SentenceWords } from "../shot/reading-view.tsx";
import { isComparable } from "./cell-links.ts";

export interface ChosenCellProps {
  readonly board: Board;
  readonly reading: BoardReading;
  readonly cell: BoardCell;
  readonly flat: BoardCell | undefined;
  readonly shotsHref: string;
  readonly onCompare: () => void;
  readonly onLetGo: () => void;
}

/** What is said of the chosen cell, and where one can go from it. */
export function ChosenCell(props: ChosenCellProps): ReactElement {
  const { board, reading, cell, flat, shotsHref, onCompare, onLetGo } = props;
  const words = reading.cells.find(({ intent, lie }) => intent === cell.intent && lie === cell.lie);
  const name = board.lies.find(({ key }) => key === cell.lie)?.name ?? cell.lie;
  const canCompare = isComparable(cell);
  return (
    <section className="chosen-cell" aria-label="Chosen cell">
      <p>
        <b>
          {cell.intent}, {name}.
        </b>{" "}
        {words === undefined ? null : <SentenceWords sentence={words.sentence} />}
        {words?.notices.map((sentence) => (
          <SentenceWords key={sentence.text} sentence={sentence} />
        ))}
        {canCompare ? <span className="quiet">Press a second cell to compare the two.</span> : null}
      </p>
      <div className="deeds">
        {cell.shotIds.length === 0 ? null : (
          <a className="btn" href={shotsHref}>
            {cell.shotIds.length === 1 ? "Its shot" : `Its ${cell.shotIds.length} shots`}
          </a>
        )}
        {canCompare && flat !== undefined && isComparable(flat) ? (
          <button type="button" className="btn" onClick={onCompare}>
            Compare with flat <kbd className="key">C</kbd>
          </button>
        ) : null}
        <button type="button" className="btn" onClick={onLetGo}>
          Let go <kbd className="key">Esc</kbd>
        </button>
      </div>
    </section>
  );
}
