import type { PlayerShape, SessionLineShape } from "@underfoot/protocol";
import { dayText } from "@underfoot/report";
import type { ReactElement } from "react";
import { MeasureChoice } from "../player/measure-choice.tsx";
import type { BoardAsk } from "./board-address.ts";

export interface BoardChoiceProps {
  readonly ask: BoardAsk;
  readonly players: readonly PlayerShape[];
  readonly player: PlayerShape | undefined;
  readonly sessions: readonly SessionLineShape[];
  readonly onAsk: (ask: BoardAsk) => void;
}

/** Whose shots, of which session, by which measure. */
export function BoardChoice({ ask, players, player, sessions, onAsk }: BoardChoiceProps): ReactElement {
  return (
    <div className="board-choice">
      <label className="field">
        Player
        <select
          value={player?.id ?? ""}
          onChange={({ target }) => onAsk({ ...ask, playerId: target.value, sessionId: undefined, looked: [] })}
        >
          {player === undefined ? <option value="">Choose</option> : null}
          {players.map(({ id, code, name }) => (
            <option key={id} value={id}>
              {name === undefined ? code : `${code}, ${name}`}
            </option>
          ))}
        </select>
      </label>
      <label className="field">
        Session
        <select
          value={ask.sessionId ?? ""}
          onChange={({ target }) =>
            onAsk({ ...ask, sessionId: target.value === "" ? undefined : target.value, looked: [] })
          }
        >
          <option value="">{sessions.length === 1 ? "the only one" : `all ${sessions.length} sessions`}</option>
          {sessions.map(({ id, day, shotCount }) => (
            <option key={id} value={id}>
              {dayText(day)}, {shotCount} {shotCount === 1 ? "shot" : "shots"}
            </option>
          ))}
        </select>
      </label>
      <MeasureChoice entry={ask.entry} axes={ask.axes} onChoice={(entry, axes) => onAsk({ ...ask, entry, axes })} />
    </div>
  );
}
