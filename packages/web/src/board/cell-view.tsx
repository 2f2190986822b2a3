import type { Board, BoardCell } from "@underfoot/compare";
import type { CatalogueEntry } from "@underfoot/mechanics";
import { type CellReading, lieNameText, type ScaleDomain, unitText } from "@underfoot/report";
import type { ReactElement } from "react";
import { MarkShape } from "../compare/measures/measure-mark.tsx";
import { LieGlyph } from "../frame/lie-glyph.tsx";
import type { Asked, PlannedCell } from "./board-plan.ts";
import { CellPicture } from "./cell-picture.tsx";
import { lineOf } from "./cell-scale.ts";
import { KeptTally, tallyText } from "./kept-tally.tsx";
import { StrikeDots } from "./strike-dots.tsx";

export interface CellViewProps {
  readonly board: Board;
  readonly cell: BoardCell;
  readonly reading: CellReading;
  readonly flat: BoardCell | undefined;
  readonly entry: CatalogueEntry;
  readonly asked: Asked | undefined;
  readonly planned: PlannedCell | undefined;
  /** False where several sessions are shown: each has a plan of its own. */
  readonly isPlanKnown: boolean;
  readonly scale: ScaleDomain;
  readonly handed: "right" | "left";
  readonly shotsHref: string;
  readonly isChosen: boolean;
  readonly place: { readonly row: number; readonly column: number };
  readonly onPress: () => void;
}

/** A lie with its angle, and its line three times steeper. */
export function LieName({ lie }: { readonly lie: Board["lies"][number] }): ReactElement {
  const { name, pitchDeg = 0, rollDeg = 0 } = lie;
  return (
    <>
      <LieGlyph pitchDeg={pitchDeg} />
      {lieNameText({ lieName: name, pitchDeg, rollDeg })}
    </>
  );
}

/** One intent on one lie: to be chosen as a whole, and under it the way to its shots. */
export function CellView(props: CellViewProps): ReactElement {
  const { board, cell, planned, isChosen, place, onPress, shotsHref } = props;
  const lie = board.lies.find(({ key }) => key === cell.lie);
  const count = Object.values(cell.tally).reduce((sum, one) => sum + one, 0);
  const tally = { tally: cell.tally, planned: planned?.count };
  return (
    <li className="board-cell" data-state={cell.state} data-mark={props.reading.lozenge}>
      <button
        type="button"
        className="cell-face"
        aria-pressed={isChosen}
        data-row={place.row}
        data-column={place.column}
        onClick={onPress}
      >
        <span className="hidden">{cell.intent}, </span>
        <span className="cell-lie">{lie === undefined ? null : <LieName lie={lie} />}</span>
        <CellPicture {...props} />
        <span className="cell-words">
          <CellWords {...props} />
        </span>
      </button>
      {count === 0 ? (
        <p className="cell-shots">
          <KeptTally {...tally} /> {planned === undefined ? "no shots" : tallyText(tally)}
        </p>
      ) : (
        <a className="cell-shots" href={shotsHref}>
          <KeptTally {...tally} /> {tallyText(tally)}
          <span className="hidden">
            : shots of {cell.intent} on {lie?.name}
          </span>
        </a>
      )}
    </li>
  );
}

function CellWords(props: CellViewProps): ReactElement {
  const { cell, planned, isPlanKnown, handed } = props;
  switch (cell.state) {
    case "not-hit":
      return (
        <>
          <b>Not hit yet</b>
          {isPlanKnown ? <small>{planned === undefined ? "not planned either" : planned.place}</small> : null}
        </>
      );
    case "only-mishits":
      return (
        <>
          <b>No kept shot</b>
          <small>nothing to draw from mishits alone</small>
          <StrikeDots strikes={cell.strikes} handed={handed} />
        </>
      );
    case "too-few":
    case "ok":
      return <HitWords {...props} />;
  }
}

/** Least shots for words. */
const LEAST_SHOTS = 5;

function HitWords({ board, cell, reading, flat, handed }: CellViewProps): ReactElement {
  const isFew = cell.state === "too-few" || cell.n < LEAST_SHOTS;
  const token = lineOf(board.measure).token;
  const singles = cell.values.filter((value) => Number.isFinite(value));
  const text = isFew ? singlesText(singles, board.unit) : reading.value;
  const at = text.lastIndexOf(" ");
  return (
    <>
      <b className={isFew ? "cell-value few" : "cell-value"} style={{ color: `var(--${token})` }}>
        {at < 0 ? text : text.slice(0, at)}
        {at < 0 ? null : <small>{text.slice(at)}</small>}
      </b>
      {isFew ? (
        <small>{cell.n} of 5 shots, too few to tell</small>
      ) : (
        <Against cell={cell} reading={reading} flat={flat} />
      )}
      {isFew || reading.usual === "" ? null : <small>usual {reading.usual}</small>}
      <StrikeDots strikes={cell.strikes} handed={handed} />
    </>
  );
}

/** "78, 74 %": every single value while there are too few for a mean. */
function singlesText(values: readonly number[], unit: string): string {
  if (values.length === 0) return "not known";
  return values.map((value, k) => unitText(value, unit)[k === values.length - 1 ? "text" : "number"]).join(", ");
}

function Against({
  cell: { againstFlat },
  reading,
  flat,
}: Pick<CellViewProps, "cell" | "reading" | "flat">): ReactElement | null {
  if (againstFlat === undefined) return flat === undefined ? null : <small>none on the flat to hold it against</small>;
  return (
    <>
      <span className={reading.lozenge === "beyond" ? "cell-mark beyond" : "cell-mark"}>
        <svg width="18" height="18" viewBox="-9 -9 18 18" aria-hidden="true">
          <MarkShape mark={reading.lozenge} />
        </svg>
        {reading.difference === "" ? reading.verdict : `${reading.difference} from flat`}
      </span>
      {reading.difference === "" ? null : <span className="hidden">{reading.verdict}</span>}
      {reading.slopeShare === "" ? null : <small className="slope-words">slope {reading.slopeShare} besides</small>}
    </>
  );
}
