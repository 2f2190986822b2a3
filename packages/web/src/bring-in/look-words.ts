import type { LookedColumn, LookedFile } from "@underfoot/pipeline";
import { inHertz, inSeconds } from "@underfoot/report";

const PART_WORDS: Readonly<Record<string, string>> = {
  F: "force along",
  M: "moment about",
  P: "pressure along",
};
const OTHER_WORDS: Readonly<Record<string, string>> = {
  time: "time",
  counter: "a counter of rows",
  word: "words, not used",
  unmapped: "not used",
  trigger: "trigger",
  sound: "sound",
  gap: "marks of gaps",
  other: "of no plate, kept as it is",
};
const SENSE_WORDS = { "on-player": "ground on the player", "on-plate": "player on the plate" } as const;

/** What a column is taken for, in words: "plate 1, force along z, N"; "its z" is the plate's own axis, into the ground. */
export function guessText({ guess, unit }: Pick<LookedColumn, "guess" | "unit">): string {
  const { plate, part, axis } = guess;
  if (plate === undefined) return OTHER_WORDS[part] ?? part;
  const [, letter = "", direction = "", pair = ""] = /^([FMP])([xyz])(\d*)$/.exec(part) ?? [];
  const words = PART_WORDS[letter];
  const signal = /^S(\d+)$/.exec(part)?.[1];
  const meaning =
    signal !== undefined
      ? `signal ${signal}`
      : words === undefined
        ? part
        : `${words} ${axis === undefined ? `its ${direction}` : axis.replace("-", "−").replace("+", "")}${pair === "" ? "" : `, sensors ${pair}`}`;
  const said = guess.unit ?? unit;
  return [`plate ${plate}`, meaning, said === "" ? "unit not said" : said].join(", ");
}

/** Which way the numbers of a plate point. */
export function senseText({ guess }: Pick<LookedColumn, "guess">): string {
  return guess.sense === undefined ? "" : SENSE_WORDS[guess.sense];
}

/** A value with its unit, about four figures: enough to judge by. */
export function valueText(value: number, unit: string): string {
  if (!Number.isFinite(value)) return "no number";
  const rounded = Math.abs(value) >= 1000 ? Math.round(value) : Number(value.toPrecision(3));
  const text = String(rounded).replace("-", "−");
  return unit === "" ? text : `${text} ${unit}`;
}

/** "5.0 s at 1000 Hz, 14 columns". */
export function sizeText({ samples, rateHz, columns, format }: LookedFile): string {
  const names = `${columns.length} ${format === "c3d" ? "channels" : "columns"}`;
  return Number.isFinite(rateHz) && rateHz > 0
    ? `${inSeconds(samples / rateHz).text} at ${inHertz(rateHz).text}, ${names}`
    : `${samples.toLocaleString("en-GB")} rows, ${names}; samples a second not said`;
}
