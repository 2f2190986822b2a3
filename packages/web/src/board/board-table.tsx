import type { Board, BoardCell } from "@underfoot/compare";
import { type BoardReading, type CellReading, lieNameText, unitText } from "@underfoot/report";
import type { ReactElement } from "react";

export interface BoardTableProps {
  readonly board: Board;
  readonly reading: BoardReading;
}

const HEADS = [
  ["kept", "mishit", "set aside", "mean", "usual band", "slope share"],
  ["less flat", "0.95 interval", "slope’s share of it", "p alone", "p of all cells", "verdict"],
  ["single values", "strikes, toe and up"],
].flat();

/** Every number of the board: nothing is in a picture alone. */
export function BoardTable({ board, reading }: BoardTableProps): ReactElement {
  const caption = `${board.title}, ${board.unit}${board.axes === undefined ? "" : `, ${board.axes} axes`}; less flat is given without the slope’s share`;
  return (
    <details className="board-table">
      <summary>Table of all numbers</summary>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls inside itself must take the focus. */}
      <section className="wide-table" tabIndex={0} aria-label={caption}>
        <table>
          <caption>{caption}</caption>
          <thead>
            <tr>
              <th scope="col">intent, lie</th>
              {HEADS.map((head) => (
                <th key={head} scope="col" className="number">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {board.cells.map((cell, k) => (
              <Row key={`${cell.intent} ${cell.lie}`} board={board} cell={cell} words={reading.cells[k]} />
            ))}
          </tbody>
        </table>
      </section>
    </details>
  );
}

interface RowProps {
  readonly board: Board;
  readonly cell: BoardCell;
  readonly words: CellReading | undefined;
}

function Row({ board, cell, words }: RowProps): ReactElement {
  const { tally, againstFlat, strikes } = cell;
  const lie = board.lies.find(({ key }) => key === cell.lie);
  const name = lie && lieNameText({ ...lie, lieName: lie.name });
  const values = cell.values.filter((value) => Number.isFinite(value)).map((value) => unitText(value, board.unit).text);
  const placed = strikes.flatMap(({ strikeMm }) => (strikeMm === undefined ? [] : [strikeMm.join(" and ")]));
  const numbers = [
    ...[`${tally.kept}`, `${tally.mishit}`, `${tally["set-aside"]}`],
    ...[words?.value, words?.usual],
    cell.slopeShare === 0 ? "none" : unitText(cell.slopeShare, board.unit).text,
    ...[words?.difference, words?.interval, words?.slopeShare],
    ...[pText(againstFlat?.p), pText(againstFlat?.adjustedP), words?.verdict],
    values.join(", "),
    placed.length === 0 ? "" : `${placed.join(", ")} mm`,
  ];
  return (
    <tr>
      <th scope="row">
        {cell.intent}, {name}
      </th>
      {numbers.map((text, k) => (
        <td key={HEADS[k]}>{text === undefined || text === "" ? "none" : text}</td>
      ))}
    </tr>
  );
}

/** Three decimals tell all that is read from a p. */
function pText(p: number | undefined): string {
  if (p === undefined || Number.isNaN(p)) return "none";
  return p < 0.001 ? "below 0.001" : p.toFixed(3);
}
