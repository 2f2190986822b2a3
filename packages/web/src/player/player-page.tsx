import { type CatalogueEntry, catalogueEntry } from "@underfoot/mechanics";
import type { PlayerShape } from "@underfoot/protocol";
import { type ReactElement, useEffect, useState } from "react";
import { useAnswer } from "../api/use-answer.ts";
import { FaultNote } from "../frame/fault-note.tsx";
import { goTo, type Place, placeHref } from "../frame/place.ts";
import { MeasureChoice } from "./measure-choice.tsx";
import { PlayerRecord } from "./player-record.tsx";
import { usePlayerYear } from "./use-player-year.ts";
import { YearRowView } from "./year-row-view.tsx";
import "./player.css";

export interface PlayerPageProps {
  readonly place: Place;
}

const DEFAULT_MEASURE = "lead.share.at.delivery";

/** Is this player different from a month ago? */
export function PlayerPage({ place }: PlayerPageProps): ReactElement {
  const { answer: players, fault, isBusy, again } = useAnswer("get /api/players", {}, ["player"]);
  const player = players?.find(({ id }) => id === place.id) ?? (place.id === undefined ? players?.[0] : undefined);
  useEffect(() => {
    document.title = player === undefined ? "Player, Underfoot" : `${player.code}, Underfoot`;
  }, [player]);
  if (fault !== undefined) return <FaultNote fault={fault} onAgain={again} />;
  if (players === undefined) return <p className="state">{isBusy ? "Asking for the players." : ""}</p>;
  if (players.length === 0) return <NoPlayers />;
  return (
    <>
      <div className="head">
        <label className="field">
          Player
          <select
            value={player?.id ?? ""}
            onChange={({ target }) => goTo(placeHref("player", target.value, place.query))}
          >
            {player === undefined ? <option value="">Choose</option> : null}
            {players.map(({ id, code, name }) => (
              <option key={id} value={id}>
                {name === undefined ? code : `${code}, ${name}`}
              </option>
            ))}
          </select>
        </label>
      </div>
      {player === undefined ? (
        <p className="state">There is no player of this address any more. Choose another.</p>
      ) : (
        <OnePlayer key={player.id} player={player} place={place} />
      )}
    </>
  );
}

function NoPlayers(): ReactElement {
  return (
    <div className="state">
      <h1>No players yet</h1>
      <p>A player is added with the first plan, or by recordings whose sidecar names one.</p>
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

function OnePlayer({ player, place }: { readonly player: PlayerShape; readonly place: Place }): ReactElement {
  const entry = (catalogueEntry(place.query["measure"] ?? DEFAULT_MEASURE) ??
    catalogueEntry(DEFAULT_MEASURE)) as CatalogueEntry;
  const asked = entry.axes.find((one) => one === place.query["axes"]);
  const axes = asked ?? entry.axes[0];
  const { year, fault, isBusy, again } = usePlayerYear(player, entry, axes);
  const onChoice = (next: CatalogueEntry, nextAxes: "turf" | "level" | undefined): void =>
    goTo(placeHref("player", player.id, { measure: next.id, axes: nextAxes }), "replace");
  return (
    <div className="player-body">
      <div>
        <h1 aria-busy={isBusy}>{year?.sentence ?? "Reading the sessions."}</h1>
        <p className="caption">
          {entry.title}
          {axes === undefined ? "" : `, ${axes} axes`}. Dots are shots, the large dot a day’s mean with its 95 %
          interval, grey where one more shot of that day would be expected.
        </p>
        <MeasureChoice entry={entry} axes={axes} onChoice={onChoice} />
        <FaultNote fault={fault} onAgain={again} />
        {year === undefined ? null : <Rows year={year} />}
      </div>
      <PlayerRecord player={player} />
    </div>
  );
}

function Rows({ year }: { readonly year: NonNullable<ReturnType<typeof usePlayerYear>["year"]> }): ReactElement {
  const [shown, setShown] = useState<string>();
  const { rows, entry } = year;
  const first = rows[0];
  if (first === undefined)
    return (
      <div className="state">
        <p>Results come with the shots; a measure is missing where it could not be computed.</p>
        <p className="deeds">
          <a className="btn" href={placeHref("settings")}>
            Compute what is missing
          </a>
        </p>
      </div>
    );
  const chosen = rows.find(({ key }) => key === shown) ?? first;
  return (
    <>
      <label className="field one-condition">
        Condition
        <select value={chosen.key} onChange={({ target }) => setShown(target.value)}>
          {rows.map(({ key, intent, lieName }) => (
            <option key={key} value={key}>
              {intent}, {lieName}
            </option>
          ))}
        </select>
      </label>
      {rows.map((row) => (
        <YearRowView key={row.key} row={row} entry={entry} isChosen={row.key === chosen.key} />
      ))}
    </>
  );
}
