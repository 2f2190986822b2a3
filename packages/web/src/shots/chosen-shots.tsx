import { dayText } from "@underfoot/report";
import { type ReactElement, useState } from "react";
import { useAnswer } from "../api/use-answer.ts";
import { countText } from "./fact-words.ts";
import type { ShotDeeds } from "./use-shot-deeds.ts";

export interface ChosenShotsProps {
  readonly count: number;
  readonly deeds: ShotDeeds;
  readonly onNone: () => void;
  /** Of two chosen shots: where they are compared. */
  readonly compareHref: string | undefined;
}

const shots = (count: number): string => `${countText(count)} ${count === 1 ? "shot" : "shots"}`;

/** What can be done with the chosen shots, and what was just done, with the way back. */
export function ChosenShots({ count, deeds, onNone, compareHref }: ChosenShotsProps): ReactElement {
  const { running, last } = deeds;
  return (
    <div className="chosen-bar">
      <div role="status">
        {running === undefined ? null : (
          <p className="deeds">
            {running.words} {countText(running.done)} of {shots(running.total)}.
            <button type="button" className="btn" onClick={deeds.stop}>
              Stop
            </button>
          </p>
        )}
        {last === undefined || running !== undefined ? null : (
          <div className="deeds">
            <p>{last.sentence}</p>
            {last.changed.length === 0 ? null : (
              <button type="button" className="btn" onClick={deeds.undo}>
                Undo
              </button>
            )}
            <button type="button" className="btn" onClick={deeds.forget}>
              Close
            </button>
          </div>
        )}
      </div>
      {last === undefined || last.refused.length === 0 ? null : (
        <div className="fault" role="alert">
          <ul>
            {last.refused.map(({ id, fault, words }) => (
              <li key={id}>
                {words}: {fault.message} <span className="quiet">{fault.remedy}</span>
              </li>
            ))}
          </ul>
        </div>
      )}
      {count === 0 ? null : (
        <section className="deeds" aria-label="The chosen shots">
          <b>{shots(count)} chosen</b>
          <button type="button" className="btn" disabled={running !== undefined} onClick={() => deeds.label("kept")}>
            Keep
          </button>
          <button
            type="button"
            className="btn"
            disabled={running !== undefined}
            onClick={() => deeds.label("set-aside")}
          >
            Set aside
          </button>
          {compareHref === undefined ? null : (
            <a className="btn" href={compareHref}>
              Compare
            </a>
          )}
          <MoveTo isBusy={running !== undefined} onMove={deeds.move} />
          <button type="button" className="btn" onClick={onNone}>
            Choose none
          </button>
        </section>
      )}
    </div>
  );
}

interface MoveToProps {
  readonly isBusy: boolean;
  readonly onMove: (sessionId: string, day: string) => void;
}

function MoveTo({ isBusy, onMove }: MoveToProps): ReactElement {
  const [id, setId] = useState("");
  const { answer } = useAnswer("get /api/sessions", { query: { limit: 500 } }, ["session", "shot"]);
  const session = answer?.rows.find((row) => row.id === id);
  return (
    <span className="move-to">
      <select aria-label="Session to move to" value={id} onChange={({ target }) => setId(target.value)}>
        <option value="">another session</option>
        {answer?.rows.map(({ id: other, day, playerCode }) => (
          <option key={other} value={other}>
            {dayText(day)}, {playerCode}
          </option>
        ))}
      </select>
      <button
        type="button"
        className="btn"
        disabled={isBusy || session === undefined}
        onClick={() => session !== undefined && onMove(session.id, session.day)}
      >
        Move
      </button>
    </span>
  );
}
