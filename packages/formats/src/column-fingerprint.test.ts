import { describe, expect, test } from "vitest";
import { c3dBytes } from "./c3d-bytes.ts";
import { columnFingerprint } from "./column-fingerprint.ts";

const samples = (count: number, value: number) => Float64Array.from({ length: count }, (_, i) => value + i);
const c3d = (labels: readonly string[], count = 400): Uint8Array =>
  c3dBytes({
    rateHz: 500,
    plates: [],
    extras: labels.map((label, k) => ({ label, unit: "V", values: samples(count, k) })),
  });
const text = (names: string, rows = 300): Uint8Array =>
  new TextEncoder().encode(
    `${names}\n${Array.from({ length: rows }, (_, i) => `${(i / 500).toFixed(3)}\t${i % 7}\t${700 + (i % 3)}`).join("\n")}\n`,
  );

describe("columnFingerprint", () => {
  test("is the same for two C3D files with the same channels, whatever their numbers and length", () => {
    const one = columnFingerprint(c3d(["a", "b"]), { file: "1.c3d", isWhole: true });
    const other = columnFingerprint(c3d(["a", "b"], 900), { file: "2.c3d", isWhole: true });
    expect(one).toEqual({ format: "c3d", columns: ["a", "b"], rateHz: 500, key: other.key });
  });

  test("differs with a label", () => {
    const key = (labels: readonly string[]) => columnFingerprint(c3d(labels), { file: "1.c3d", isWhole: true }).key;
    expect(key(["a", "b"])).not.toBe(key(["a", "c"]));
  });

  test("needs of a C3D file what stands before its data, and says so where that is missing", () => {
    const bytes = c3d(["a", "b"], 20_000);
    const dataAt = 512 * ((bytes[16] ?? 0) - 1);
    const whole = columnFingerprint(bytes, { file: "1.c3d", isWhole: true });
    expect(columnFingerprint(bytes.subarray(0, dataAt), { file: "1.c3d" })).toEqual(whole);
    expect(() => columnFingerprint(bytes.subarray(0, dataAt - 1), { file: "1.c3d" })).toThrow(
      expect.objectContaining({ code: "param-block-outside" }),
    );
  });

  test("leaves out the cut line at the end of a text's head", () => {
    const bytes = text("Time [s]\tFx [N]\tFz [N]");
    const whole = columnFingerprint(bytes, { file: "a.txt", isWhole: true });
    expect(whole.rateHz).toBeCloseTo(500, 6);
    expect(whole.columns).toEqual(["Time [s]", "Fx [N]", "Fz [N]"]);
    for (const end of [60, 66, 70, 74, 2000, 2001, 2002, 2003, 2004, 2005, 2006])
      expect(columnFingerprint(bytes.subarray(0, end), { file: "a.txt" })).toMatchObject({
        columns: whole.columns,
        key: whole.key,
      });
  });

  test("refuses what is no recording with the reader's sentence", () => {
    const prose = new TextEncoder().encode("Shot 7: thin, left.\nShot 8: better.\n");
    expect(() => columnFingerprint(prose, { file: "notes.txt", isWhole: true })).toThrow(
      expect.objectContaining({ code: "no-data-rows" }),
    );
    expect(() => columnFingerprint(prose, { file: "prose.c3d", isWhole: true })).toThrow(
      expect.objectContaining({ code: "not-c3d" }),
    );
  });
});
