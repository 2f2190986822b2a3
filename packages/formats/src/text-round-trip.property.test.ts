import { UnderfootError } from "@underfoot/domain";
import { array, assert, constantFrom, double, integer, nat, property, record, tuple, uint8Array } from "fast-check";
import { describe, expect, it } from "vitest";
import { recordingFromBytes } from "./recording-from-bytes.ts";
import { recordingFromText } from "./recording-from-text.ts";
import { textSniff } from "./text-sniff.ts";

const STEP_S = 0.001;

const value = double({ noNaN: true, min: -5000, max: 5000 });
const table = integer({ min: 1, max: 6 }).chain((columns) =>
  array(array(value, { minLength: columns, maxLength: columns }), { minLength: 12, maxLength: 60 }),
);
const style = record({
  delimiter: constantFrom("\t", ";", ",", "|", " "),
  decimal: constantFrom(".", ","),
  places: constantFrom(0, 2, 6, 17),
  isQuoted: constantFrom(true, false),
  isTrailing: constantFrom(true, false),
  lineEnd: constantFrom("\n", "\r\n", "\r"),
  notes: constantFrom("", "Trial 3\n\n", "Rate: 1000 Hz\nkey=value\n"),
  encoding: constantFrom("utf-8", "bom", "utf-16le"),
});
type Style = typeof style extends { generate: unknown } ? Parameters<Parameters<typeof style.map>[0]>[0] : never;

function written(rows: readonly (readonly number[])[], how: Style): string {
  const { delimiter, decimal, places, isQuoted, isTrailing, lineEnd, notes } = how;
  // A comma can only be both when quotes keep the two apart.
  const mustQuote = delimiter === "," && decimal === ",";
  const quote = (text: string): string => (isQuoted || mustQuote ? `"${text}"` : text);
  const number = (one: number): string => quote((places === 17 ? `${one}` : one.toFixed(places)).replace(".", decimal));
  const tail = isTrailing && delimiter !== " " ? delimiter : "";
  const names = rows[0]!.map((_, k) => quote(`c${k}_f`));
  const lines = rows.map(
    (row, i) => [quote((i * STEP_S).toFixed(3).replace(".", decimal)), ...row.map(number)].join(delimiter) + tail,
  );
  return `${notes}${[[quote("time_s"), ...names].join(delimiter) + tail, ...lines].join("\n")}\n`.replaceAll(
    "\n",
    lineEnd,
  );
}

function encoded(text: string, encoding: string): Uint8Array {
  if (encoding === "utf-8") return new TextEncoder().encode(text);
  if (encoding === "bom") return new TextEncoder().encode(`\uFEFF${text}`);
  const bytes = new Uint8Array(2 + 2 * text.length);
  [...`\uFEFF${text}`].forEach((letter, i) => {
    bytes[2 * i] = letter.charCodeAt(0) & 0xff;
    bytes[2 * i + 1] = letter.charCodeAt(0) >> 8;
  });
  return bytes;
}

describe("any table, written in any style", () => {
  it("comes back number for number", () => {
    assert(
      property(table, style, (rows, how) => {
        const recording = recordingFromText(encoded(written(rows, how), how.encoding));
        expect(recording.rateHz).toBe(1000);
        expect(recording.sampleCount).toBe(rows.length);
        const back = rows.map((row, i) => row.map((_, k) => recording.channels[k]?.values[i]));
        const expected = rows.map((row) =>
          row.map((one) => Number(how.places === 17 ? `${one}` : one.toFixed(how.places))),
        );
        expect(back).toEqual(expected);
      }),
      { numRuns: 400 },
    );
  });

  it("is the same recording whatever the style", () => {
    assert(
      property(table, style, style, (rows, one, other) => {
        const read = (how: Style) => recordingFromText(encoded(written(rows, { ...how, places: 2 }), how.encoding));
        const [a, b] = [read(one), read(other)];
        expect(a.channels.map(({ values }) => [...values])).toEqual(b.channels.map(({ values }) => [...values]));
        expect(a.channels.map(({ label }) => label)).toEqual(b.channels.map(({ label }) => label));
      }),
      { numRuns: 100 },
    );
  });
});

/** A result, or an UnderfootError with a sentence: anything else fails. */
function outcome(action: () => unknown): "read" | UnderfootError {
  try {
    action();
    return "read";
  } catch (error) {
    if (!(error instanceof UnderfootError)) throw error;
    expect(error.message).not.toBe("");
    expect(error.message).not.toMatch(/undefined|\[object|NaN /);
    expect(error.remedy).not.toBe("");
    return error;
  }
}

describe("bad bytes", () => {
  const files = ["a.txt", "a.c3d", "a.csv"] as const;

  it("give a recording or an UnderfootError, whatever they are", () => {
    assert(
      property(uint8Array({ maxLength: 400 }), constantFrom(...files), (bytes, file) => {
        outcome(() => recordingFromBytes(bytes, { file }));
      }),
      { numRuns: 3000 },
    );
  });

  it("of characters that tables are made of, too, with every choice for bad rows", () => {
    const letters = constantFrom(...'0123456789.,;\t |-+eE"\n\r:=()[]sNaz\u00e9');
    assert(
      property(array(letters, { maxLength: 300 }), constantFrom("refuse", "cut", "gap"), (text, badRows) => {
        const bytes = new TextEncoder().encode(text.join(""));
        const result = outcome(() => recordingFromText(bytes, { badRows }));
        if (result !== "read") return;
        const { channels, sampleCount, rateHz } = recordingFromText(bytes, { badRows });
        expect(rateHz).toBeGreaterThan(0);
        expect(channels.length * sampleCount).toBeLessThanOrEqual(bytes.length + 1);
        for (const { values } of channels) expect(values).toHaveLength(sampleCount);
      }),
      { numRuns: 5000 },
    );
  });

  it("made of a good table by cuts, flips and swaps", () => {
    let read = 0;
    let refused = 0;
    const change = tuple(nat(), nat(), nat(255), constantFrom("flip", "cut", "swap", "double"));
    assert(
      property(
        table,
        style,
        array(change, { minLength: 1, maxLength: 4 }),
        constantFrom("refuse", "cut", "gap"),
        (rows, how, changes, badRows) => {
          let bytes = encoded(written(rows, how), how.encoding);
          for (const [a, b, byte, kind] of changes) {
            const [i, j] = [a % Math.max(1, bytes.length), b % Math.max(1, bytes.length)].sort((x, y) => x - y) as [
              number,
              number,
            ];
            if (kind === "flip") bytes[i] = byte;
            else if (kind === "cut") bytes = Uint8Array.of(...bytes.subarray(0, i), ...bytes.subarray(j));
            else if (kind === "swap") [bytes[i], bytes[j]] = [bytes[j] ?? 0, bytes[i] ?? 0];
            else bytes = Uint8Array.of(...bytes.subarray(0, j), ...bytes.subarray(i));
          }
          if (outcome(() => recordingFromBytes(bytes, { file: "a.txt", badRows })) === "read") read++;
          else refused++;
        },
      ),
      { numRuns: 1500 },
    );
    // Both ways out have been seen.
    expect(Math.min(read, refused)).toBeGreaterThan(50);
  });

  it("never leave a sniff in doubt about where its numbers begin", () => {
    assert(
      property(table, style, (rows, how) => {
        const sniff = textSniff(encoded(written(rows, how), how.encoding));
        const notes = how.notes.split("\n").length - 1;
        expect([sniff.headerRow?.value, sniff.dataRow.value]).toEqual([notes + 1, notes + 2]);
      }),
      { numRuns: 200 },
    );
  });
});
