import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { curvePower, curvesPerCondition } from "./curve-power.ts";
import { detectableDifference, pairsNeeded, power, shotsPerCondition } from "./power.ts";
import { playersByShots, powerByPlayersAndShots, shotsNeeded } from "./shots-needed.ts";
import { isOrderConfounded, visitScatter } from "./visits.ts";

const two = (n: number) => ({ kind: "two-groups", nA: n, nB: n }) as const;

describe("power and counts", () => {
  it("meets published sample sizes: 64, 26 and 17 a group for effects of 0.5, 0.8 and 1.0 (Cohen 1988 tables: 64, 26, 17; from memory)", () => {
    expect(shotsPerCondition({ difference: 0.5, sd: 1 })).toBe(64);
    expect(shotsPerCondition({ difference: 0.8, sd: 1 })).toBe(26);
    expect(shotsPerCondition({ difference: 1, sd: 1 })).toBe(17);
  });
  it("is the level itself when there is no difference, for one measure or several", () => {
    expect(power(two(8), { difference: 0, sd: 1 })).toBeCloseTo(0.05, 9);
    expect(power(two(8), { difference: 0, sd: 1, countMeasures: 3 })).toBeCloseTo(0.05 / 3, 9);
  });
  it("does not care about the sign or the unit", () => {
    const one = power(two(6), { difference: 3, sd: 2 });
    expect(power(two(6), { difference: -3, sd: 2 })).toBe(one);
    expect(power(two(6), { difference: 3000, sd: 2000 })).toBe(one);
  });
  it("gives the difference at which the power is what was wanted", () => {
    const comparison = { kind: "two-groups", nA: 6, nB: 9 } as const;
    const difference = detectableDifference(comparison, { sd: 4 });
    expect(power(comparison, { difference, sd: 4 })).toBeCloseTo(0.8, 9);
    const pairs = detectableDifference({ kind: "paired", n: 7 }, { sd: 4, powerOfOne: 0.9 });
    expect(power({ kind: "paired", n: 7 }, { difference: pairs, sd: 4 })).toBeCloseTo(0.9, 9);
  });
  it("says that 200 are not enough", () => {
    expect(shotsPerCondition({ difference: 0.1, sd: 1 })).toBeUndefined();
    expect(pairsNeeded({ difference: 0.1, sd: 1 })).toBeUndefined();
  });
  it("gives both counts: with the scatter and with its upper limit", () => {
    expect(shotsNeeded({ difference: 1.5, sd: 1, nu: 9 })).toMatchObject({ n: 9, nAtUpperLimit: 13, isGuess: false });
    expect(shotsNeeded({ difference: 1.5, sd: 1 })).toMatchObject({ n: 9, nAtUpperLimit: undefined, isGuess: true });
  });
  it("refuses a plan without scatter", () => expect(() => power(two(5), { difference: 1, sd: 0 })).toThrow(RangeError));
  it("shows that more shots buy little once players' differences rule", () => {
    const asked = { difference: 1.5, sdSlope: 1.7, sd: 2 };
    const grid = powerByPlayersAndShots({ ...asked, players: [10, 20], shots: [3, 6, 100] });
    expect(grid[1]?.[0]).toBeGreaterThan(grid[0]?.[2] ?? 1);
    expect(grid[0]?.[1]).toBeGreaterThan(grid[0]?.[0] ?? 1);
    expect(playersByShots({ ...asked, shots: [3] })[0]?.sdDifference).toBeCloseTo(Math.sqrt(1.7 ** 2 + 8 / 3), 14);
  });
});

describe("whole curves", () => {
  it.each([
    [6, [6, 7, 9, 14, 21, 28]],
    [12, [6, 8, 10, 16, 23, 32]],
    [20, [7, 8, 11, 17, 25, 35]],
  ])("meets the table of counts at roughness %d", (roughness, counts) => {
    expect([3, 2.5, 2, 1.5, 1.2, 1].map((heightPerSd) => curvesPerCondition({ roughness, heightPerSd }))).toEqual(
      counts,
    );
  });
  it("is a little below what simulation saw (54 % for 8 curves and 2 sd at roughness 20)", () => {
    expect(curvePower(8, { roughness: 20, heightPerSd: 2 })).toBeCloseTo(0.54, 2);
    expect(curvesPerCondition({ roughness: 20, heightPerSd: 0.1 })).toBeUndefined();
  });
});

