import { dayText } from "@underfoot/report";
import { type ReactElement, useState } from "react";
import { useAnswer } from "../api/use-answer.ts";
import { FaultNote } from "../frame/fault-note.tsx";
import { placeHref } from "../frame/place.ts";
import { countText } from "./fact-words.ts";

const FIRST_ROWS = 8;
const STEP = 50;

export interface SessionListProps {
  readonly playerId: string | undefined;
  readonly sessionId: string | undefined;
}

/** The sessions of a player, or of all, the latest first; each leads to its shots. */
export function SessionList({ playerId, sessionId }: SessionListProps): ReactElement {
  const [count, setCount] = useState(FIRST_ROWS);
  const limit = Math.min(500, count);
  const { answer, fault, again } = useAnswer("get /api/sessions", { query: { playerId, limit } }, [
    "session",
    "shot",
    "player",
  ]);
  const { rows = [], total = 0 } = answer ?? {};
  return (
    <nav className="session-list" aria-labelledby="sessions-title">
      <h2 id="sessions-title">{answer === undefined ? "Sessions" : `Sessions (${countText(total)})`}</h2>
      <FaultNote fault={fault} onAgain={again} />
      {answer !== undefined && total === 0 ? <p className="small">None yet. A plan or Bring in opens one.</p> : null}
      <ul>
        {rows.map(({ id, day, playerCode, shotCount }) => (
          <li key={id}>
            <a
              href={placeHref("shots", undefined, { playerId, sessionId: id })}
              aria-current={id === sessionId ? "true" : undefined}
            >
              <span>{dayText(day)}</span>
              <span>{playerId === undefined ? playerCode : ""}</span>
              <span className="quiet">
                {countText(shotCount)} {shotCount === 1 ? "shot" : "shots"}
              </span>
            </a>
          </li>
        ))}
      </ul>
      {rows.length < total && limit < 500 ? (
        <button type="button" className="btn" onClick={() => setCount(count + STEP)}>
          Earlier sessions
        </button>
      ) : null}
    </nav>
  );
}
