import { INTENTS } from "@underfoot/domain";
import { describe, expect, test } from "vitest";
import {
  DEMO_NOTICE,
  demoShots,
  EXACT_SENSORS,
  SIMULATED_LIES,
  simulatedPlayer,
  simulatedSession,
  simulateShot,
} from "./index.ts";
import { scatter } from "./scatter.ts";

const player = simulatedPlayer({ seed: 4 });

function correlation(pairs: readonly (readonly [number, number])[]): number {
  const mean = (pick: 0 | 1): number => pairs.reduce((total, pair) => total + pair[pick] / pairs.length, 0);
  const [a, b] = [mean(0), mean(1)];
  let [both, first, second] = [0, 0, 0];
  for (const [x, y] of pairs) {
    both += (x - a) * (y - b);
    first += (x - a) ** 2;
    second += (y - b) ** 2;
  }
  return both / Math.sqrt(first * second);
}

describe("scatter", () => {
  const draws = (seed: number, sessionSeed: number): number =>
    scatter({ seed, sessionSeed, player, scale: 1 }).amplitude();

  test("two shots of a session correlate by 0.3, of two sessions not at all", () => {
    const inOne = Array.from({ length: 4000 }, (_, k) => [draws(2 * k, k), draws(2 * k + 1, k)] as const);
    const inTwo = Array.from({ length: 4000 }, (_, k) => [draws(2 * k, k), draws(2 * k + 1, 9000 + k)] as const);
    // Standard error of a correlation from 4000 pairs: 0.015.
    expect(Math.abs(correlation(inOne) - 0.3)).toBeLessThan(0.05);
    expect(Math.abs(correlation(inTwo))).toBeLessThan(0.05);
  });

  test("amplitudes have the player's CV, times the player's sd", () => {
    const factors = Array.from({ length: 4000 }, (_, k) => draws(k, k));
    const mean = factors.reduce((total, f) => total + f / factors.length, 0);
    const sd = Math.sqrt(factors.reduce((total, f) => total + (f - mean) ** 2 / factors.length, 0));
    expect(mean).toBeCloseTo(1, 2);
    expect(Math.abs(sd / player.scatter.amplitudeCv - 1)).toBeLessThan(0.05);
    expect(player.scatter.amplitudeCv).toBeGreaterThanOrEqual(0.06);
    expect(player.scatter.amplitudeCv).toBeLessThanOrEqual(0.1);
  });
});

describe("session", () => {
  const options = {
    seed: 8,
    player,
    lies: [SIMULATED_LIES.flat, SIMULATED_LIES.upslope],
    intents: ["stock", "low"] as const,
    shotsPerCondition: 5,
    mishitShare: 0.3,
    sensors: EXACT_SENSORS,
  };

  test("has every intent on every lie as often as asked, lie after lie, the same every time", () => {
    const plans = simulatedSession(options);
    expect(plans).toEqual(simulatedSession(options));
    expect(plans).toHaveLength(20);
    expect(plans.map(({ name }) => name).slice(0, 2)).toEqual(["shot-001", "shot-002"]);
    expect(new Set(plans.map(({ seed }) => seed)).size).toBe(20);
    for (const lie of options.lies) {
      for (const intent of options.intents) {
        expect(plans.filter((plan) => plan.lie === lie && plan.intent === intent)).toHaveLength(5);
      }
    }
    expect(plans.slice(0, 10).every(({ lie }) => lie.name === "flat")).toBe(true);
    expect(plans.some(({ isMishit }) => isMishit)).toBe(true);
  });

  test("in blocks when asked", () => {
    const intents = simulatedSession({ ...options, order: "blocked" }).map(({ intent }) => intent);
    expect(intents.slice(0, 10)).toEqual([...Array(5).fill("stock"), ...Array(5).fill("low")]);
  });
});

describe("demo", () => {
  const plans = demoShots();

  test("tells our own story: two invented players, both hands, five intents, four lies, two mishits, one gap", () => {
    expect(plans).toHaveLength(24);
    expect(new Set(plans.map(({ player: { name } }) => name))).toEqual(new Set(["Player A", "Player B"]));
    expect(new Set(plans.map(({ player: { handed } }) => handed))).toEqual(new Set(["right", "left"]));
    expect(new Set(plans.map(({ intent }) => intent))).toEqual(new Set(INTENTS));
    expect(new Set(plans.map(({ lie }) => lie.name)).size).toBe(4);
    expect(plans.filter(({ isMishit }) => isMishit)).toHaveLength(2);
    expect(plans.filter(({ faults }) => faults?.includes("gap"))).toHaveLength(1);
    expect(new Set(plans.map(({ name }) => name)).size).toBe(24);
    expect(DEMO_NOTICE).toMatch(/^Invented/);
  });

  test("every shot can be simulated, says that it is invented, and a mishit is struck badly", () => {
    for (const plan of plans) {
      const { facts, recording } = simulateShot(plan);
      expect(recording.rateHz).toBe(1000);
      expect(facts.note).toContain("invented");
      expect(facts.result?.contact === "clean").toBe(plan.isMishit !== true);
    }
  });
});

test("a player is the same for the same seed and has a code, not a name", () => {
  expect(simulatedPlayer({ seed: 5 })).toEqual(simulatedPlayer({ seed: 5 }));
  expect(simulatedPlayer({ seed: 5 }).name).toMatch(/^Player [A-Z]$/);
  expect(simulatedPlayer({ seed: 5, handed: "left", massKg: 61, name: "Player K" })).toMatchObject({
    handed: "left",
    massKg: 61,
    name: "Player K",
  });
});
