import { UnderfootError } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import { recordingFromText, type TextOptions } from "./recording-from-text.ts";

const read = (text: string, options: TextOptions = {}) =>
  recordingFromText(new TextEncoder().encode(text), { where: { file: "a.txt" }, ...options });
const table = (count: number, row: (i: number) => string): string =>
  `t (s)\tFz (N)\n${Array.from({ length: count }, (_, i) => `${row(i)}\n`).join("")}`;
const at = (i: number) => (i / 1000).toFixed(3);

function faultOf(action: () => unknown): UnderfootError {
  try {
    action();
  } catch (error) {
    if (error instanceof UnderfootError) return error;
    throw error;
  }
  throw new Error("nothing was thrown");
}

describe("recordingFromText without a mapping", () => {
  it("gives channels as written, the rate, and no plates", () => {
    const recording = read(table(50, (i) => `${at(i)}\t${700 + i}.25`));
    expect(recording).toMatchObject({
      format: "text",
      rateHz: 1000,
      sampleCount: 50,
      plates: [],
      events: [],
      markers: [],
    });
    expect(recording.channels.map(({ label, unit, role }) => [label, unit, role])).toEqual([["Fz (N)", "N", "other"]]);
    expect(recording.channels[0]?.values[49]).toBe(749.25);
    expect(recording.findings.map(({ code }) => code)).toEqual(["no-mapping"]);
    expect(recording.guesses.map(({ code }) => code)).toEqual(["guess-time"]);
  });

  it("leaves columns of words out and says so", () => {
    const text = `t (s)\tFz\tFx\tFy\tMx\tphase\n${Array.from({ length: 40 }, (_, i) => `${at(i)}\t1\t2\t3\t4\tup\n`).join("")}`;
    const { channels, findings } = read(text);
    expect(channels.map(({ label }) => label)).toEqual(["Fz", "Fx", "Fy", "Mx"]);
    expect(findings.map(({ code }) => code)).toContain("text-columns");
  });

  it("reads missing values as NaN and counts them", () => {
    const marks = ["", "NA", "nan", "-"];
    const { channels, findings } = read(table(40, (i) => `${at(i)}\t${i < 4 ? marks[i] : 700.5}`));
    expect([...(channels[0]?.values.subarray(0, 5) ?? [])]).toEqual([
      Number.NaN,
      Number.NaN,
      Number.NaN,
      Number.NaN,
      700.5,
    ]);
    expect(findings.find(({ code }) => code === "missing-values")?.sentence).toBe("4 of 80 numbers are missing.");
  });

  it("takes the rate of the notes, and says where two disagree", () => {
    const notes = read(`Rate: 500 Hz\nFz (N)\n${"700.5\n".repeat(40)}`);
    expect(notes.rateHz).toBe(500);
    expect(notes.guesses.map(({ code }) => code)).toEqual(["guess-rate"]);
    const both = read(`Rate: 500 Hz\nSamples: 60\n${table(40, (i) => `${at(i)}\t1.5`)}`);
    expect(both.rateHz).toBe(1000);
    expect(both.findings.map(({ code }) => code)).toEqual(expect.arrayContaining(["rate-disagrees", "row-count"]));
  });

  it.each([
    ["nothing says the rate", "700.5\n".repeat(40), "no-rate"],
    ["the notes say two rates", `Rate: 500 Hz\nVideo rate: 60 Hz\nFz\n${"700.5\n".repeat(40)}`, "no-rate"],
    [
      "the time may be in s or ms",
      `t\tFz\n${Array.from({ length: 40 }, (_, i) => `${(i * 0.05).toFixed(2)}\t7\n`).join("")}`,
      "no-rate",
    ],
    [
      "there is a time and nothing else",
      `t (s)\n${Array.from({ length: 40 }, (_, i) => `${at(i)}\n`).join("")}`,
      "too-few-columns",
    ],
  ])("refuses a text where %s", (_, text, code) => {
    expect(faultOf(() => read(text)).code).toBe(code);
  });

  it("names line, column and text of what is no number", () => {
    const text = table(60, (i) => `${at(i)}\t${i === 40 ? "7O0.5" : "700.5"}`);
    const fault = faultOf(() => read(text));
    expect(fault.code).toBe("not-a-number");
    expect(fault.message).toBe('Line 42 of a.txt has "7O0.5" in column "Fz (N)", which is not a number.');
    expect(fault.where).toEqual({ file: "a.txt", line: 42, column: "Fz (N)" });
    const cut = read(text, { badRows: "cut" });
    expect(cut.sampleCount).toBe(40);
    expect(cut.findings.map(({ code }) => code)).toContain("cut");
    const gap = read(text, { badRows: "gap" });
    expect(gap.sampleCount).toBe(60);
    expect(gap.channels[0]?.values[40]).toBeNaN();
    expect(gap.channels[0]?.values[41]).toBe(700.5);
    expect(gap.findings.find(({ code }) => code === "gap-rows")?.sentence).toContain("line 42");
  });

  it.each([
    ["0.040", "1 fields"],
    ["0.040\t1\t2", "3 fields"],
    ["", "0 fields"],
  ])("names the line of a row in the middle that does not fit: %j", (row, words) => {
    const text = table(60, (i) => (i === 40 ? row : `${at(i)}\t700.5`));
    const fault = faultOf(() => read(text));
    expect(fault.code).toBe("ragged-rows");
    expect(fault.where.line).toBe(42);
    expect(fault.message).toContain(words);
    expect(read(text, { badRows: "cut" }).sampleCount).toBe(40);
  });

  it("takes blank lines and an end-of-file mark at the end for nothing", () => {
    expect(read(`${table(40, (i) => `${at(i)}\t1.5`)}\n  \r\n\u001a`).sampleCount).toBe(40);
  });

  it.each([
    ["a gap", (i: number) => (i < 30 ? i : i + 5), [32]],
    ["a step back", (i: number) => (i < 30 ? i : i - 30), [32]],
    ["an uneven step", (i: number) => (i === 30 ? 30.3 : i), [32, 33]],
  ] as const)("finds %s in the time, by line", (word, place, lines) => {
    const text = table(50, (i) => `${(place(i) / 1000).toFixed(4)}\t1.5`);
    const fault = faultOf(() => read(text));
    expect(fault.code).toBe("irregular-time");
    expect(fault.message).toContain(word);
    expect(fault.message).toContain(`at line${lines.length > 1 ? "s" : ""} ${lines.join(", ")}`);
    const cut = read(text, { badRows: "cut" });
    expect([cut.sampleCount, cut.rateHz]).toEqual([30, 1000]);
    expect(cut.channels[0]?.values).toHaveLength(30);
  });

  it("does not take one lost sample for rounding", () => {
    const fault = faultOf(() => read(table(50, (i) => `${at(i < 30 ? i : i + 1)}\t1.5`)));
    expect([fault.code, fault.message.includes("a gap at line 32.")]).toEqual(["irregular-time", true]);
  });

  it("allows what rounding does to printed times, and gives the rate without it", () => {
    const rounded = read(table(901, (i) => `${(i / 450).toFixed(3)}\t1.5`));
    expect(rounded.rateHz).toBe(450);
    const odd = read(table(5000, (i) => `${(i / 997.3).toFixed(9)}\t1.5`));
    expect(odd.rateHz).toBeCloseTo(997.3, 6);
  });

  it("reads a file of half an hour at 1000 Hz within the memory that its numbers need", () => {
    const seconds = 1800;
    const line = (i: number) => `${(i / 1000).toFixed(3)}\t${(700 + (i % 100)).toFixed(2)}\t-12.34\n`;
    const block = Array.from({ length: 1000 }, (_, i) => line(i).slice(line(i).indexOf("\t")))
      .join("")
      .split("\n");
    const text = Array.from({ length: seconds }, (_, s) =>
      Array.from({ length: 1000 }, (_, i) => `${s}.${`${i}`.padStart(3, "0")}${block[i]}`).join("\n"),
    ).join("\n");
    const bytes = new TextEncoder().encode(`t (s)\tFz\tFx\n${text}\n`);
    const before = process.memoryUsage().arrayBuffers;
    const recording = recordingFromText(bytes);
    const taken = process.memoryUsage().arrayBuffers - before;
    expect(recording.sampleCount).toBe(1_800_000);
    expect(recording.rateHz).toBe(1000);
    expect(recording.channels[1]?.values.at(-1)).toBe(-12.34);
    expect(taken).toBeLessThan(4 * bytes.length);
  });

  it("makes no more rows than the bytes allow, whatever the first lines look like", () => {
    const wide = `${Array.from({ length: 1000 }, (_, k) => `c${k}`).join("\t")}\n${`${"1\t".repeat(999)}1\n`.repeat(60)}`;
    const bytes = new TextEncoder().encode(`Rate: 100 Hz\n${wide}${"\n".repeat(200_000)}1`);
    const before = process.memoryUsage().arrayBuffers;
    expect(faultOf(() => recordingFromText(bytes, { badRows: "gap" })).code).toBe("ragged-rows");
    // 76 rows of 1000 numbers, and what was looked at; without the bound it would be 1.6 GB.
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(8e6);
  });
});
