import { pText, rangeText, resolutionOf, thousands, valueRangeText } from "./comparison/estimate-text.ts";
import {
  inCentimetres,
  inDegrees,
  inMetresPerSecond,
  inMilliseconds,
  inNewtons,
  inPercent,
  type NumberText,
} from "./numbers.ts";
import type { SentenceInput } from "./sentence.ts";
import { differenceText, writerOfUnit } from "./unit-text.ts";

/** How the units of sentence inputs are written. */
const WRITERS: Readonly<Record<string, (value: number, sigma?: number) => NumberText>> = {
  N: inNewtons,
  ms: inMilliseconds,
  m: inCentimetres,
  "m/s": inMetresPerSecond,
  "°": inDegrees,
  "%": inPercent,
};

/** "8 points (4 to 12 points)", to the first digit of half the interval. */
function intervalText(value: number, [low, high]: readonly [number, number], unit: string): string {
  const resolution = resolutionOf({ low, high });
  return unit === "points"
    ? `${differenceText(value, "%", resolution).text} (${rangeText(low, high, "%", resolution)})`
    : `${writerOfUnit(unit)(value, resolution).text} (${valueRangeText(low, high, unit, resolution)})`;
}

/**
 * One input of a sentence for the note that shows its rule: "speed to target at impact 0.182 m/s ±0.008",
 * "difference 8 points (4 to 12 points)", "measures looked at 12", "p 0.004".
 */
export function sentenceInputText({ name, value, unit, sigma, low, high }: SentenceInput): string {
  if (unit === "count") return `${name} ${thousands(value)}`;
  if (unit === "p") return `${name} ${pText(value)}`;
  if (low !== undefined && high !== undefined) return `${name} ${intervalText(value, [low, high], unit)}`;
  if (unit === "points") return `${name} ${differenceText(value, "%").text}`;
  const { text, plusMinus } = (WRITERS[unit] ?? writerOfUnit(unit))(value, sigma);
  return plusMinus === undefined ? `${name} ${text}` : `${name} ${text} ${plusMinus}`;
}
