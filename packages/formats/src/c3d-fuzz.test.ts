// Whatever the bytes: a recording with findings, or an UnderfootError; never more memory than the file allows.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { type Random, type Recording, random, UnderfootError } from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import { c3dBytes } from "./c3d-bytes.ts";
import { recordingFromC3d } from "./c3d-recording.ts";

const HERE = join(import.meta.dirname, "../../../golden/c3d");
const ROUNDS = 120;

function bytesHeld(recording: Recording): number {
  const channels = recording.channels.reduce((all, { values }) => all + 8 * values.length, 0);
  return channels + recording.markers.reduce((all, { xM }) => all + 24 * xM.length, 0);
}

/** Reads, and fails the test on anything but the two outcomes allowed. */
function outcome(bytes: Uint8Array): "recording" | string {
  try {
    const recording = recordingFromC3d(bytes, { file: "fuzzed.c3d" }, { markers: "read" });
    expect(bytesHeld(recording)).toBeLessThanOrEqual(4 * bytes.length);
    for (const { sentence, remedy, code } of recording.findings) {
      expect(sentence.length * remedy.length * code.length).toBeGreaterThan(0);
      expect(sentence).not.toMatch(/undefined|\[object/);
    }
    expect(recording.findings.length).toBeLessThan(2000);
    return "recording";
  } catch (fault) {
    expect(fault).toBeInstanceOf(UnderfootError);
    const { code, message, remedy } = fault as UnderfootError;
    expect(message).not.toMatch(/undefined|NaN|\[object/);
    expect(remedy).not.toBe("");
    return code;
  }
}

const mutations: Record<string, (bytes: Uint8Array, dice: Random) => Uint8Array> = {
  cut: (bytes, dice) => bytes.subarray(0, dice.below(bytes.length + 1)),
  "one byte flipped in header or parameters": (bytes, dice) => {
    const out = Uint8Array.from(bytes);
    out[dice.below(Math.min(bytes.length, dice.below(2) === 0 ? 24 : 6000))] = dice.below(256);
    return out;
  },
  "many bytes flipped": (bytes, dice) => {
    const out = Uint8Array.from(bytes);
    for (let k = 0; k < 200; k++) out[dice.below(Math.min(bytes.length, 12_000))] = dice.below(256);
    out[1] = 0x50;
    return out;
  },
  "two stretches swapped": (bytes, dice) => {
    const out = Uint8Array.from(bytes);
    const length = 1 + dice.below(256);
    const a = dice.below(5000);
    const b = dice.below(5000);
    out.set(bytes.subarray(a, a + length), b);
    out.set(bytes.subarray(b, b + length), a);
    out[1] = 0x50;
    return out;
  },
  "header words set to extremes": (bytes, dice) => {
    const out = Uint8Array.from(bytes);
    for (let k = 0; k < 3; k++)
      out.fill(dice.below(2) === 0 ? 255 : 0, 2 + 2 * dice.below(11)).set(bytes.subarray(24), 24);
    return out;
  },
};

describe("mutated golden files", () => {
  const names = readdirSync(HERE).filter((name) => name.endsWith(".c3d"));
  const files = names.map((name) => new Uint8Array(readFileSync(join(HERE, name))));
  test.each(Object.keys(mutations))("%s", { timeout: 60_000 }, (kind) => {
    const seen = new Set<string>();
    files.forEach((bytes, f) => {
      const dice = random(20 + f, kind);
      // Small heads of the files keep the rounds quick: what is fuzzed lies in the first blocks.
      const head = bytes.subarray(0, 24_000);
      for (let k = 0; k < ROUNDS; k++) seen.add(outcome(mutations[kind]!(k % 4 === 0 ? bytes : head, dice)));
    });
    expect(seen.size, "the rounds reach more than one outcome").toBeGreaterThan(1);
  });

  test("random blocks behind a valid key", () => {
    const dice = random(3);
    for (let k = 0; k < 300; k++) {
      const bytes = Uint8Array.from({ length: 512 * (1 + dice.below(12)) }, () => dice.below(256));
      bytes.set([2, 0x50]);
      if (bytes.length > 515 && k % 2 === 0) bytes[515] = 84 + dice.below(3);
      outcome(bytes);
    }
  });
});

describe("files that are none, or not whole", () => {
  const text = (content: string): Uint8Array => Uint8Array.from(content, (letter) => letter.charCodeAt(0));
  const good = c3dBytes({
    rateHz: 1000,
    plates: [
      {
        cornersM: [
          { x: 0.2, y: -0.3, z: 0 },
          { x: -0.2, y: -0.3, z: 0 },
          { x: -0.2, y: 0.3, z: 0 },
          { x: 0.2, y: 0.3, z: 0 },
        ],
        columns: Array.from({ length: 6 }, (_, c) => new Float64Array(1000).fill(c === 2 ? -700 : 1)),
      },
    ],
  });

  test.each([
    ["nothing", new Uint8Array(0), "empty"],
    ["one byte", Uint8Array.of(2), "short-header"],
    ["a header cut short", good.subarray(0, 500), "short-header"],
    ["a text renamed to .c3d", text("t,Fx,Fy,Fz\n0,1,2,3\n".repeat(100)), "not-c3d"],
    ["a short text", text("hello"), "not-c3d"],
    ["a text whose second letter is P", text("UP WE GO\n".repeat(100)), "param-block-outside"],
    ["a header alone", good.subarray(0, 512), "param-block-outside"],
    ["no data at all", good.subarray(0, (good[16]! - 1) * 512), "data-block"],
  ])("%s", (_, bytes, code) => expect(outcome(bytes)).toBe(code));

  test("the sentence has the file's name and the numbers", () => {
    expect(() => recordingFromC3d(good.subarray(0, 500), { file: "S-17.c3d" })).toThrow(
      "S-17.c3d has 500 bytes; the header of a C3D file alone takes 512.",
    );
  });

  test("a header that claims 65535 points and channels does not get them", () => {
    const bytes = Uint8Array.from(good);
    new DataView(bytes.buffer).setUint16(2, 65_535, true);
    // POINT:USED (0) wins over the header; where it says the same, not one whole frame is there.
    expect(recordingFromC3d(bytes).findings.map(({ code }) => code)).toContain("points");
    const used = String.fromCharCode(...bytes).indexOf("USED") + 4 + 2 + 2;
    new DataView(bytes.buffer).setUint16(used, 65_535, true);
    expect(outcome(bytes)).toBe("truncated");
  });
});
