import { plateFrame } from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import { type ClockFit, clockFit } from "./clock-fit.ts";
import type { PlateWrench } from "./plate-wrench.ts";
import { clockRelation, clockSigmaS, leadPositions, onLeadClock, wrenchOnLeadClock } from "./two-clocks.ts";

/** A sine seen by a second plate, in lead time, sampled on its own clock. */
function sampled(frequencyHz: number, count: number, { offsetS, drift }: { offsetS: number; drift: number }) {
  return Float64Array.from({ length: count }, (_, i) =>
    Math.sin(2 * Math.PI * frequencyHz * (offsetS + ((1 + drift) * i) / 1000)),
  );
}

describe("onLeadClock", () => {
  test.each([
    [10, 3e-7],
    [20, 5e-6],
    [50, 2e-4],
  ])("a sine of %d Hz comes back to %d of its amplitude", (frequencyHz, limit) => {
    // 300 millionths over 4 s move through more than one sample: every place between samples is met.
    const relation = { offsetS: -0.0203, drift: 3e-4 };
    const [found] = onLeadClock([sampled(frequencyHz, 4100, relation)], relation, {
      grid: { sampleCount: 4000, rateHz: 1000 },
      ownRateHz: 1000,
    });
    let worst = 0;
    for (let i = 10; i < 3990; i++) {
      worst = Math.max(worst, Math.abs(found![i]! - Math.sin((2 * Math.PI * frequencyHz * i) / 1000)));
    }
    expect(worst).toBeLessThan(limit * 1.25);
    expect(worst).toBeGreaterThan(limit / 4);
  });

  test("a slower plate is put on the faster one's grid", () => {
    const slow = Float64Array.from({ length: 500 }, (_, i) => Math.sin((2 * Math.PI * 5 * i) / 500));
    const [found] = onLeadClock(
      [slow],
      { offsetS: 0, drift: 0 },
      {
        grid: { sampleCount: 900, rateHz: 1000 },
        ownRateHz: 500,
      },
    );
    expect(found![301]).toBeCloseTo(Math.sin((2 * Math.PI * 5 * 301) / 1000), 5);
  });

  test("where the second plate has no samples there is NaN", () => {
    const [found] = onLeadClock(
      [new Float64Array(100).fill(3)],
      { offsetS: 0.0105, drift: 0 },
      {
        grid: { sampleCount: 120, rateHz: 1000 },
        ownRateHz: 1000,
      },
    );
    expect(found!.subarray(0, 11).every(Number.isNaN)).toBe(true);
    expect(found![11]).toBeCloseTo(3, 12);
    expect(found!.subarray(110).every(Number.isNaN)).toBe(true);
  });
});

test("positions undo the relation", () => {
  const relation = { offsetS: 0.25, drift: 1e-4 };
  const positions = leadPositions(relation, { sampleCount: 10, rateHz: 500 }, 1000);
  positions.forEach((at, i) => {
    expect(relation.offsetS + ((1 + relation.drift) * at) / 1000).toBeCloseTo(i / 500, 12);
  });
});

test("two fits meet on host time", () => {
  const line = (ticksPerSecond: number, startS: number): ClockFit =>
    clockFit(
      [0, 10, 20, 30, 40].map((t) => ({ ticks: t * ticksPerSecond, hostS: startS + t, roundTripS: 0.002 })),
      { ticksPerSecond },
    )!;
  // The lead clock was started at host second 100, the other at 103, its clock 100 millionths fast against its nominal rate.
  const lead = { fit: line(1_000_000, 100), stream: { firstTicks: 5_000_000, ticksPerSample: 1000, rateHz: 1000 } };
  const other = { fit: line(250_025, 103), stream: { firstTicks: 500_050, ticksPerSample: 250, rateHz: 1000 } };
  const relation = clockRelation(lead, other);
  expect(relation.offsetS).toBeCloseTo(103 + 2 - 105, 9);
  expect(relation.drift).toBeCloseTo(1 / 1.0001 - 1, 12);
  expect(clockSigmaS(lead.fit, 5_000_000, other.fit, 500_050)).toBeCloseTo(Math.SQRT2 * 0.001, 9);
});

test("a wrench moves with its flags, its place stays", () => {
  const corner = (x: number, y: number) => ({ x, y, z: 0 });
  const frame = plateFrame([corner(0.2, 0.3), corner(-0.2, 0.3), corner(-0.2, -0.3), corner(0.2, -0.3)]);
  const ramp = (rise: number) => Float64Array.from({ length: 50 }, (_, i) => rise * i);
  const isSaturated = new Uint8Array(50);
  isSaturated[20] = 1;
  const wrench: PlateWrench = {
    plate: 2,
    type: 2,
    frame,
    forceN: { x: ramp(1), y: ramp(2), z: ramp(3) },
    momentNm: { x: ramp(4), y: ramp(5), z: ramp(6) },
    hasMoments: true,
    hasFreeMoment: true,
    storedAs: "on-player",
    isSaturated,
    bridgedCount: 0,
    zero: { kind: "none", first: 0, end: 0 },
    findings: [],
  };
  const moved = wrenchOnLeadClock(wrench, { offsetS: 0.0025, drift: 0 }, 1000);
  expect(moved.forceN.y[10]).toBeCloseTo(15, 9);
  expect(moved.momentNm.z[10]).toBeCloseTo(45, 9);
  expect(moved.frame).toBe(frame);
  expect([...moved.isSaturated.keys()].filter((i) => moved.isSaturated[i] === 1)).toEqual([22, 23]);
});
