// Files that are no shots, each bad in its own way, for tests: made from a sound recording and its sidecar.
import { c3dBytes } from "@underfoot/formats";

export interface BadFile {
  readonly name: string;
  readonly bytes: Uint8Array | string;
  /** Its sidecar, where that is what is bad. */
  readonly sidecar?: string;
}

const changed = (bytes: Uint8Array, changes: Readonly<Record<number, number>>): Uint8Array => {
  const copy = Uint8Array.from(bytes);
  for (const [at, byte] of Object.entries(changes)) copy[Number(at)] = byte;
  return copy;
};

/** Where the numbers of a C3D file begin: word 9 of its header counts blocks of 512 bytes from 1. */
export const dataStart = (c3d: Uint8Array): number => 512 * ((c3d[16] ?? 0) + 256 * (c3d[17] ?? 0) - 1);

function nothingButNaN(c3d: Uint8Array): Uint8Array {
  const copy = Uint8Array.from(c3d);
  const view = new DataView(copy.buffer);
  for (let at = dataStart(c3d); at + 4 <= copy.length; at += 4) view.setFloat32(at, Number.NaN, true);
  return copy;
}

function withoutPlates(): Uint8Array {
  const values = Float64Array.from({ length: 200 }, (_, i) => Math.sin(i / 10));
  return c3dBytes({ rateHz: 100, plates: [], extras: [{ label: "heart", unit: "mV", values }] });
}

const numbers = (rows: number, columns: number): string =>
  Array.from({ length: rows }, (_, i) => [i / 500, ...Array.from({ length: columns }, (_, k) => i + k)].join(";")).join(
    "\n",
  );

function truncated(c3d: Uint8Array): readonly BadFile[] {
  const start = dataStart(c3d);
  const cuts: readonly (readonly [string, number])[] = [
    ["nothing", 0],
    ["one-byte", 1],
    ["in-header", 300],
    ["header-less-one", 511],
    ["header-only", 512],
    ["in-parameters", 700],
    ["before-data", start],
    ["in-first-frame", start + 10],
    ["tenth", start + Math.floor((c3d.length - start) / 10)],
    ["half", start + Math.floor((c3d.length - start) / 2)],
    ["most", start + Math.floor((c3d.length - start) * 0.97)],
  ];
  return cuts.map(([name, end]) => ({ name: `cut-${name}.c3d`, bytes: c3d.subarray(0, end) }));
}

function notC3d(c3d: Uint8Array): readonly BadFile[] {
  const random = Uint8Array.from({ length: 4000 }, (_, i) => (i * 7919 + (i >> 3) * 31) % 256);
  return [
    { name: "picture.c3d", bytes: Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13) },
    { name: "archive.c3d", bytes: Uint8Array.of(0x50, 0x4b, 3, 4, 0, 0, 0, 0, 8, 0, ...random.subarray(0, 900)) },
    { name: "noise.c3d", bytes: random },
    { name: "zeros.c3d", bytes: new Uint8Array(4096) },
    { name: "prose.c3d", bytes: "Shot 7: thin, left.\nShot 8: better.\n" },
    { name: "table.c3d", bytes: `Time [s];Fz [N]\n${numbers(40, 1)}\n` },
    { name: "page.c3d", bytes: "<!doctype html><title>Not found</title><p>404</p>\n" },
    { name: "wrong-magic.c3d", bytes: changed(c3d, { 1: 0x51 }) },
    { name: "no-parameters.c3d", bytes: changed(c3d, { 0: 0 }) },
    { name: "far-parameters.c3d", bytes: changed(c3d, { 0: 250 }) },
    { name: "no-plates.c3d", bytes: withoutPlates() },
    { name: "nothing-but-nan.c3d", bytes: nothingButNaN(c3d) },
  ];
}

const TEXTS: readonly BadFile[] = [
  { name: "no-mapping.csv", bytes: `Time [s];Fx;Fy;Fz\n${numbers(60, 3)}\n` },
  { name: "empty.csv", bytes: "" },
  { name: "blank.txt", bytes: "\n\n   \n" },
  { name: "notes.txt", bytes: "Shot 7: thin, left.\nShot 8: better.\n" },
  { name: "head-only.tsv", bytes: "Time\tFx\tFy\tFz\n" },
  { name: "binary.csv", bytes: Uint8Array.from({ length: 900 }, (_, i) => (i * 37) % 256) },
  { name: "ambiguous.csv", bytes: `${Array.from({ length: 30 }, (_, i) => `0,${i},1,${i + 2}`).join("\n")}\n` },
];

function sidecars(c3d: Uint8Array, sidecar: string): readonly BadFile[] {
  const facts = JSON.parse(sidecar) as Record<string, unknown>;
  const without = (name: string): string => JSON.stringify({ ...facts, [name]: undefined });
  const texts: Readonly<Record<string, string>> = {
    empty: "",
    "not-json": "{ handed",
    other: '{"some": "thing"}',
    newer: JSON.stringify({ ...facts, version: 2 }),
    "no-hand": without("handed"),
    "no-target": JSON.stringify({ ...facts, target: [0, 0, 0] }),
    "no-foot": JSON.stringify({ ...facts, plates: [{ plate: 1, foot: "left" }] }),
  };
  return Object.entries(texts).map(([name, text], k) => ({
    name: `sidecar-${name}.c3d`,
    bytes: changed(c3d, { [dataStart(c3d) + 40 * k]: k + 1 }),
    sidecar: text,
  }));
}

/** 37 of them. */
export function badFiles(c3d: Uint8Array, sidecar: string): readonly BadFile[] {
  return [...truncated(c3d), ...notC3d(c3d), ...TEXTS, ...sidecars(c3d, sidecar)];
}
