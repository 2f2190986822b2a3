import type { OutlineShape, PlayerShape } from "@underfoot/protocol";
import { dayText, inKilograms } from "@underfoot/report";
import { type ReactElement, useState } from "react";
import { useAnswer } from "../api/use-answer.ts";
import { ForgetPlayer } from "./forget-player.tsx";
import { massesByDay } from "./masses-by-day.ts";
import { PlayerForm } from "./player-form.tsx";
import { solePath } from "./sole-path.ts";

const CONSENT_WORDS: Readonly<Record<PlayerShape["consent"], string>> = {
  study: "may be counted in studies and exported",
  report: "for the player and the coach",
  none: "nothing agreed",
};

/** What is known of the player: feet, mass by session, consent with its date, notes. */
export function PlayerRecord({ player }: { readonly player: PlayerShape }): ReactElement {
  const [isChanging, setIsChanging] = useState(false);
  return (
    <aside className="record" aria-label="The player's record">
      <h2>{player.name ?? player.code}</h2>
      {isChanging ? <PlayerForm player={player} onDone={() => setIsChanging(false)} /> : <Facts player={player} />}
      {isChanging ? null : (
        <button type="button" className="btn" onClick={() => setIsChanging(true)}>
          Change
        </button>
      )}
      <Feet player={player} />
      <Masses player={player} />
      <ForgetPlayer player={player} />
    </aside>
  );
}

function Facts({ player }: { readonly player: PlayerShape }): ReactElement {
  const consent = player.consentDay === undefined ? "" : `, ${dayText(player.consentDay)}`;
  const facts: readonly (readonly [string, string | undefined])[] = [
    ["Code", player.code],
    ["Hand", player.handed],
    ["Mass", player.massKg === undefined ? undefined : inKilograms(player.massKg).text],
    ["Shoes", player.shoes],
    ["Consent", `${CONSENT_WORDS[player.consent]}${consent}`],
    ["Notes", player.notes],
  ];
  return (
    <dl>
      {facts.map(([word, value]) =>
        value === undefined ? null : (
          <div key={word} style={{ display: "contents" }}>
            <dt>{word}</dt>
            <dd>{value}</dd>
          </div>
        ),
      )}
    </dl>
  );
}

function Feet({ player }: { readonly player: PlayerShape }): ReactElement {
  const { answer: outlines = [] } = useAnswer("get /api/players/{id}/outlines", { params: { id: player.id } }, [
    "player",
  ]);
  const latest = (["lead", "trail"] as const).map((foot) => outlines.find(({ outline }) => outline.foot === foot));
  const traced = latest.filter((outline): outline is OutlineShape => outline !== undefined);
  if (traced.length === 0)
    return <p className="small">The feet are not traced yet. Trace them under Plan and checks.</p>;
  return (
    <figure>
      <div className="soles">
        {traced.map(({ id, outline }) => {
          const { d, widthPx, heightPx, lengthMm } = solePath(outline.outline);
          return (
            <svg
              key={id}
              width={widthPx}
              height={heightPx}
              role="img"
              aria-label={`${outline.foot} foot, ${lengthMm} mm long`}
            >
              <path className={outline.foot} d={d} />
            </svg>
          );
        })}
      </div>
      <figcaption className="caption">
        {traced
          .map(({ outline, shoes, createdMs }) => {
            const where = shoes === undefined ? "" : `, ${shoes}`;
            return `${outline.foot} ${solePath(outline.outline).lengthMm} mm${where}, traced ${dayText(new Date(createdMs).toISOString().slice(0, 10))}`;
          })
          .join("; ")}
        .
      </figcaption>
    </figure>
  );
}

function Masses({ player }: { readonly player: PlayerShape }): ReactElement | null {
  const { answer: points = [] } = useAnswer(
    "get /api/measures",
    { query: { measure: "both.weight.mean", playerId: player.id } },
    ["result", "shot"],
  );
  const masses = massesByDay(points);
  if (masses.length === 0) return null;
  return (
    <table>
      <caption>Mass by session, as the plates say, club included</caption>
      <tbody>
        {masses.slice(0, 12).map(({ day, massKg, sdKg }) => (
          <tr key={day}>
            <th scope="row">{dayText(day)}</th>
            <td>{inKilograms(massKg, sdKg).text}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
