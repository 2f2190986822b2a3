import type { ClubShape, LayoutShape, PlayerShape, SessionShape } from "@underfoot/protocol";
import { type ReactElement, useState } from "react";
import { call } from "../../api/call.ts";
import { NotesField, NumberField, TextField } from "../fields.tsx";
import { AddClub, AddLayout, ChosenOrAdded } from "./adding.tsx";
import { askedPart } from "./asked-part.ts";
import { LayoutFields } from "./layout-fields.tsx";
import { PlayerFields } from "./player-fields.tsx";
import type { Keeping } from "./use-keeping.ts";

export interface SessionFactsProps {
  readonly session: SessionShape;
  readonly player: PlayerShape | undefined;
  readonly layouts: readonly LayoutShape[];
  readonly clubs: readonly ClubShape[];
  readonly keeping: Keeping;
}

type SessionPart = { readonly [K in "day" | "place" | "note" | "layoutId"]?: SessionShape[K] | undefined };

/** Who, where, on which plates, with which clubs; each change is kept at once. */
export function SessionFacts(props: SessionFactsProps): ReactElement {
  const { session, player, layouts, keeping } = props;
  const layout = layouts.find(({ id }) => id === session.layoutId);
  const change = (part: SessionPart): void =>
    void keeping.deed.run(() =>
      call("patch /api/sessions/{id}", { params: { id: session.id }, json: askedPart(part) }),
    );
  return (
    <div className="session-facts">
      <div>
        <section aria-labelledby="session-title">
          <h3 id="session-title">Session</h3>
          <div className="fields">
            <TextField
              label="Day"
              type="date"
              isRequired
              value={session.day}
              onValue={(day) => day !== undefined && change({ day })}
            />
            <TextField label="Place" value={session.place} most={200} onValue={(place) => change({ place })} />
            <NotesField
              label="Notes on the session"
              value={session.note}
              most={4000}
              onValue={(note) => change({ note })}
            />
          </div>
        </section>
        <ClubPart {...props} />
      </div>
      <PlayerPart player={player} keeping={keeping} />
      <section aria-labelledby="layout-title">
        <h3 id="layout-title">Plates</h3>
        <ChosenOrAdded
          label="Plate layout"
          value={session.layoutId}
          choices={layouts.map(({ id, name }) => [id, name])}
          none="Not said yet"
          onChosen={(layoutId) => change({ layoutId })}
          addWord="Add a layout"
          form={(close) => (
            <AddLayout
              onCancel={close}
              onAdded={({ id }) => {
                change({ layoutId: id });
                close();
              }}
            />
          )}
        />
        {layout === undefined ? null : (
          <LayoutFields
            layout={layout}
            onPart={(part) =>
              void keeping.deed.run(() =>
                call("patch /api/layouts/{id}", { params: { id: layout.id }, json: askedPart(part) }),
              )
            }
          />
        )}
      </section>
    </div>
  );
}

function PlayerPart({ player, keeping }: Pick<SessionFactsProps, "player" | "keeping">): ReactElement | null {
  if (player === undefined) return null;
  return (
    <section aria-labelledby="player-title">
      <h3 id="player-title">Player</h3>
      <PlayerFields
        player={player}
        onPart={(part) =>
          void keeping.deed.run(() =>
            call("patch /api/players/{id}", { params: { id: player.id }, json: askedPart(part) }),
          )
        }
      />
    </section>
  );
}

function ClubPart({ clubs, keeping }: SessionFactsProps): ReactElement {
  const [isAdding, setIsAdding] = useState(false);
  return (
    <section aria-labelledby="clubs-title">
      <h3 id="clubs-title">Clubs</h3>
      {clubs.length === 0 ? <p className="small">None yet: add those that are hit today.</p> : null}
      {clubs.map((club) => (
        <fieldset key={club.id} className="club-row">
          <legend className="hidden">Club {club.name}</legend>
          <TextField
            label="Name"
            value={club.name}
            isRequired
            most={100}
            onValue={(name) =>
              void keeping.deed.run(() =>
                call("patch /api/clubs/{id}", { params: { id: club.id }, json: askedPart({ name }) }),
              )
            }
          />
          <NumberField
            label="Loft, °"
            value={club.loftDeg}
            min={0}
            max={90}
            onValue={(loftDeg) =>
              void keeping.deed.run(() =>
                call("patch /api/clubs/{id}", { params: { id: club.id }, json: askedPart({ loftDeg }) }),
              )
            }
          />
          <button
            type="button"
            className="btn"
            onClick={() => void keeping.deed.run(() => call("delete /api/clubs/{id}", { params: { id: club.id } }))}
          >
            Remove<span className="hidden"> the club {club.name}</span>
          </button>
        </fieldset>
      ))}
      {isAdding ? (
        <AddClub
          onCancel={() => setIsAdding(false)}
          onAdded={() => {
            setIsAdding(false);
            keeping.look();
          }}
        />
      ) : (
        <button type="button" className="btn" onClick={() => setIsAdding(true)}>
          Add a club
        </button>
      )}
    </section>
  );
}
