import type { BoardCell } from "@underfoot/compare";
import type { PlayerShape } from "@underfoot/protocol";
import { boardReading } from "@underfoot/report";
import { type ReactElement, useEffect, useMemo, useState } from "react";
import { useAnswer } from "../api/use-answer.ts";
import { FaultNote } from "../frame/fault-note.tsx";
import { goTo, type Place, placeHref } from "../frame/place.ts";
import { useKeys } from "../frame/use-keys.ts";
import { SLOPE_CAUTIONS } from "../plan/ground/lie-cautions.ts";
import { SentenceWords, useEscapeFromSentence } from "../shot/reading-view.tsx";
import { askFromQuery, type BoardAsk, queryFromAsk } from "./board-address.ts";
import { BoardChoice } from "./board-choice.tsx";
import { BoardGrid, flatOf } from "./board-grid.tsx";
import { BOARD_KEYS, type BoardDeed } from "./board-keys.ts";
import { BoardLegend } from "./board-legend.tsx";
import { BoardTable } from "./board-table.tsx";
import { compareHref, isComparable, shotsHref } from "./cell-links.ts";
import { ChosenCell } from "./chosen-cell.tsx";
import { type BoardState, useBoard, useSessions } from "./use-board.ts";
import "./board.css";

export interface BoardPageProps {
  readonly place: Place;
}

/** Which shots, on which lies, are really different? */
export function BoardPage({ place }: BoardPageProps): ReactElement {
  const ask = askFromQuery(place.query);
  const players = useAnswer("get /api/players", {}, ["player"]);
  const latest = useAnswer("get /api/sessions", ask.playerId === undefined ? { query: { limit: 200 } } : undefined);
  useEffect(() => {
    document.title = "Board, Underfoot";
  }, []);
  const { fault, answer: all } = players;
  if (fault !== undefined) return <FaultNote fault={fault} onAgain={players.again} />;
  if (all === undefined || (ask.playerId === undefined && latest.answer === undefined && latest.isBusy))
    return <p className="state">Asking for the players.</p>;
  if (all.length === 0) return <NothingYet what="No players yet" />;
  const playerId = ask.playerId ?? withMostShots(latest.answer?.rows ?? []) ?? all[0]?.id;
  const player = all.find(({ id }) => id === playerId);
  return <OfPlayer key={player?.id} ask={ask} players={all} player={player} />;
}

function withMostShots(
  sessions: readonly { readonly playerId: string; readonly shotCount: number }[],
): string | undefined {
  const counts = new Map<string, number>();
  for (const { playerId, shotCount } of sessions) counts.set(playerId, (counts.get(playerId) ?? 0) + shotCount);
  return [...counts].sort((one, other) => other[1] - one[1])[0]?.[0];
}

interface OfPlayerProps {
  readonly ask: BoardAsk;
  readonly players: readonly PlayerShape[];
  readonly player: PlayerShape | undefined;
}

const goWith = (ask: BoardAsk): void => goTo(placeHref("board", undefined, queryFromAsk(ask)), "replace");

