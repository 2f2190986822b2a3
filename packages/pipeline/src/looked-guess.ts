import type { Recording, Sense } from "@underfoot/domain";
import type { ColumnMapping, MappedColumn, TextColumn, TextSniff } from "@underfoot/formats";
import type { PlateInspection } from "./inspection.ts";

/** What a column is taken for. */
export interface LookedGuess {
  /** Number of the plate, from 1; absent where it belongs to none. */
  readonly plate?: number;
  /**
   * Of a plate: Fx Fy Fz Mx My Mz, Px Py (place of the pressure), Fx12 and the like, or S1 S2 (signals). Else: time, counter,
   * word, unmapped, or the role of a channel: trigger, sound, gap, other.
   */
  readonly part: string;
  /** Of a mapped column: the laboratory axis and sign. */
  readonly axis?: string;
  /** In which unit its numbers are taken; absent where nothing says it. */
  readonly unit?: string;
  readonly sense?: Sense;
}

export interface ReasonedGuess {
  readonly guess: LookedGuess;
  readonly why: string;
}

/** C3D user guide, FORCE_PLATFORM:CHANNEL of each plate type. */
const PARTS: Readonly<Record<number, readonly string[]>> = {
  0: ["Fx", "Fy", "Fz"],
  1: ["Fx", "Fy", "Fz", "Px", "Py", "Mz"],
  2: ["Fx", "Fy", "Fz", "Mx", "My", "Mz"],
  3: ["Fx12", "Fx34", "Fy14", "Fy23", "Fz1", "Fz2", "Fz3", "Fz4"],
};

const ROLES: Readonly<Record<string, string>> = {
  trigger: "no plate names it; its label says trigger",
  sound: "no plate names it; its label says sound",
  gap: "no plate names it; its label says gap",
};

/** What each channel of a C3D file is, by the plates' own list of channels. */
export function c3dGuesses(recording: Recording, plates: readonly PlateInspection[]): readonly ReasonedGuess[] {
  return recording.channels.map(({ role }, k): ReasonedGuess => {
    const plate = recording.plates.find(({ channels }) => channels.includes(k));
    if (plate === undefined) return { guess: { part: role }, why: ROLES[role] ?? "no plate names it" };
    const at = plate.channels.indexOf(k);
    const sense = plates.find(({ index }) => index === plate.index)?.storedAs;
    return {
      guess: {
        plate: plate.index,
        part: PARTS[plate.type]?.[at] ?? `S${at + 1}`,
        ...(sense === undefined ? {} : { sense }),
      },
      why: `the file names it as ${ordinal(at + 1)} channel of plate ${plate.index}, type ${plate.type}`,
    };
  });
}

const ordinal = (n: number): string =>
  ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"][n - 1] ?? `${n}th`;

/**
 * What a column of a text is taken for by a mapping. The reason is the proposal's as long as the mapping says the same.
 *
 * @param proposed  what names and units hint at
 */
export function textGuess(
  column: TextColumn,
  sniff: TextSniff,
  { mapping, proposed }: { readonly mapping: ColumnMapping; readonly proposed: ColumnMapping },
): ReasonedGuess {
  const { guess, why } = guessBy(column, mapping, sniff);
  if (mapping.name !== "") return { guess, why: `the mapping “${mapping.name}” says so` };
  const hinted = guessBy(column, proposed, sniff).guess;
  const isHinted = guess.part === hinted.part && guess.plate === hinted.plate && guess.axis === hinted.axis;
  if (!isHinted) return { guess, why: "said here" };
  return { guess, why: guess.unit === hinted.unit ? why : `${why}; now said here` };
}

function guessBy(column: TextColumn, mapping: ColumnMapping, sniff: TextSniff): ReasonedGuess {
  const { name, kind } = column;
  if ("column" in mapping.time && mapping.time.column === name)
    return { guess: { part: "time", unit: mapping.time.unit }, why: sniff.time?.reason ?? "by its name" };
  const found = mappedAs(name, mapping);
  if (found !== undefined) return { guess: found, why: nameAndUnit(column) };
  const extra = mapping.extra.find((one) => one.column === name);
  if (extra !== undefined) return { guess: { part: extra.role, unit: extra.unit }, why: "by its name" };
  if (kind === "word") return { guess: { part: "word" }, why: "most of its fields are no numbers" };
  if (kind === "counter") return { guess: { part: "counter" }, why: "it rises by one from row to row" };
  return { guess: { part: "unmapped" }, why: "neither its name nor its unit says what it is" };
}

function nameAndUnit({ unit }: TextColumn): string {
  return unit === "" ? "by its name; no unit is written" : `by its name and its unit, ${unit}`;
}

function mappedAs(name: string, { plates }: ColumnMapping): LookedGuess | undefined {
  for (const [k, plate] of plates.entries()) {
    const guessOf = (letter: "F" | "M" | "P", columns: readonly MappedColumn[]): LookedGuess | undefined => {
      const column = columns.find((one) => one.column === name);
      if (column === undefined) return undefined;
      const { axis, unit } = column;
      return { plate: k + 1, part: `${letter}${axis[1]}`, axis, ...(unit === "" ? {} : { unit }) };
    };
    const free = plate.freeMoment === undefined ? [] : [plate.freeMoment];
    const found =
      guessOf("F", plate.force) ?? guessOf("M", plate.moment) ?? guessOf("P", plate.cop) ?? guessOf("M", free);
    if (found !== undefined) return plate.sense === undefined ? found : { ...found, sense: plate.sense };
    const signal = plate.signals.findIndex(({ column }) => column === name);
    if (signal >= 0) return { plate: k + 1, part: `S${signal + 1}`, unit: plate.signals[signal]?.unit ?? "" };
  }
  return undefined;
}
