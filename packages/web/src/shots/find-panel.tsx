import type { PlayerShape, WordsShape } from "@underfoot/protocol";
import type { ReactElement, Ref } from "react";
import { NumberField, TextField } from "../plan/fields.tsx";
import { countText, findingWords, type Range, type RangeName, rangeFromText, rangeText } from "./fact-words.ts";
import type { FactName, Facts } from "./shot-query.ts";

export interface FindPanelProps {
  readonly facts: Facts;
  readonly players: readonly PlayerShape[];
  readonly words: WordsShape | undefined;
  /** Of the first field. */
  readonly first: Ref<HTMLSelectElement>;
  /** A fact said or, undefined, taken back. */
  readonly onFact: (name: FactName, text: string | undefined) => void;
}

type Choice = readonly [string, string];

const counted = (word: string, shots: number): string => `${word} (${countText(shots)})`;

const LABELS: readonly Choice[] = [
  ["kept", "kept"],
  ["mishit", "mishit"],
  ["set-aside", "set aside"],
];
const SEVERITIES: readonly Choice[] = [
  ["note", "a note or worse"],
  ["caution", "a caution or worse"],
  ["stop", "not computed"],
];

/** Every fact that shots can be found by. What is chosen holds at once. */
export function FindPanel({ facts, players, words, first, onFact }: FindPanelProps): ReactElement {
  const choices = (list: WordsShape["intents"] | undefined): readonly Choice[] =>
    (list ?? []).map(({ word, shots }) => [word, counted(word, shots)]);
  const field = (name: FactName, label: string, list: readonly Choice[], ref?: Ref<HTMLSelectElement>) => (
    <FactField
      {...{ label, ref }}
      unknown={name === "playerId" ? "not here" : undefined}
      value={facts[name]}
      choices={list}
      onValue={(text) => onFact(name, text)}
    />
  );
  const range = (name: RangeName, label: string, unit: string) => (
    <RangeFields {...{ name, label, unit }} value={facts[name]} onValue={(text) => onFact(name, text)} />
  );
  return (
    <div className="find-fields">
      {field(
        "playerId",
        "Player",
        players.map(({ id, code, name }) => [id, name === undefined ? code : `${code}, ${name}`]),
        first,
      )}
      {field("intent", "Intent", choices(words?.intents))}
      {field("lieName", "Lie", choices(words?.lies))}
      {field("club", "Club", choices(words?.clubs))}
      {field("label", "Does it count", LABELS)}
      {field("contact", "Strike", choices(words?.contacts))}
      {field(
        "findingCode",
        "Finding",
        (words?.findings ?? []).map(({ word, shots }) => [word, counted(findingWords(word), shots)]),
      )}
      {field("leastSeverity", "Worst finding", SEVERITIES)}
      <TextField label="From day" type="date" value={facts.fromDay} onValue={(day) => onFact("fromDay", day)} />
      <TextField label="Until day" type="date" value={facts.toDay} onValue={(day) => onFact("toDay", day)} />
      {range("carryM", "Carry", "m")}
      {range("startLineDeg", "Start line", "° right of target")}
      <TextField label="File name with" value={facts.fileName} onValue={(text) => onFact("fileName", text)} />
    </div>
  );
}

interface FactFieldProps {
  readonly label: string;
  readonly value: string | undefined;
  readonly choices: readonly Choice[];
  /** What stands there for a value that is none of them; the value itself where left out. */
  readonly unknown?: string | undefined;
  readonly onValue: (value: string | undefined) => void;
  readonly ref: Ref<HTMLSelectElement> | undefined;
}

function FactField({ label, value, choices, unknown, onValue, ref }: FactFieldProps): ReactElement {
  // An address may name a word that no shot has any more: it is shown all the same.
  const isKnown = value === undefined || choices.some(([choice]) => choice === value);
  return (
    <label className="field">
      <span>{label}</span>
      <select ref={ref} value={value ?? ""} onChange={({ target }) => onValue(target.value || undefined)}>
        <option value="">any</option>
        {isKnown ? null : <option value={value}>{unknown ?? value}</option>}
        {choices.map(([choice, word]) => (
          <option key={choice} value={choice}>
            {word}
          </option>
        ))}
      </select>
    </label>
  );
}

interface RangeFieldsProps {
  readonly name: RangeName;
  readonly label: string;
  readonly unit: string;
  readonly value: string | undefined;
  readonly onValue: (text: string | undefined) => void;
}

function RangeFields({ name, label, unit, value, onValue }: RangeFieldsProps): ReactElement {
  const [from, to] = rangeFromText(name, value);
  const give = (next: Range): void => onValue(rangeText(name, next));
  return (
    <fieldset className="range">
      <legend>
        {label}, {unit}
      </legend>
      <div>
        <NumberField label={`${label} from, ${unit}`} isLabelHidden value={from} onValue={(next) => give([next, to])} />
        <span aria-hidden="true">to</span>
        <NumberField label={`${label} to, ${unit}`} isLabelHidden value={to} onValue={(next) => give([from, next])} />
      </div>
    </fieldset>
  );
}