function OfPlayer({ ask, players, player }: OfPlayerProps): ReactElement {
  const state = useBoard(ask, player?.id);
  const { sessions, asked, plan } = useSessions(player?.id, ask.sessionId);
  const { board } = state;
  const [chosen, setChosen] = useState<Pick<BoardCell, "intent" | "lie">>();
  const reading = useMemo(
    () => board && boardReading(board, player === undefined ? {} : { pronoun: player.pronoun }),
    [board, player],
  );
  const owner = { playerId: player?.id ?? "", sessionId: ask.sessionId };
  const cell = board?.cells.find(({ intent, lie }) => intent === chosen?.intent && lie === chosen?.lie);
  const compare = (a: BoardCell, b: BoardCell): void => goTo(compareHref(a, b, { owner, axes: ask.axes }));
  const compareWithFlat = (): void => {
    const of = cell ?? focusedCell(board);
    const flat = board && of && flatOf(board, of);
    if (of !== undefined && flat !== undefined && isComparable(of) && isComparable(flat)) compare(flat, of);
    else if (of !== undefined) setChosen(of);
  };
  const press = (next: BoardCell): void => {
    if (cell === next) setChosen(undefined);
    else if (cell !== undefined && isComparable(cell) && isComparable(next)) compare(cell, next);
    else setChosen(next);
  };
  const deeds: Readonly<Record<BoardDeed, () => void>> = {
    compare: compareWithFlat,
    axes: () => {
      const other = ask.entry.axes.find((one) => one !== ask.axes);
      if (other !== undefined) goWith({ ...ask, axes: other });
    },
    letGo: () => setChosen(undefined),
  };
  useKeys(BOARD_KEYS, deeds);
  useEscapeFromSentence();
  return (
    <div className="board" aria-busy={state.isBusy}>
      <h1>
        {reading === undefined || board?.cells.length === 0 ? (
          "Which shots, on which lies, are really different?"
        ) : (
          <SentenceWords sentence={reading.headline} />
        )}
      </h1>
      <p className="looks">
        {[...(reading?.looks ?? []), ...(reading?.notices ?? [])].map((sentence) => (
          <SentenceWords key={sentence.text} sentence={sentence} />
        ))}
      </p>
      <BoardChoice {...{ ask, players, player, sessions }} onAsk={goWith} />
      {ask.unread === undefined ? null : (
        <p className="caption">
          The board has no measure “{ask.unread}”. Shown is {ask.entry.title}.
        </p>
      )}
      <Waiting state={state} />
      {player === undefined ? (
        <p className="state">There is no player of this address any more. Choose another.</p>
      ) : null}
      {board === undefined || reading === undefined || player === undefined ? null : board.cells.length === 0 ? (
        <NothingYet what="" />
      ) : (
        <>
          <BoardGrid
            {...{ board, reading, asked, plan, owner }}
            entry={ask.entry}
            handed={player.handed}
            chosen={cell}
            onPress={press}
          />
          {cell === undefined ? null : (
            <ChosenCell
              {...{ board, reading, cell }}
              flat={flatOf(board, cell)}
              shotsHref={shotsHref(cell, owner)}
              onCompare={compareWithFlat}
              onLetGo={deeds.letGo}
            />
          )}
          <BoardLegend board={board} pronoun={player.pronoun} />
          <BoardTable board={board} reading={reading} />
          {board.lies.every(({ isFlat }) => isFlat) ? null : <p className="safety">{SLOPE_CAUTIONS}</p>}
        </>
      )}
    </div>
  );
}

/** The cell that has the focus, for keys that act on it. */
function focusedCell(board: BoardState["board"]): BoardCell | undefined {
  const at = document.activeElement instanceof HTMLElement ? document.activeElement.dataset : {};
  if (board === undefined || at["row"] === undefined) return undefined;
  const [intent, lie] = [board.intents[Number(at["row"])], board.lies[Number(at["column"])]?.key];
  return board.cells.find((cell) => cell.intent === intent && cell.lie === lie);
}

/** Words while it takes longer than a moment, with the way out; what the server refused. */
function Waiting({
  state: { isBusy, isLong, isStopped, fault, stop, again },
}: {
  readonly state: BoardState;
}): ReactElement {
  return (
    <>
      <div role="status" className="waiting">
        {isBusy && isLong ? (
          <p className="deeds">
            Computing the shots and comparing the cells.
            <button type="button" className="btn" onClick={stop}>
              Cancel
            </button>
          </p>
        ) : null}
        {isStopped ? (
          <p className="deeds">
            Stopped.
            <button type="button" className="btn" onClick={again}>
              Compute the board
            </button>
          </p>
        ) : null}
      </div>
      <FaultNote fault={isBusy ? undefined : fault} onAgain={again} />
    </>
  );
}

function NothingYet({ what }: { readonly what: string }): ReactElement {
  return (
    <div className="state">
      {what === "" ? null : <h1>{what}</h1>}
      <p>The board fills with shots whose intent and lie were said: five of each cell, and of the flat, for words.</p>
      <p className="deeds">
        <a className="btn main" href={placeHref("plan")}>
          Plan a session
        </a>
        <a className="btn" href={placeHref("bring-in")}>
          Bring recordings in
        </a>
      </p>
    </div>
  );
}
