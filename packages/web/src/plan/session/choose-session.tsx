import type { SessionLineShape } from "@underfoot/protocol";
import { type ReactElement, useState } from "react";
import { call } from "../../api/call.ts";
import { useAnswer } from "../../api/use-answer.ts";
import { useDeed } from "../../api/use-deed.ts";
import { FaultNote } from "../../frame/fault-note.tsx";
import { goTo, placeHref } from "../../frame/place.ts";
import { TextField } from "../fields.tsx";
import { AddLayout, AddPlayer, ChosenOrAdded } from "./adding.tsx";

/** Sessions planned for today or later, and a new one. */
export function ChooseSession(): ReactElement {
  const about = useAnswer("get /api/about", {});
  const day = about.answer?.day;
  const planned = useAnswer(
    "get /api/sessions",
    day === undefined ? undefined : { query: { fromDay: day, limit: 50 } },
    ["session", "player"],
  );
  const sessions = planned.answer?.rows ?? [];
  return (
    <>
      <h1>{firstSentence(sessions.length, planned.answer !== undefined)}</h1>
      <FaultNote fault={about.fault ?? planned.fault} onAgain={about.fault ? about.again : planned.again} />
      <div className="choose">
        <section aria-labelledby="planned-title">
          <h2 id="planned-title">Today or later</h2>
          <SessionList sessions={sessions} today={day} isKnown={planned.answer !== undefined} />
        </section>
        <section aria-labelledby="new-title">
          <h2 id="new-title">A new session</h2>
          {day === undefined ? null : <NewSession today={day} />}
        </section>
      </div>
    </>
  );
}

function firstSentence(count: number, isKnown: boolean): string {
  if (!isKnown) return "Which session is to be planned?";
  if (count === 0) return "No session is planned for today or later: open one.";
  return count === 1
    ? "One session is planned for today or later."
    : `${count} sessions are planned for today or later.`;
}

function SessionList({
  sessions,
  today,
  isKnown,
}: {
  readonly sessions: readonly SessionLineShape[];
  readonly today: string | undefined;
  readonly isKnown: boolean;
}): ReactElement {
  if (sessions.length === 0)
    return (
      <p className="quiet">{isKnown ? "None. Sessions of earlier days are under Shots." : "Looking for sessions."}</p>
    );
  return (
    <ul className="planned-list">
      {sessions
        .toSorted((a, b) => (a.day < b.day ? -1 : 1))
        .map(({ id, playerCode, day, place, shotCount }) => (
          <li key={id}>
            <a href={placeHref("plan", id)}>
              <b>{playerCode}</b>, {day === today ? "today" : day}
              {place === undefined ? "" : `, ${place}`}
            </a>{" "}
            <span className="quiet">{shotCount === 1 ? "1 shot" : `${shotCount} shots`}</span>
          </li>
        ))}
    </ul>
  );
}

function NewSession({ today }: { readonly today: string }): ReactElement {
  const players = useAnswer("get /api/players", {}, ["player"]);
  const layouts = useAnswer("get /api/layouts", {}, ["layout"]);
  const deed = useDeed();
  const [playerId, setPlayerId] = useState<string>();
  const [layoutId, setLayoutId] = useState<string>();
  const [day, setDay] = useState(today);
  const [place, setPlace] = useState<string>();
  const open = async (): Promise<void> => {
    if (playerId === undefined) return;
    const json = { playerId, day, ...(layoutId ? { layoutId } : {}), ...(place ? { place } : {}) };
    const session = await deed.run(() => call("post /api/sessions", { json }));
    if (session !== undefined) goTo(placeHref("plan", session.id));
  };
  return (
    <div className="new-session">
      <FaultNote fault={players.fault ?? layouts.fault} />
      <ChosenOrAdded
        label="Player"
        value={playerId}
        choices={(players.answer ?? []).map(({ id, code, name }) => [
          id,
          name === undefined ? code : `${code}, ${name}`,
        ])}
        none="Choose a player"
        onChosen={setPlayerId}
        addWord="Add a player"
        form={(close) => (
          <AddPlayer
            onCancel={close}
            onAdded={({ id }) => {
              players.again();
              setPlayerId(id);
              close();
            }}
          />
        )}
      />
      <div className="fields">
        <TextField label="Day" type="date" value={day} isRequired onValue={(said = today) => setDay(said)} />
        <TextField label="Place" value={place} most={200} onValue={setPlace} />
      </div>
      <ChosenOrAdded
        label="Plate layout"
        value={layoutId}
        choices={(layouts.answer ?? []).map(({ id, name }) => [id, name])}
        none="Not said yet"
        onChosen={setLayoutId}
        addWord="Add a layout"
        form={(close) => (
          <AddLayout
            onCancel={close}
            onAdded={({ id }) => {
              layouts.again();
              setLayoutId(id);
              close();
            }}
          />
        )}
      />
      <FaultNote fault={deed.fault} />
      <button
        type="button"
        className="btn main"
        disabled={playerId === undefined || deed.isBusy}
        onClick={() => void open()}
      >
        Open the session
      </button>
      {playerId === undefined ? <p className="small">Choose or add the player first.</p> : null}
    </div>
  );
}
