import { allColumns } from "@underfoot/compare";
import { type ReactElement, useEffect, useMemo } from "react";
import { FaultNote } from "../frame/fault-note.tsx";
import { goTo, type Place, placeHref } from "../frame/place.ts";
import { Hatches } from "../shot/sheet/hatches.tsx";
import { type ChosenKind, firstSides, SideChoice } from "./choose/side-choice.tsx";
import { useChosenPlayer } from "./choose/use-chosen-player.ts";
import { askedOf, askFromQuery, type CompareAsk, kindOfAsk, queryFromAsk } from "./compare-address.ts";
import { Compared } from "./compared.tsx";
import { WaysOfLooking } from "./ways-of-looking.tsx";
import "./compare.css";

export interface ComparePageProps {
  readonly place: Place;
}

/** What changed, beyond her scatter and beyond gravity? */
export function ComparePage({ place }: ComparePageProps): ReactElement {
  const ask = useMemo(() => askFromQuery(place.query), [place.query]);
  const chosen = useChosenPlayer(ask, place.query["playerId"]);
  const { players, player, shots } = chosen;
  const kind = kindOfAsk(ask);
  const isBare = ask.a === undefined && ask.b === undefined && ask.unread.length === 0;
  const goWith = (next: CompareAsk, how: "push" | "replace" = "replace"): void =>
    goTo(placeHref("compare", undefined, { ...queryFromAsk(next), playerId: place.query["playerId"] }), how);
  useEffect(() => {
    document.title = "Compare, Underfoot";
  }, []);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the address says when there is something to begin with.
  useEffect(() => {
    if (!isBare || shots === undefined || player === undefined) return;
    const [a, b] = firstSides({ player, shots, ask }, "conditions");
    if (a !== undefined) goWith(askedOf(ask, a, b));
  }, [isBare, shots, player]);
  if (players === undefined)
    return chosen.fault === undefined ? (
      <p className="state">Asking for the players.</p>
    ) : (
      <FaultNote fault={chosen.fault} onAgain={chosen.again} />
    );
  if (players.length === 0) return <NoShots what="No players yet" />;
  const choice = (
    <SideChoice
      players={players}
      player={player}
      shots={shots ?? []}
      ask={ask}
      kind={kind ?? chosenKind(ask)}
      onPlayer={(playerId) => goTo(placeHref("compare", undefined, { playerId, axes: ask.axes }))}
      onSides={(a, b) => goWith(askedOf(ask, a, b))}
    />
  );
  if (player === undefined || kind === undefined)
    return (
      <div className="compare-start">
        <h1>What changed, beyond scatter and beyond gravity?</h1>
        <p role="status">{chosen.isBusy ? "Asking for the shots." : openWords(ask, shots?.length)}</p>
        <FaultNote fault={chosen.fault} onAgain={chosen.again} />
        {choice}
      </div>
    );
  return (
    <>
      <svg className="hidden" width="0" height="0" aria-hidden="true">
        <Hatches />
      </svg>
      <Compared key={player.id} ask={ask} kind={kind} player={player} shots={shots} onAsk={goWith} choice={choice} />
      <WaysOfLooking ask={ask} countAll={allColumns(ask.axes).length} onAsk={goWith} />
    </>
  );
}

/** The kind that half chosen sides are meant for. */
function chosenKind({ a, b }: CompareAsk): ChosenKind {
  const kinds = [a?.kind, b?.kind];
  if (kinds.includes("usual")) return "shot-usual";
  return kinds.includes("shot") ? "shots" : "conditions";
}

function openWords({ a, b, unread }: CompareAsk, countShots: number | undefined): string {
  if (unread.length > 0)
    return `${unread.map((name) => name.toUpperCase()).join(" and ")} of this address cannot be read. Choose anew.`;
  if (a !== undefined && b !== undefined) return "These two do not go together. Choose two of a kind.";
  if (countShots === 0) return "This player has no shots with results yet. Bring some in, or choose another player.";
  return "Choose two sides.";
}

function NoShots({ what }: { readonly what: string }): ReactElement {
  return (
    <div className="state">
      <h1>{what}</h1>
      <p>Two conditions are compared once there are shots of both, five of each at least.</p>
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
