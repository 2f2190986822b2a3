import type { OutcomeName } from "@underfoot/compare";
import type { ShotsAsked } from "@underfoot/domain";
import { type CatalogueEntry, catalogueEntry } from "@underfoot/mechanics";
import type { PlayerShape } from "@underfoot/protocol";
import { dayText } from "@underfoot/report";
import type { ReactElement } from "react";
import { type CountedShot, countedWords, type SideFacts } from "../compare/choose/shot-counts.ts";
import type { SideFact } from "../compare/choose/side-query.ts";
import { MeasureChoice } from "../player/measure-choice.tsx";
import { OUTCOMES, type OutcomeAsk, withShots } from "./outcome-address.ts";

export interface OutcomeChoiceProps {
  readonly ask: OutcomeAsk;
  readonly players: readonly PlayerShape[];
  readonly player: PlayerShape | undefined;
  readonly shots: readonly CountedShot[];
  readonly onPlayer: (playerId: string) => void;
  readonly onAsk: (ask: OutcomeAsk) => void;
}

const FACTS: readonly { readonly fact: SideFact; readonly label: string; readonly all: string }[] = [
  { fact: "intent", label: "Intent", all: "any intent" },
  { fact: "lieName", label: "Lie", all: "any lie" },
  { fact: "club", label: "Club", all: "any club" },
  { fact: "sessionId", label: "Session", all: "all sessions" },
];

const NAMES = Object.keys(OUTCOMES) as readonly OutcomeName[];

/** One player, the shots, the result and the measure. */
export function OutcomeChoice({ ask, players, player, shots, onPlayer, onAsk }: OutcomeChoiceProps): ReactElement {
  const entry = catalogueEntry(ask.measure);
  const onMeasure = ({ id }: CatalogueEntry, axes: "turf" | "level" | undefined): void =>
    onAsk({ ...ask, measure: id, axes: axes ?? ask.axes });
  return (
    <div className="outcome-choice">
      <div className="deeds">
        <label className="field">
          Player
          <select value={player?.id ?? ""} onChange={({ target }) => onPlayer(target.value)}>
            {player === undefined ? <option value="">Choose</option> : null}
            {players.map(({ id, code, name }) => (
              <option key={id} value={id}>
                {name === undefined ? code : `${code}, ${name}`}
              </option>
            ))}
          </select>
        </label>
        {player === undefined ? null : <Facts {...{ ask, shots, onAsk }} playerId={player.id} />}
      </div>
      <div className="deeds">
        <label className="field">
          Result
          <select
            value={ask.outcome}
            onChange={({ target }) =>
              onAsk({ ...ask, outcome: NAMES.find((name) => name === target.value) ?? ask.outcome })
            }
          >
            {NAMES.map((name) => (
              <option key={name} value={name}>
                {OUTCOMES[name].word}
              </option>
            ))}
          </select>
        </label>
        {entry === undefined ? null : <MeasureChoice entry={entry} axes={ask.axes} onChoice={onMeasure} />}
      </div>
    </div>
  );
}

interface FactsProps extends Pick<OutcomeChoiceProps, "ask" | "shots" | "onAsk"> {
  readonly playerId: string;
}

function Facts({ ask, shots, onAsk, playerId }: FactsProps): ReactElement {
  const asked: ShotsAsked = ask.of?.kind === "shots" ? ask.of.asked : {};
  const facts: SideFacts = Object.fromEntries(
    FACTS.flatMap(({ fact }) => (asked[fact] === undefined ? [] : [[fact, asked[fact]]])),
  );
  const dayOf = (sessionId: string): string => {
    const day = shots.find((shot) => shot.sessionId === sessionId)?.day;
    return day === undefined ? sessionId : dayText(day);
  };
  return (
    <>
      {FACTS.map(({ fact, label, all }) => (
        <label key={fact} className="field">
          {label}
          <select
            value={asked[fact] ?? ""}
            onChange={({ target }) => {
              const { [fact]: _, ...others } = asked;
              const chosen = target.value === "" ? others : { ...others, [fact]: target.value };
              onAsk(withShots(ask, { kind: "shots", asked: { ...chosen, playerId } }));
            }}
          >
            <option value="">{all}</option>
            {countedWords(shots, facts, fact).map(({ word, countKept }) => (
              <option key={word} value={word}>
                {fact === "sessionId" ? dayOf(word) : word} ({countKept})
              </option>
            ))}
          </select>
        </label>
      ))}
    </>
  );
}
