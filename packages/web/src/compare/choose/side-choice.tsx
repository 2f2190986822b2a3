import type { ShotsAsked } from "@underfoot/domain";
import type { PlayerShape } from "@underfoot/protocol";
import { dayText } from "@underfoot/report";
import type { ReactElement } from "react";
import type { CompareAsk } from "../compare-address.ts";
import { type CountedShot, countedWords, firstConditions, type SideFacts } from "./shot-counts.ts";
import { shotWords } from "./shot-words.ts";
import { SIDE_FACTS, type SideFact, type SideQuery } from "./side-query.ts";

/** What can be compared, as a person chooses it. */
export type ChosenKind = "conditions" | "shot-usual" | "shots";

export interface SideChoiceProps {
  readonly players: readonly PlayerShape[];
  readonly player: PlayerShape | undefined;
  readonly shots: readonly CountedShot[];
  readonly ask: Pick<CompareAsk, "a" | "b">;
  readonly kind: ChosenKind;
  readonly onPlayer: (playerId: string) => void;
  readonly onSides: (a: SideQuery | undefined, b: SideQuery | undefined) => void;
}

const KIND_WORDS: readonly (readonly [ChosenKind, string])[] = [
  ["conditions", "two conditions"],
  ["shot-usual", "a shot with what is usual"],
  ["shots", "two shots"],
];

/** Player, what is compared, and the two sides with the kept shots of every choice. */
export function SideChoice(props: SideChoiceProps): ReactElement {
  const { players, player, kind, onPlayer } = props;
  return (
    <div className="choice">
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
      <label className="field">
        Compare
        <select
          value={kind}
          onChange={({ target }) => {
            const [next] = KIND_WORDS.find(([word]) => word === target.value) ?? ["conditions"];
            props.onSides(...firstSides(props, next));
          }}
        >
          {KIND_WORDS.map(([word, text]) => (
            <option key={word} value={word}>
              {text}
            </option>
          ))}
        </select>
      </label>
      {kind === "conditions" ? <Conditions {...props} /> : <Shots {...props} />}
    </div>
  );
}

/** What to begin with where a person turns to another kind. */
export function firstSides(
  { player, shots, ask }: Pick<SideChoiceProps, "player" | "shots" | "ask">,
  kind: ChosenKind,
): readonly [SideQuery | undefined, SideQuery | undefined] {
  const kept = shots.filter(({ label }) => label === "kept");
  const [latest, before] = [kept.at(-1)?.shotId, kept.at(-2)?.shotId];
  const chosen = [ask.a, ask.b].flatMap((side) => (side?.kind === "shot" ? [side.shotId] : []));
  const shotOf = (shotId: string | undefined): SideQuery | undefined =>
    shotId === undefined ? undefined : { kind: "shot", shotId };
  switch (kind) {
    case "conditions": {
      const facts = firstConditions(shots);
      const ofPlayer = player === undefined ? {} : { playerId: player.id };
      const side = (of: SideFacts): SideQuery => ({ kind: "shots", asked: { ...ofPlayer, ...of } });
      return facts === undefined ? [undefined, undefined] : [side(facts[0]), side(facts[1])];
    }
    case "shot-usual": {
      const shotId = chosen.at(-1) ?? latest;
      return shotId === undefined
        ? [undefined, undefined]
        : [
            { kind: "usual", shotId },
            { kind: "shot", shotId },
          ];
    }
    case "shots": {
      const b = chosen.at(-1) ?? latest;
      return [shotOf(b === before ? latest : before), shotOf(b)];
    }
  }
}

const FACT_WORDS: Readonly<Record<SideFact, { readonly label: string; readonly all: string }>> = {
  intent: { label: "Intent", all: "any intent" },
  lieName: { label: "Lie", all: "any lie" },
  club: { label: "Club", all: "any club" },
  sessionId: { label: "Session", all: "all sessions" },
};

