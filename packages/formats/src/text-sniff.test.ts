import { UnderfootError } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import { type TextLayout, textSniff } from "./text-sniff.ts";

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const sniff = (text: string, layout: TextLayout = {}) => textSniff(bytesOf(text), layout);
const rows = (count: number, row: (i: number) => string, end = "\n"): string =>
  Array.from({ length: count }, (_, i) => row(i) + end).join("");
const names = (text: string) => sniff(text).columns.map(({ name }) => name);

function codeOf(action: () => unknown): string {
  try {
    action();
  } catch (error) {
    if (error instanceof UnderfootError) return error.code;
    throw error;
  }
  return "read";
}

describe("textSniff", () => {
  it.each([
    ["\t", "a tab"],
    [";", "a semicolon"],
    [",", "a comma"],
    ["|", "a vertical bar"],
    [" ", "blanks"],
  ])("finds the delimiter %j", (mark, words) => {
    const text = `t${mark}Fz\n${rows(30, (i) => `${i / 100}${mark}${700.5 + i}`)}`;
    const { delimiter, columns } = sniff(text);
    expect(delimiter.value).toBe(mark);
    expect(delimiter.reason).toContain(words);
    expect(columns).toHaveLength(2);
  });

  it("takes runs of blanks and tabs for one mark, at the beginning of a line too", () => {
    expect(sniff(rows(30, (i) => `   ${i}.0   \t ${i * 2}.5  `)).columns).toHaveLength(2);
  });

  it("tells a decimal comma from a delimiter", () => {
    const semicolon = sniff(`t;Fz\n${rows(30, (i) => `${`${i / 100}`.replace(".", ",")};700,25`)}`);
    expect(semicolon.delimiter.value).toBe(";");
    expect(semicolon.style.value).toEqual({ decimal: ",", thousands: "" });
    const quoted = sniff(rows(30, (i) => `"${i},5","7,25"`));
    expect(quoted.delimiter.value).toBe(",");
    expect(quoted.style.value.decimal).toBe(",");
  });

  it("finds thousands marks, even where the first one comes late", () => {
    const late = `t;Fz\n${rows(900, (i) => `${i};${i === 800 ? "1.234,5" : "800,5"}`)}`;
    expect(sniff(late).style.value.decimal).toBe(",");
    expect(sniff(`a\tb\n${rows(20, (i) => `${i}.5\t1,234.5`)}`).style.value).toEqual({ decimal: ".", thousands: "," });
    expect(sniff(`a\tb\n${rows(20, () => "1.234.567\t2,5")}`).style.value).toEqual({ decimal: ",", thousands: "." });
    expect(sniff(`a\tb\n${rows(20, () => "12.5\t1,234")}`).style.value).toEqual({ decimal: ".", thousands: "," });
    const grouped = sniff(`a\tb\n${rows(20, () => "12\t1,234")}`).style;
    expect(grouped.value.decimal).toBe(",");
    expect(grouped.confidence).toBeLessThan(0.6);
  });

  it("asks where commas may be both", () => {
    expect(codeOf(() => sniff(rows(30, (i) => `${i},250,12,5`)))).toBe("ambiguous-comma");
    expect(codeOf(() => sniff(`t,Fz\n${rows(30, (i) => `${i},250,12,5`)}`))).toBe("ambiguous-comma");
    expect(codeOf(() => sniff(rows(30, (i) => `633,${i + 10}`)))).toBe("ambiguous-comma");
  });

  it("does not ask where a header, a sign, a point or the mapping settles the commas", () => {
    expect(sniff(`i,Fz\n${rows(30, (i) => `${i},250`)}`).columns).toHaveLength(2);
    expect(sniff(rows(30, (i) => `${i},-250`)).columns).toHaveLength(2);
    expect(sniff(rows(30, (i) => `${i},250.5`)).columns).toHaveLength(2);
    expect(
      sniff(
        rows(30, (i) => `${i},250`),
        { delimiter: "," },
      ).columns,
    ).toHaveLength(2);
    const one = sniff(
      rows(30, (i) => `633,${i + 10}`),
      { delimiter: "", decimal: "," },
    );
    expect(one.columns).toHaveLength(1);
    expect(one.columns[0]?.first[1]).toBe(633.11);
  });

  it("finds names, units and notes above the numbers, wherever they stand", () => {
    const text = `Session 4\nSampling frequency: 1000 Hz\nNumber of samples=40\n\nt;Fz;Fz\n[ms];[N];N\n${rows(40, (i) => `${i}.0;7;8`)}`;
    const { headerRow, unitRow, dataRow, columns, offers } = sniff(text);
    expect([headerRow?.value, unitRow, dataRow.value]).toEqual([5, 6, 7]);
    expect(columns.map(({ name, unit }) => [name, unit])).toEqual([
      ["t", "ms"],
      ["Fz", "N"],
      ["Fz (2)", "N"],
    ]);
    expect(offers).toEqual({
      ratesHz: [{ rateHz: 1000, line: 2, note: "Sampling frequency" }],
      count: { samples: 40, line: 3 },
    });
  });

  it.each([
    ["Rate (Hz);500", 500],
    ['"Frequency","500"', 500],
    ["sample rate = 1 kHz", 1000],
    ["Rate: 1,000.0 Hz", 1000],
    ["Rate: 500,0", 500],
    ["fs\t500 Hz", 500],
  ])("reads the note %j as %d Hz", (note, rateHz) => {
    expect(sniff(`${note}\nFz\n${rows(30, (i) => `${700 + i}.5`)}`).offers.ratesHz[0]?.rateHz).toBe(rateHz);
  });

  it("keeps nothing else of the notes: they can name people", () => {
    const text = `Name: Q. Invented\nBorn: 1999\nt\tFz\n${rows(30, (i) => `0.${i + 10}\t1`)}`;
    expect(JSON.stringify(sniff(text))).not.toContain("Invented");
  });

  it("allows a trailing delimiter in the rows, in the header, in both", () => {
    const row = (i: number) => `0.${i + 10};1.5;`;
    expect(names(`a;b\n${rows(30, row)}`)).toEqual(["a", "b"]);
    expect(names(`a;b;\n${rows(30, row)}`)).toEqual(["a", "b"]);
    expect(names(`a;b;\n${rows(30, (i) => `0.${i + 10};1.5`)}`)).toEqual(["a", "b"]);
    expect(names(`a;b;c\n${rows(30, row)}`)).toEqual(["a", "b", "c"]);
    expect(names(rows(30, row))).toEqual(["Column 1", "Column 2"]);
  });

  it("reads quoted names with delimiters, quotes and line ends in them", () => {
    expect(names(`"a,b","c ""d""","e\nf"\n${rows(30, (i) => `0.5,${i}.5,1`)}`)).toEqual(["a,b", 'c "d"', "e f"]);
    expect(names(`"a\nb,c\n${rows(30, (i) => `0.5,${i}.5`)}`)).toEqual(["b", "c"]);
  });

  it("reads names with blanks in a table parted by blanks", () => {
    expect(names(`Time (s)   Fz (N)\n${rows(30, (i) => `0.${i + 10}  7.5`)}`)).toEqual(["Time (s)", "Fz (N)"]);
    expect(names(`Time (s) Fz (N)\n${rows(30, (i) => `0.${i + 10} 7.5`)}`)).toEqual(["Time (s)", "Fz (N)"]);
    expect(names(`# t Fz\n${rows(30, (i) => `0.${i + 10} 7.5`)}`)).toEqual(["t", "Fz"]);
  });

  it("starts at the true first row where a ragged one follows soon", () => {
    const ragged = `a;b\n${rows(30, (i) => (i === 3 ? "1;2;3;4" : `${i}.5;2`))}`;
    expect(sniff(ragged).dataRow.value).toBe(2);
    expect(sniff(`a;b\n${rows(8, (i) => (i === 3 ? "1;2;3;4" : `${i}.5;2`))}`).dataRow.value).toBe(2);
  });

  it.each([
    ["Time (s)", 0.001, "s", 1000],
    ["t", 0.001, "s", 1000],
    ["time", 2, "ms", 500],
    ["T [ms]", 1, "ms", 1000],
    ["time (µs)", 500, "us", 2000],
  ])("takes %j with steps of %d for a time in %s", (name, stepSize, unit, rateHz) => {
    const { time } = sniff(`${name}\tFz\n${rows(40, (i) => `${(i * stepSize).toFixed(3)}\t7.5`)}`);
    expect(time?.value.column).toBe(name);
    expect(time?.value.unit).toBe(unit);
    expect(time?.value.rateHz).toBeCloseTo(rateHz, 9);
  });

  it("takes a column that counts for a counter, not for a time", () => {
    const counted = sniff(`t\tFz\n${rows(40, (i) => `${i + 1}\t7.5`)}`);
    expect(counted.time).toBeUndefined();
    expect(counted.columns[0]?.kind).toBe("counter");
  });

  it("does not choose a unit of time where two fit or none does", () => {
    expect(sniff(`t\tFz\n${rows(40, (i) => `${(i * 0.05).toFixed(2)}\t7.5`)}`).timeWithoutUnit).toBe("t");
    expect(sniff(`t\tFz\n${rows(40, (i) => `${(i * 500).toFixed(2)}\t7.5`)}`).timeWithoutUnit).toBe("t");
  });

  it("offers an even first column without a name as a time, with less confidence", () => {
    const { time } = sniff(rows(40, (i) => `${(i * 0.002).toFixed(3)}\t7.5`));
    expect(time?.value.rateHz).toBe(500);
    expect(time?.confidence).toBeLessThan(0.7);
  });

  it("asks about a number that repeats and looks like a mark", () => {
    expect(sniff(`t\tFz\n${rows(40, (i) => `${i}.5\t${i % 5 === 0 ? -9999 : 7.5}`)}`).missingMark).toBe("-9999");
    expect(sniff(`t\tFz\n${rows(40, (i) => `${i}.5\t${i % 5 === 0 ? 999 : 998}`)}`).missingMark).toBeUndefined();
  });

  it("sees LF, CR LF, CR and CR CR LF", () => {
    for (const [end, kind] of [
      ["\n", "lf"],
      ["\r\n", "crlf"],
      ["\r", "cr"],
      ["\r\r\n", "crlf"],
    ] as const) {
      const { lineEnd, lineCount, columns } = sniff(`a\tb${end}${rows(30, (i) => `${i}.5\t1`, end)}`);
      expect([lineEnd, lineCount, columns.length]).toEqual([kind, 31, 2]);
    }
    expect(sniff(`a\tb\r\n${rows(30, (i) => `${i}.5\t1`)}`).lineEnd).toBe("mixed");
  });

  it.each([
    ["nothing", "", "empty"],
    ["blank lines", "\n\n\n", "no-data-rows"],
    ["words", "only words\nand more words\n", "no-data-rows"],
    ["NUL", "a\u0000b", "not-text"],
    ["control characters", "\u0001\u0002\u0003\u0004", "not-text"],
    ["5001 columns", rows(30, () => "1,".repeat(5000)), "too-many-columns"],
  ])("refuses %s", (_, text, code) => {
    expect(codeOf(() => sniff(text))).toBe(code);
  });

  it("follows the mapping's layout", () => {
    const text = `9 9\nx y\n${rows(30, (i) => `${i}.5 2`)}`;
    const { headerRow, dataRow, columns } = sniff(text, { headerRow: 2, dataRow: 3, delimiter: " ", missing: ["2"] });
    expect([headerRow?.value, dataRow.value, columns[0]?.name]).toEqual([2, 3, "x"]);
  });
});