describe("visits", () => {
  it("counts visits, names lies visited once, and finds how far visits to one lie differ", () => {
    const values = [1, 3, 10, 12, 20, 22, 5, Number.NaN];
    const result = visitScatter({ values, lies: [0, 0, 1, 1, 1, 1, 0, 2], visits: [0, 0, 1, 1, 2, 2, 3, 4] });
    expect(result.largestDifference).toBe(10);
    expect([...result.countVisits]).toEqual([
      [0, 2],
      [1, 2],
    ]);
    expect(result.liesVisitedOnce).toEqual([]);
    const once = visitScatter({ values: [1, 2], lies: [0, 1], visits: [0, 1] });
    expect(once.liesVisitedOnce).toEqual([0, 1]);
    expect(once.largestDifference).toBeNaN();
  });
  it("finds an order that cannot be told from the condition", () => {
    expect(isOrderConfounded([0, 0, 0, 1, 1])).toBe(true);
    expect(isOrderConfounded([1, 0, 1])).toBe(false);
    expect(isOrderConfounded([0, 0])).toBe(false);
  });
});

const beside = join(import.meta.dirname, "../../../../../shared/data/checks/statistics");
describe.skipIf(!existsSync(beside))("against the check values beside the repository", () => {
  const read = (file: string) => JSON.parse(readFileSync(join(beside, file), "utf8")).cases;
  const rowsOf = (id: string) => {
    const rows = read("planning.json").find((one: { id: string }) => one.id === id).expected.rows;
    expect(rows.length).toBeGreaterThan(2);
    return rows;
  };
  it("meets planning.json: power, counts, detectable difference, players (1e-8)", () => {
    for (const row of rowsOf("power-two-sample"))
      expect(Math.abs(power(two(row.n), { difference: row.d, sd: 1 }) / row.power - 1)).toBeLessThan(1e-8);
    for (const row of rowsOf("power-paired"))
      expect(Math.abs(power({ kind: "paired", n: row.n }, { difference: row.d, sd: 1 }) / row.power - 1)).toBeLessThan(
        1e-8,
      );
    for (const row of rowsOf("shots-needed")) {
      const asked = { difference: row.d, sd: 1 };
      expect(shotsPerCondition(asked)).toBe(row.n80);
      expect(shotsPerCondition({ ...asked, powerOfOne: 0.9 })).toBe(row.n90);
      expect(shotsPerCondition({ ...asked, alphaOfOne: 0.01 })).toBe(row.n80alpha01);
    }
    for (const row of rowsOf("detectable"))
      expect(Math.abs(detectableDifference(two(row.n), { sd: 1 }) / row.d80 - 1)).toBeLessThan(1e-8);
    const { difference, sdSlope, typicalError } = read("planning.json").find(
      (one: { id: string }) => one.id === "players-needed",
    ).input;
    for (const row of rowsOf("players-needed")) {
      const [got] = playersByShots({ difference, sdSlope, sd: typicalError, shots: [row.shots] });
      expect(got?.countPlayers).toBe(row.players);
      expect(Math.abs((got?.sdDifference ?? 0) / row.sdDifference - 1)).toBeLessThan(1e-8);
    }
  });
  it("meets spec/power.json (1e-8 absolute)", () => {
    const cases = read("spec/power.json");
    expect(cases.length).toBeGreaterThan(10);
    for (const one of cases) {
      const sd = 1;
      if (one.kind === "two groups")
        expect(Math.abs(power(two(one.n), { difference: one.ratio, sd }) - one.power)).toBeLessThan(1e-8);
      else if (one.kind === "paired")
        expect(Math.abs(power({ kind: "paired", n: one.n }, { difference: one.ratio, sd }) - one.power)).toBeLessThan(
          1e-8,
        );
      else if (one.kind.startsWith("detectable"))
        expect(
          Math.abs(detectableDifference({ kind: "two-groups", nA: one.nA, nB: one.nB }, { sd }) - one.ratio),
        ).toBeLessThan(1e-8);
      else expect(Object.keys(one)).toContain("kind");
    }
  });
});