function Conditions(props: SideChoiceProps): ReactElement {
  const { ask, player, onSides } = props;
  const ofPlayer = player === undefined ? {} : { playerId: player.id };
  const askedOf = (side: SideQuery | undefined): ShotsAsked => (side?.kind === "shots" ? side.asked : ofPlayer);
  const [a, b] = [askedOf(ask.a), askedOf(ask.b)];
  const side = (asked: ShotsAsked): SideQuery => ({ kind: "shots", asked });
  return (
    <>
      <FactFields {...props} name="A" asked={a} onAsked={(asked) => onSides(side(asked), side(b))} />
      <FactFields {...props} name="B" asked={b} onAsked={(asked) => onSides(side(a), side(asked))} />
    </>
  );
}

interface FactFieldsProps extends Pick<SideChoiceProps, "shots"> {
  readonly name: "A" | "B";
  readonly asked: ShotsAsked;
  readonly onAsked: (asked: ShotsAsked) => void;
}

function FactFields({ shots, name, asked, onAsked }: FactFieldsProps): ReactElement {
  const dayOf = (sessionId: string): string => {
    const day = shots.find((shot) => shot.sessionId === sessionId)?.day;
    return day === undefined ? sessionId : dayText(day);
  };
  return (
    <fieldset className="side-fields">
      <legend>{name}</legend>
      {SIDE_FACTS.map((fact) => (
        <label key={fact} className="field">
          {FACT_WORDS[fact].label}
          <select
            value={asked[fact] ?? ""}
            onChange={({ target }) => {
              const { [fact]: _, ...others } = asked;
              onAsked(target.value === "" ? others : { ...others, [fact]: target.value });
            }}
          >
            <option value="">{FACT_WORDS[fact].all}</option>
            {countedWords(shots, asked, fact).map(({ word, countKept }) => (
              <option key={word} value={word}>
                {fact === "sessionId" ? dayOf(word) : word} ({countKept})
              </option>
            ))}
          </select>
        </label>
      ))}
    </fieldset>
  );
}

function Shots({ ask, kind, shots, onSides }: SideChoiceProps): ReactElement {
  const idOf = (side: SideQuery | undefined): string =>
    side === undefined || side.kind === "shots" ? "" : side.shotId;
  const shot = (shotId: string): SideQuery => ({ kind: "shot", shotId });
  if (kind === "shot-usual")
    return (
      <ShotField
        label="Shot"
        shots={shots}
        value={idOf(ask.b)}
        onShot={(shotId) => onSides({ kind: "usual", shotId }, shot(shotId))}
      />
    );
  return (
    <>
      <ShotField label="A" shots={shots} value={idOf(ask.a)} onShot={(shotId) => onSides(shot(shotId), ask.b)} />
      <ShotField label="B" shots={shots} value={idOf(ask.b)} onShot={(shotId) => onSides(ask.a, shot(shotId))} />
    </>
  );
}

interface ShotFieldProps extends Pick<SideChoiceProps, "shots"> {
  readonly label: string;
  readonly value: string;
  readonly onShot: (shotId: string) => void;
}

/** Shots by the day they were hit, the latest day first. */
function ShotField({ label, shots, value, onShot }: ShotFieldProps): ReactElement {
  const days = [...new Set(shots.map(({ day }) => day))].sort().reverse();
  return (
    <label className="field">
      {label}
      <select value={value} onChange={({ target }) => onShot(target.value)}>
        {shots.some(({ shotId }) => shotId === value) ? null : <option value={value}>Choose</option>}
        {days.map((day) => (
          <optgroup key={day} label={dayText(day)}>
            {shots
              .filter((shot) => shot.day === day)
              .map((shot) => (
                <option key={shot.shotId} value={shot.shotId}>
                  {shotWords(shot)}
                </option>
              ))}
          </optgroup>
        ))}
      </select>
    </label>
  );
}
