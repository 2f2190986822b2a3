import { readFileSync } from "node:fs";
import { UnderfootError } from "@underfoot/domain";
import { describe, expect, it } from "vitest";
import { recordingFromBytes } from "./recording-from-bytes.ts";

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const TABLE = `t (s)\tFz (N)\n${Array.from({ length: 40 }, (_, i) => `${(i / 1000).toFixed(3)}\t700.5\n`).join("")}`;
// The eight bytes that begin every PNG file (PNG specification, section 5.2; from memory), then NUL as in its first chunk.
const PNG = Uint8Array.of(
  0x89,
  0x50,
  0x4e,
  0x47,
  0x0d,
  0x0a,
  0x1a,
  0x0a,
  0,
  0,
  0,
  13,
  ...bytesOf("IHDR"),
  ...new Uint8Array(600),
);

function faultOf(action: () => unknown): UnderfootError {
  try {
    action();
  } catch (error) {
    if (error instanceof UnderfootError) return error;
    throw error;
  }
  throw new Error("nothing was thrown");
}

describe("recordingFromBytes", () => {
  it("goes by content, not by name", () => {
    expect(recordingFromBytes(bytesOf(TABLE), { file: "a.dat" }).format).toBe("text");
    expect(recordingFromBytes(bytesOf(TABLE.replace("t (s)", "tP (s)"))).format).toBe("text");
    expect(recordingFromBytes(bytesOf(TABLE.replace("t (s)", "TP (s)"))).format).toBe("text");
  });

  it.each([
    ["a table named .c3d", bytesOf(TABLE), "a.c3d", "not-c3d", "a.c3d is named as C3D but holds delimited text."],
    ["words named .C3D", bytesOf("hello there\n"), "a.C3D", "not-c3d", "a.C3D is named as C3D but holds text."],
    [
      "noise without a NUL named .c3d",
      Uint8Array.of(0x4a, 0xb9, 0x8c, 0xf7, 0xa3, 0x02, 0x3c, 0x11),
      "a.c3d",
      "not-c3d",
      "a.c3d is named as C3D but is neither C3D nor text.",
    ],
    ["nothing named .c3d", new Uint8Array(), "a.c3d", "empty", "a.c3d is empty"],
    ["nothing", new Uint8Array(), "a.txt", "empty", "a.txt is empty"],
    ["binary named .txt", Uint8Array.of(1, 2, 0, 4), "a.txt", "not-text", "a.txt is not text"],
    [
      "binary named .c3d",
      Uint8Array.of(1, 2, 0, ...new Uint8Array(600)),
      "a.c3d",
      "not-c3d",
      "a.c3d is not a C3D file",
    ],
  ])("says what is wrong with %s", (_, bytes, file, code, sentence) => {
    const fault = faultOf(() => recordingFromBytes(bytes, { file }));
    expect(fault.code).toBe(code);
    expect(fault.message).toContain(sentence);
    expect(fault.where.file).toBe(file);
    expect(fault.remedy).not.toBe("");
  });

  it("takes a picture for what it is, although its second byte is that of C3D", () => {
    for (const file of ["a.c3d", "a.png", "a.txt"]) {
      const fault = faultOf(() => recordingFromBytes(PNG, { file }));
      expect(fault.code).toBe(file === "a.c3d" ? "not-c3d" : "not-text");
    }
  });

  it("reads C3D whatever its name, and says of a cut one what the C3D reader says", () => {
    const bytes = readFileSync(new URL("../../../golden/c3d/type-2-one-plate.c3d", import.meta.url));
    expect(recordingFromBytes(bytes, { file: "a.txt" }).format).toBe("c3d");
    expect(faultOf(() => recordingFromBytes(bytes.subarray(0, 200), { file: "a.txt" })).code).toBe("short-header");
  });
});
