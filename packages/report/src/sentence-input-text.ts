import {
  asRatio,
  inCentimetres,
  inDegrees,
  inMetresPerSecond,
  inMilliseconds,
  inNewtons,
  inPercent,
  type NumberText,
} from "./numbers.ts";
import type { SentenceInput } from "./sentence.ts";

/** How the units of sentence inputs are written. */
const WRITERS: Readonly<Record<string, (value: number, sigma?: number) => NumberText>> = {
  N: inNewtons,
  ms: inMilliseconds,
  m: inCentimetres,
  "m/s": inMetresPerSecond,
  "°": inDegrees,
  "%": inPercent,
};

/** One input of a sentence for the note that shows its rule: "speed to target at impact 0.182 m/s ±0.008". */
export function sentenceInputText({ name, value, unit, sigma }: SentenceInput): string {
  const { text, plusMinus } = (WRITERS[unit] ?? asRatio)(value, sigma);
  return plusMinus === undefined ? `${name} ${text}` : `${name} ${text} ${plusMinus}`;
}
