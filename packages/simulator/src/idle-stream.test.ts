import { expect, test } from "vitest";
import { idleStream, SIMULATED_LIES, type StreamPart, simulatedPlayer, streamBlocks } from "./index.ts";

const player = simulatedPlayer({ seed: 4, massKg: 80 });
const weightN = 80 * 9.80665;
const options = { seed: 3, player, lie: SIMULATED_LIES.upslope, minutes: 6 };
const parts = [...idleStream(options)];

const range = (column: Float64Array): number => Math.max(...column) - Math.min(...column);
const of = (activity: StreamPart["activity"]): StreamPart[] => parts.filter((part) => part.activity === activity);

test("six minutes hold every activity, end to end, the same every time", () => {
  expect(new Set(parts.map(({ activity }) => activity))).toEqual(
    new Set(["away", "stepOn", "standing", "rocking", "waggling", "looking", "stepOff"]),
  );
  let samples = 0;
  for (const part of parts) {
    expect(part.firstS).toBeCloseTo(samples / 1000, 9);
    samples += part.leadLoadN.length;
  }
  expect(samples / 1000).toBeGreaterThan(360);
  expect(parts[3]!.turnNm).toEqual([...idleStream(options)][3]!.turnNm);
});

test("nobody there: no load; standing: body weight, and gravity's push along the slope", () => {
  for (const { leadLoadN, trailLoadN } of of("away")) {
    const late = leadLoadN.subarray(500).map((v, i) => v + trailLoadN[i + 500]!);
    expect(Math.max(...late.map(Math.abs))).toBeLessThan(5);
  }
  const [standing] = of("standing");
  const mean = (column: Float64Array): number => column.reduce((total, v) => total + v / column.length, 0);
  // Static law: W sin 5° along target, W cos 5° along the normal.
  expect(Math.abs(mean(standing!.targetN.subarray(500)) - weightN * Math.sin((5 * Math.PI) / 180))).toBeLessThan(3);
  const load = standing!.leadLoadN.map((v, i) => v + standing!.trailLoadN[i]!);
  expect(Math.abs(mean(load.subarray(500)) - weightN * Math.cos((5 * Math.PI) / 180))).toBeLessThan(3);
});

test("rocking reaches 8 to 12 points of share to each side at 0.5 to 1.1 Hz", () => {
  for (const { leadLoadN, trailLoadN } of of("rocking")) {
    const share = leadLoadN.map((v, i) => v / (v + trailLoadN[i]!)).subarray(1000, -1000);
    expect(range(share)).toBeGreaterThan(0.1);
    expect(range(share)).toBeLessThan(0.28);
  }
});

test("waggles hold 0.2 to 0.6 N m s of angular momentum, less than a shot", () => {
  for (const { turnNm } of of("waggling")) {
    let momentum = 0;
    let lowest = 0;
    for (const nm of turnNm.subarray(400)) {
      momentum += nm / 1000;
      lowest = Math.min(lowest, momentum);
    }
    expect(lowest).toBeLessThan(-0.1);
    expect(lowest).toBeGreaterThan(-0.9);
  }
});

test("shots come in the order given, each with its impact", () => {
  const shots = [1, 2].map((seed) => ({ seed, player, intent: "stock" as const, lie: SIMULATED_LIES.flat }));
  const hit = [...idleStream({ ...options, minutes: 0.1, shots })].filter(({ activity }) => activity === "shot");
  expect(hit).toHaveLength(2);
  for (const { firstS, impactS, leadLoadN } of hit) {
    expect(impactS).toBeGreaterThan(firstS + 3);
    expect(impactS).toBeLessThan(firstS + leadLoadN.length / 1000);
  }
});

test("neighbouring stretches meet: no jump beyond the noise", () => {
  for (let k = 1; k < parts.length; k++) {
    for (const name of ["leadLoadN", "targetN", "turnNm"] as const) {
      expect(Math.abs(parts[k]![name][0]! - parts[k - 1]![name].at(-1)!)).toBeLessThan(5);
    }
  }
});

test("blocks are means and do not hang on where the stretches end", () => {
  const blocks = [...streamBlocks(parts)];
  const samples = parts.reduce((total, { leadLoadN }) => total + leadLoadN.length, 0);
  expect(blocks).toHaveLength(Math.floor(samples / 10));
  const all = Float64Array.from(parts.flatMap(({ leadLoadN }) => [...leadLoadN]));
  const at = 1234;
  const mean = all.subarray(10 * at, 10 * at + 10).reduce((total, v) => total + v / 10, 0);
  expect(blocks[at]!.leadLoadN).toBeCloseTo(mean, 9);
  expect(blocks[at]!.firstS).toBeCloseTo(at / 100, 12);
});
