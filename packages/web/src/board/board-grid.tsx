import type { Board, BoardCell } from "@underfoot/compare";
import type { CatalogueEntry } from "@underfoot/mechanics";
import type { SessionShape } from "@underfoot/protocol";
import type { BoardReading } from "@underfoot/report";
import { type KeyboardEvent, type ReactElement, useMemo, useRef } from "react";
import { useMedia } from "../frame/use-media.ts";
import { type Asked, askedOfCell, askedText, plannedCell } from "./board-plan.ts";
import { type CellOwner, shotsHref } from "./cell-links.ts";
import { cellBeside } from "./cell-moves.ts";
import { boardScale } from "./cell-scale.ts";
import { CellView, LieName } from "./cell-view.tsx";

export interface BoardGridProps {
  readonly board: Board;
  readonly reading: BoardReading;
  readonly entry: CatalogueEntry;
  readonly asked: readonly Asked[];
  readonly plan: SessionShape["plan"];
  readonly owner: CellOwner;
  readonly handed: "right" | "left";
  readonly chosen: BoardCell | undefined;
  readonly onPress: (cell: BoardCell) => void;
}

/** So many lies have room beside each other under one row of heads; more of them stand in lines of their own. */
const MOST_WIDE = 4;
const MOST_MEDIUM = 3;

/** The cell of the same intent on the flat lie that the others are held against. */
export function flatOf(board: Board, cell: BoardCell): BoardCell | undefined {
  const flat = board.lies.find(({ isFlat }) => isFlat);
  const found = board.cells.find(({ intent, lie }) => intent === cell.intent && lie === flat?.key);
  return found === cell ? undefined : found;
}

/** Intents down, lies across from down to up. Arrow keys go from cell to cell. */
export function BoardGrid(props: BoardGridProps): ReactElement {
  const { board, entry, asked } = props;
  const isStacked = useMedia("(max-width: 700px)");
  const grid = useRef<HTMLDivElement>(null);
  const asks = useMemo(
    () =>
      new Map(
        board.intents.map((intent) => [
          intent,
          askedOfCell(asked, { measure: board.measure, axes: board.axes ?? entry.axes[0], intent }),
        ]),
      ),
    [board, asked, entry],
  );
  const scale = useMemo(() => boardScale(board, [...asks.values()]), [board, asks]);
  const onKeyDown = (press: KeyboardEvent): void => {
    const from = (press.target as HTMLElement).closest<HTMLElement>("[data-row]")?.dataset;
    if (from === undefined || press.altKey || press.ctrlKey || press.metaKey) return;
    const size = { rows: board.intents.length, columns: board.lies.length, isStacked };
    const to = cellBeside({ row: Number(from["row"]), column: Number(from["column"]) }, press.key, size);
    if (to === undefined) return;
    press.preventDefault();
    grid.current?.querySelector<HTMLElement>(`[data-row="${to.row}"][data-column="${to.column}"]`)?.focus();
  };
  const count = board.lies.length;
  const fits = `${count <= MOST_WIDE ? " fits-wide" : ""}${count <= MOST_MEDIUM ? " fits-medium" : ""}${count === 4 ? " in-twos" : ""}`;
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the cells inside are buttons; arrows only move between them.
    <div ref={grid} className={`board-grid${fits}`} style={{ "--lies": count } as never} onKeyDown={onKeyDown}>
      <div className="lie-heads" aria-hidden="true">
        {board.lies.map((lie) => (
          <p key={lie.key}>
            <LieName lie={lie} />
          </p>
        ))}
      </div>
      {board.intents.map((intent, row) => (
        <section key={intent} className="board-row" aria-label={intent}>
          <div className="intent-head">
            <h2>{intent}</h2>
            <p>{askedText(asks.get(intent), board.unit)}</p>
          </div>
          <ol>
            {board.lies.map((lie, column) => (
              <Cell key={lie.key} {...props} {...{ intent, scale, row, column }} lie={lie.key} ask={asks.get(intent)} />
            ))}
          </ol>
        </section>
      ))}
    </div>
  );
}

interface CellProps extends BoardGridProps {
  readonly intent: string;
  readonly lie: string;
  readonly ask: Asked | undefined;
  readonly scale: ReturnType<typeof boardScale>;
  readonly row: number;
  readonly column: number;
}

function Cell(props: CellProps): ReactElement | null {
  const { board, reading, plan, owner, intent, lie, row, column, chosen } = props;
  const is = (one: { readonly intent: string; readonly lie: string }): boolean =>
    one.intent === intent && one.lie === lie;
  const cell = board.cells.find(is);
  const words = reading.cells.find(is);
  if (cell === undefined || words === undefined) return null;
  return (
    <CellView
      {...{ board, cell }}
      reading={words}
      flat={flatOf(board, cell)}
      entry={props.entry}
      asked={props.ask}
      planned={plan && plannedCell(plan, { intent, lieName: lie })}
      isPlanKnown={plan !== undefined}
      scale={props.scale}
      handed={props.handed}
      shotsHref={shotsHref(cell, owner)}
      isChosen={chosen !== undefined && is(chosen)}
      place={{ row, column }}
      onPress={() => props.onPress(cell)}
    />
  );
}
