import { random } from "@underfoot/domain";
import { expect, test } from "vitest";
import { type ClockReading, clockFit, hostTimeS, hostTimeSigmaS } from "./clock-fit.ts";

const TICKS_PER_SECOND = 250_000;

interface Network {
  readonly rateErrorPpm: number;
  readonly lengthS: number;
  /** Least delay each way, s. */
  readonly least?: readonly [number, number];
}

/** Pings 4 times a second for 5 s, then every 2 s; each way has its own delay, an exponential above the least one. */
function pings({ rateErrorPpm, lengthS, least = [0.0006, 0.0006] }: Network, seed: number): ClockReading[] {
  const dice = random(seed, "pings");
  const delay = (leastS: number): number => leastS - 0.0015 * Math.log(1 - dice.unit());
  const readings: ClockReading[] = [];
  for (let sentS = 0; sentS <= lengthS; sentS += sentS < 5 ? 0.25 : 2) {
    const readS = sentS + delay(least[0]);
    const receivedS = readS + delay(least[1]);
    readings.push({
      ticks: Math.floor(ticksAt(readS, rateErrorPpm)),
      hostS: HOST_START_S + (sentS + receivedS) / 2,
      roundTripS: receivedS - sentS,
    });
  }
  return readings;
}

const HOST_START_S = 1_700_000;

function ticksAt(timeS: number, rateErrorPpm: number): number {
  return 9_000_000_000 + timeS * TICKS_PER_SECOND * (1 + 1e-6 * rateErrorPpm);
}

test("exact readings give the exact line", () => {
  const readings = [0, 1, 2, 3, 4, 5].map((t) => ({ ticks: t * 1000, hostS: 5 + 2 * t, roundTripS: 0.001 }));
  const fit = clockFit(readings, { ticksPerSecond: 500 })!;
  expect(hostTimeS(fit, 2500)).toBeCloseTo(10, 12);
  expect(fit.rateErrorPpm).toBeCloseTo(0, 6);
  expect(hostTimeSigmaS(fit, 2500)).toBeCloseTo(0.0005, 9);
  expect(fit.usedCount).toBe(5);
});

test("over simulated networks the error is a small part of what is stated", () => {
  const errorsMs: number[] = [];
  const sigmasMs: number[] = [];
  for (let seed = 0; seed < 200; seed++) {
    const fit = clockFit(pings({ rateErrorPpm: 40, lengthS: 60 }, seed), { ticksPerSecond: TICKS_PER_SECOND })!;
    const atS = 61;
    const ticks = ticksAt(atS, 40);
    errorsMs.push(1000 * (hostTimeS(fit, ticks) - HOST_START_S - atS));
    sigmasMs.push(1000 * hostTimeSigmaS(fit, ticks));
    expect(fit.findings).toEqual([]);
  }
  const rms = Math.sqrt(errorsMs.reduce((sum, error) => sum + error * error, 0) / errorsMs.length);
  expect(rms).toBeLessThan(0.5);
  expect(Math.min(...sigmasMs)).toBeGreaterThan(0.6);
  expect(errorsMs.filter((error, i) => Math.abs(error) < 2 * sigmasMs[i]!).length).toBeGreaterThan(195);
});

test("a one-sided network shifts the line by half the difference, within the half round trip that is stated", () => {
  const errors = Array.from({ length: 50 }, (_, seed) => {
    const fit = clockFit(pings({ rateErrorPpm: 0, lengthS: 60, least: [0.0002, 0.0042] }, seed), {
      ticksPerSecond: TICKS_PER_SECOND,
    })!;
    expect(fit.asymmetrySigmaS).toBeGreaterThan(0.0022);
    return hostTimeS(fit, ticksAt(30, 0)) - HOST_START_S - 30;
  });
  const meanError = errors.reduce((sum, error) => sum + error, 0) / errors.length;
  expect(meanError).toBeCloseTo(0.002, 3);
});

test("only the last 60 s count, and of these the fastest fifth", () => {
  const old = pings({ rateErrorPpm: 0, lengthS: 60 }, 1).map((reading) => ({ ...reading, ticks: reading.ticks + 5e6 }));
  const recent = pings({ rateErrorPpm: 0, lengthS: 60 }, 2).map((reading) => ({
    ...reading,
    ticks: reading.ticks + 100 * TICKS_PER_SECOND,
    hostS: reading.hostS + 100,
  }));
  const options = { ticksPerSecond: TICKS_PER_SECOND };
  const fit = clockFit([...old, ...recent], options)!;
  expect(fit).toEqual(clockFit(recent, options));
  expect(fit.usedCount).toBe(Math.ceil(recent.length / 5));
});

test.each([
  [150, 0],
  [-190, 0],
  [260, 1],
  [-400, 1],
])("a clock off by %d millionths: %d findings", (rateErrorPpm, count) => {
  const fit = clockFit(pings({ rateErrorPpm, lengthS: 60 }, 3), { ticksPerSecond: TICKS_PER_SECOND })!;
  expect(Math.abs(fit.rateErrorPpm - rateErrorPpm)).toBeLessThan(40);
  expect(fit.findings.map((finding) => finding.code)).toEqual(count === 0 ? [] : ["clock-rate"]);
});

test("few readings: none, one and two keep the nominal rate", () => {
  const readings = pings({ rateErrorPpm: 0, lengthS: 0.5 }, 1);
  expect(clockFit([], { ticksPerSecond: TICKS_PER_SECOND })).toBeUndefined();
  for (const count of [1, 2]) {
    const fit = clockFit(readings.slice(0, count), { ticksPerSecond: TICKS_PER_SECOND })!;
    expect(fit.secondsPerTick).toBe(1 / TICKS_PER_SECOND);
    // Ten seconds away at 200 millionths: 2 ms.
    expect(hostTimeSigmaS(fit, fit.centreTicks + 10 * TICKS_PER_SECOND)).toBeGreaterThan(0.002);
  }
});
