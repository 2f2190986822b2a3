import type { ReactElement } from "react";
import { useAnswer } from "../api/use-answer.ts";
import { FaultNote } from "../frame/fault-note.tsx";
import { placeHref } from "../frame/place.ts";
import { ChoiceField, TextField } from "../plan/fields.tsx";
import type { BringPlace } from "./bring-place.ts";
import { counted } from "./bring-words.ts";

export interface PlaceChoiceProps {
  readonly place: BringPlace;
  readonly today: string;
  /** Recordings with a sidecar of all. */
  readonly said: number;
  readonly total: number;
  readonly onPlace: (place: BringPlace) => void;
}

/** Into which session the shots go. */
export function PlaceChoice({ place, today, said, total, onPlace }: PlaceChoiceProps): ReactElement {
  const sessions = useAnswer("get /api/sessions", { query: { limit: 200 } }, ["session"]);
  const players = useAnswer("get /api/players", {}, ["player"]);
  return (
    <fieldset className="place-choice">
      <legend>Into which session</legend>
      <Kind
        kind="said"
        word={
          said === total
            ? "as each sidecar names the player, by day"
            : `as the sidecars name the player, by day; ${counted(total - said, "file has", "files have")} none`
        }
        place={place}
        onChoose={() => onPlace({ kind: "said" })}
      />
      <Kind
        kind="session"
        word="a session that is there"
        place={place}
        onChoose={() => onPlace({ kind: "session", sessionId: undefined })}
      />
      {place.kind === "session" ? (
        <ChoiceField
          label="Session"
          value={place.sessionId}
          none="Choose"
          choices={(sessions.answer?.rows ?? []).map(
            ({ id, day, playerCode, place: where, shotCount }) =>
              [
                id,
                `${day}, ${playerCode}${where === undefined ? "" : `, ${where}`}, ${counted(shotCount, "shot")}`,
              ] as const,
          )}
          onValue={(sessionId) => onPlace({ kind: "session", sessionId: sessionId === "" ? undefined : sessionId })}
        />
      ) : null}
      <Kind
        kind="new"
        word="one player and day, opened where there is none"
        place={place}
        onChoose={() => onPlace({ kind: "new", playerId: undefined, day: today })}
      />
      {place.kind === "new" ? (
        <div className="plate-fields">
          <ChoiceField
            label="Player"
            value={place.playerId}
            none="Choose"
            choices={(players.answer ?? []).map(
              ({ id, code, name }) => [id, name === undefined ? code : `${code}, ${name}`] as const,
            )}
            onValue={(playerId) => onPlace({ ...place, playerId: playerId === "" ? undefined : playerId })}
          />
          <TextField label="Day" type="date" value={place.day} onValue={(day = "") => onPlace({ ...place, day })} />
          {players.answer?.length === 0 ? (
            <p className="small">
              There is no player yet. <a href={placeHref("plan")}>Add one with the first plan.</a>
            </p>
          ) : null}
        </div>
      ) : null}
      <FaultNote fault={sessions.fault ?? players.fault} onAgain={sessions.again} />
    </fieldset>
  );
}

interface KindProps {
  readonly kind: BringPlace["kind"];
  readonly word: string;
  readonly place: BringPlace;
  readonly onChoose: () => void;
}

function Kind({ kind, word, place, onChoose }: KindProps): ReactElement {
  return (
    <label className="check">
      <input type="radio" name="bring-in place" checked={place.kind === kind} onChange={onChoose} />
      {word}
    </label>
  );
}
