import { CURVES } from "@underfoot/compare";
import type { ShotsAsked } from "@underfoot/domain";
import { type CatalogueEntry, catalogueEntry } from "@underfoot/mechanics";
import type { ReactElement } from "react";
import { countedWords, type SideFacts } from "../compare/choose/shot-counts.ts";
import type { SideQuery } from "../compare/choose/side-query.ts";
import { MeasureChoice } from "../player/measure-choice.tsx";
import { curveOf, type StudyAsk, withSides } from "./study-address.ts";
import type { StudyShotFacts } from "./study-shots.ts";

export interface StudyChoiceProps {
  readonly ask: StudyAsk;
  readonly shots: readonly StudyShotFacts[];
  readonly onAsk: (ask: StudyAsk) => void;
}

const FACTS = [
  { fact: "intent", label: "Intent", all: "any intent" },
  { fact: "lieName", label: "Lie", all: "any lie" },
  { fact: "club", label: "Club", all: "any club" },
] as const;

const CURVE_IDS = CURVES.map(({ id }) => id);

/** The two conditions, the measure with its axes, and the curve. */
export function StudyChoice({ ask, shots, onAsk }: StudyChoiceProps): ReactElement {
  const facts = (side: SideQuery | undefined): ShotsAsked => (side?.kind === "shots" ? side.asked : {});
  const [a, b] = [facts(ask.a), facts(ask.b)];
  const side = (asked: ShotsAsked): SideQuery => ({ kind: "shots", asked });
  return (
    <div className="study-choice">
      <Condition name="A" asked={a} shots={shots} onAsked={(asked) => onAsk(withSides(ask, side(asked), side(b)))} />
      <Condition name="B" asked={b} shots={shots} onAsked={(asked) => onAsk(withSides(ask, side(a), side(asked)))} />
      <MeasureAndCurve ask={ask} onAsk={onAsk} />
    </div>
  );
}

interface ConditionProps {
  readonly name: "A" | "B";
  readonly asked: ShotsAsked;
  readonly shots: readonly StudyShotFacts[];
  readonly onAsked: (asked: ShotsAsked) => void;
}

function Condition({ name, asked, shots, onAsked }: ConditionProps): ReactElement {
  const { intent, lieName, club } = asked;
  const facts: SideFacts = {
    ...(intent === undefined ? {} : { intent }),
    ...(lieName === undefined ? {} : { lieName }),
    ...(club === undefined ? {} : { club }),
  };
  return (
    <fieldset className="side-fields">
      <legend>{name === "A" ? "A, the reference" : "B, held against it"}</legend>
      {FACTS.map(({ fact, label, all }) => (
        <label key={fact} className="field">
          {label}
          <select
            value={asked[fact] ?? ""}
            onChange={({ target }) => {
              const { [fact]: _, ...others } = asked;
              onAsked(target.value === "" ? others : { ...others, [fact]: target.value });
            }}
          >
            <option value="">{all}</option>
            {countedWords(shots, facts, fact).map(({ word, countKept }) => (
              <option key={word} value={word}>
                {word} ({countKept})
              </option>
            ))}
          </select>
        </label>
      ))}
    </fieldset>
  );
}

function MeasureAndCurve({ ask, onAsk }: Pick<StudyChoiceProps, "ask" | "onAsk">): ReactElement | null {
  const entry = catalogueEntry(ask.measure);
  if (entry === undefined) return null;
  const onMeasure = ({ id }: CatalogueEntry, axes: "turf" | "level" | undefined): void =>
    onAsk({ ...ask, measure: id, axes: axes ?? ask.axes });
  return (
    <div className="deeds">
      <MeasureChoice entry={entry} axes={ask.axes} onChoice={onMeasure} />
      <label className="field">
        Curve
        <select value={curveOf(ask, CURVE_IDS)} onChange={({ target }) => onAsk({ ...ask, curve: target.value })}>
          {CURVES.map(({ id, title, unit }) => (
            <option key={id} value={id}>{`${title} (${unit})`}</option>
          ))}
        </select>
      </label>
    </div>
  );
}
