import { dayText, inDegrees, inMetres } from "@underfoot/report";
import type { FactName, Facts } from "./shot-query.ts";

/** What the ids of an address stand for. */
export interface KnownNames {
  readonly player: (id: string) => string | undefined;
  readonly sessionDay: (id: string) => string | undefined;
}

export const LABEL_WORDS: Readonly<Record<string, string>> = {
  kept: "kept",
  mishit: "mishit",
  "set-aside": "set aside",
};

export const SEVERITY_WORDS: Readonly<Record<string, string>> = {
  note: "note",
  caution: "caution",
  stop: "not computed",
};

/** Ends that a range has where a person gave none: no carry and no start line lies beyond. */
const RANGE_ENDS = { carryM: [0, 400], startLineDeg: [-90, 90] } as const;
/** Both ends; undefined where a person gave none. */
export type Range = readonly [number | undefined, number | undefined];
export type RangeName = keyof typeof RANGE_ENDS;

/** A range of an address; an end that a person did not give is undefined. */
export function rangeFromText(name: RangeName, text: string | undefined): Range {
  const [least, most] = RANGE_ENDS[name];
  const [from = Number.NaN, to = Number.NaN] = (text ?? "")
    .split(",")
    .map((part) => (part === "" ? Number.NaN : +part));
  return [Number.isNaN(from) || from <= least ? undefined : from, Number.isNaN(to) || to >= most ? undefined : to];
}

/** The same as the server takes it; undefined where neither end is given. */
export function rangeText(name: RangeName, [from, to]: Range): string | undefined {
  const [least, most] = RANGE_ENDS[name];
  return from === undefined && to === undefined ? undefined : `${from ?? least},${to ?? most}`;
}

/** A finding's code as words: "friction high". */
export const findingWords = (code: string): string => code.replaceAll("-", " ");

/** One fact in words, as it stands in the sentence and on its button. */
export function factWords(name: FactName, text: string, known: KnownNames): string {
  switch (name) {
    case "playerId":
      return known.player(text) ?? "a player who is not here";
    case "sessionId": {
      const day = known.sessionDay(text);
      return day === undefined ? "one session" : `session of ${dayText(day)}`;
    }
    case "label":
      return LABEL_WORDS[text] ?? text;
    case "contact":
      return `strike ${text}`;
    case "findingCode":
      return findingWords(text);
    case "leastSeverity":
      return text === "stop" ? "not computed" : `${SEVERITY_WORDS[text] ?? text} or worse`;
    case "fromDay":
      return `from ${writtenDay(text)}`;
    case "toDay":
      return `until ${writtenDay(text)}`;
    case "carryM":
      return rangeWords("carry", rangeFromText(name, text), (carryM) => inMetres(carryM).text);
    case "startLineDeg":
      return rangeWords("start line", rangeFromText(name, text), (angleDeg) => inDegrees(angleDeg).text);
    case "fileName":
      return `file named with “${text}”`;
    case "intent":
    case "lieName":
    case "club":
      return text;
  }
}

const writtenDay = (day: string): string => (/^\d{4}-\d{2}-\d{2}$/.test(day) ? dayText(day) : day);

function rangeWords(what: string, [from, to]: Range, written: (value: number) => string): string {
  if (from !== undefined && to !== undefined) return `${what} ${written(from)} to ${written(to)}`;
  if (from !== undefined) return `${what} at least ${written(from)}`;
  return to === undefined ? `any ${what}` : `${what} at most ${written(to)}`;
}

export const countText = (count: number): string => count.toLocaleString("en-GB");

const counted = (count: number, one: string, many: string): string => `${countText(count)} ${count === 1 ? one : many}`;

export interface FoundShots {
  readonly total: number;
  /** Of them; undefined where it is not known (yet), or the label is one of the facts. */
  readonly setAside: number | undefined;
  /** Of the library. */
  readonly players: number | undefined;
  readonly facts: readonly string[];
}

/** The answer to "which shots are these": "12 shots: Player A, low, upslope; 1 set aside." */
export function foundSentence({ total, setAside, players, facts }: FoundShots): string {
  if (total === 0) return facts.length === 0 ? "No shots yet" : `No shot is all of this: ${facts.join(", ")}.`;
  const aside = setAside === undefined ? "" : `; ${setAside === 0 ? "none" : countText(setAside)} set aside`;
  const shots = counted(total, "shot", "shots");
  if (facts.length > 0) return `${shots}: ${facts.join(", ")}${aside}.`;
  return `${shots}${players === undefined ? "" : `, ${counted(players, "player", "players")}`}${aside}.`;
}

/** The address's facts without one of them. */
export function factsWithout(facts: Facts, name: FactName): Facts {
  const { [name]: _, ...others } = facts;
  return others;
}
