import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import { normalTails } from "../distributions/normal.ts";
import { carryOverColumns } from "./carry-over.ts";
import { type PlayersComparison, type PlayersOptions, playersComparison } from "./players-comparison.ts";
import { type PlayersShots, playersData } from "./players-data.ts";

const root = join(import.meta.dirname, "../../../..");
/** lme4 and lmerTest by reference/statistics-mixed.R, SciPy for the two-stage check. */
const reference = JSON.parse(readFileSync(join(root, "reference/statistics-mixed.json"), "utf8"));
const close = (got: number, wanted: number, tolerance: number, least = 1e-9): void =>
  expect(Math.abs(got - wanted) / Math.max(Math.abs(wanted), least), `${got}, wanted ${wanted}`).toBeLessThanOrEqual(
    tolerance,
  );
const ask: PlayersOptions = { seed: 1, streams: random, label: "players/test" };
type Players = Extract<PlayersComparison, { readonly kind: "players" }>;
function compared(shots: PlayersShots, options: Partial<PlayersOptions> = {}): Players {
  const made = playersComparison(shots, { ...ask, ...options });
  if (made.kind !== "players") throw new Error(made.kind);
  return made;
}
const numbered = (column: readonly unknown[]): number[] => {
  const names = [...new Set(column)].sort();
  return column.map((one) => names.indexOf(one));
};
const tableOf = (name: string): PlayersShots & { readonly table: Record<string, number[]> } => {
  const table = reference.tables[name];
  return { table, values: table.y, player: numbered(table.player), condition: numbered(table.lie ?? table.condition) };
};
const expectedOf = (id: string) => reference.cases.find((one: { id: string }) => one.id === id).expected;

/** Invented shots: players × conditions × shots, levels and reactions drawn. */
function invented(
  dice: ReturnType<typeof random>,
  o: {
    readonly players: number;
    readonly conditions: number;
    readonly shots: number;
    readonly sdReaction: number;
    readonly effect?: number;
  },
): PlayersShots & { readonly reactions: readonly (readonly number[])[] } {
  const rows: { value: number; player: number; condition: number }[] = [];
  const reactions = Array.from({ length: o.players }, () =>
    Array.from({ length: o.conditions }, () => o.sdReaction * dice.normal()),
  );
  for (let player = 0; player < o.players; player++) {
    const level = 2 * dice.normal();
    for (let condition = 0; condition < o.conditions; condition++)
      for (let shot = 0; shot < o.shots; shot++)
        rows.push({
          value: 50 + level + reactions[player]![condition]! + (o.effect ?? 0) * condition + dice.normal(),
          player,
          condition,
        });
  }
  return {
    values: rows.map((row) => row.value),
    player: rows.map((row) => row.player),
    condition: rows.map((row) => row.condition),
    reactions,
  };
}

// biome-ignore lint/suspicious/noExplicitAny: read from JSON
function meetsPlayers(one: any): void {
  const asked = one.random === "intercept" ? "intercept" : "slope";
  const made = compared({ values: one.y, player: one.player, condition: one.condition }, { random: asked });
  const contrast = made.contrasts[0]!;
  close(contrast.model.value, one.lme4.beta[1], 1e-6);
  close(contrast.model.se, one.lme4.se[1], 1e-6);
  close(contrast.model.nu, one.lme4.satterthwaiteNu[1], 1e-3);
  expect(Math.abs(made.criterion - one.lme4.remlCriterion)).toBeLessThan(1e-6);
  close(made.scatter.sigma, one.lme4.sigma, 1e-6);
  close(made.scatter.sdLevel ** 2, one.lme4.vcovRandom[0], 1e-5);
  if (asked === "slope") {
    close((made.scatter.sdReaction ?? 0) ** 2, one.lme4.vcovRandom[3], 1e-4);
    const ofFirst = contrast.players[0]!.pulled!.value - contrast.model.value;
    close(ofFirst, one.lme4.firstPlayerEffects[1], 1e-4);
  }
  expect(made.findings.some(({ code }) => code === "singular")).toBe(one.kind === "singular");
  const check = contrast.twoStage;
  if (check.kind === "withheld") throw new Error("withheld");
  close(check.value, one.twoStage.mean, 1e-9);
  close(check.t, one.twoStage.t, 1e-9);
  expect(check.nu).toBe(one.twoStage.nu);
  close(check.p, one.twoStage.p, 1e-9);
  close(check.flips.p, one.twoStage.exactSignFlipP, 1e-9);
  one.twoStage.differences.forEach((wanted: number, k: number) => {
    close(check.differences[k]!, wanted, 1e-9);
  });
}

describe("several players, two conditions", () => {
  for (const one of reference.players) {
    it(`meet lme4, lmerTest and SciPy: ${one.kind}`, () => {
      meetsPlayers(one);
    });
  }
  it("balanced with a slope of their own: the model and the two-stage check are the same test", () => {
    const made = compared(
      invented(random(3, "balanced"), { players: 9, conditions: 2, shots: 5, sdReaction: 1, effect: 1 }),
    );
    expect(made.scatter.random).toBe("slope");
    const { model, twoStage, agrees, quotedP } = made.contrasts[0]!;
    if (twoStage.kind === "withheld") throw new Error("withheld");
    close(model.value, twoStage.value, 1e-9);
    close(model.se, twoStage.se, 1e-6);
    close(model.nu, 8, 1e-3);
    close(model.p, twoStage.p, 1e-3);
    expect(agrees).toBe(true);
    expect(quotedP).toBe(model.p);
    expect(made.findings).toEqual([]);
  });
  it("quote the two-stage p where the two analyses disagree", () => {
    // Players who react differently, fitted as if they did not: the case the check is there for.
    const dice = random(5, "disagree");
    let disagreed = 0;
    for (let run = 0; run < 20; run++) {
      const shots = invented(dice, { players: 6, conditions: 2, shots: 6, sdReaction: 1.5 });
      const { contrasts, findings } = compared(shots, { random: "intercept" });
      expect(findings.some(({ code }) => code === "slope-not-estimated")).toBe(false);
      const { agrees, quotedP, adjustedP } = contrasts[0]!;
      if (agrees) expect(quotedP).toBe(adjustedP.model);
      else {
        disagreed++;
        expect(quotedP).toBe(adjustedP.twoStage);
      }
    }
    expect(disagreed).toBeGreaterThan(2);
  });
  it("say what the counts do not allow", () => {
    const once = invented(random(6, "once"), { players: 8, conditions: 2, shots: 1, sdReaction: 0 });
    const made = compared(once);
    expect(made.scatter).toMatchObject({ random: "intercept", sdReaction: undefined, reaction: undefined });
    expect(made.findings).toContainEqual({ code: "slope-not-estimated" });
    expect(made.contrasts[0]!.players[0]).toMatchObject({ n: [1, 1], pulled: undefined });
    expect(compared(once, { random: "cell" }).scatter.random).toBe("intercept");
    const five = invented(random(7, "five"), { players: 5, conditions: 2, shots: 4, sdReaction: 1 });
    expect(compared(five).scatter.random).toBe("cell");
  });
  it("tell whether players differ in how they react", () => {
    const dice = random(8, "reaction");
    const differing = compared(invented(dice, { players: 12, conditions: 2, shots: 8, sdReaction: 2 }));
    expect(differing.scatter.reaction!.p).toBeLessThan(1e-4);
    const alike = compared(invented(dice, { players: 12, conditions: 2, shots: 8, sdReaction: 0 }));
    expect(alike.scatter.reaction!.p).toBeGreaterThan(0.05);
    // Halves of χ² with one and two degrees of freedom, in closed form: 2(1 - Φ(√x)) and e^(-x/2).
    const { chiSquared, p } = differing.scatter.reaction!;
    close(p, normalTails(Math.sqrt(chiSquared)).upper + Math.exp(-chiSquared / 2) / 2, 1e-9, 1e-300);
  });
  it("tell it of three conditions by lme4's criteria with and without the cells", () => {
    const { chiSquared, p } = compared(tableOf("lies-balanced.csv")).scatter.reaction!;
    const [without, within] = ["lies-balanced-intercept", "lies-balanced"].map((id) => expectedOf(id).remlCriterion);
    close(chiSquared, without - within, 1e-8);
    close(p, normalTails(Math.sqrt(without - within)).upper, 1e-7);
  });
});

describe("three conditions", () => {
  it("have the players' own cells by default, and meet lme4 in every pair", () => {
    for (const id of ["lies-balanced", "lies-unbalanced"]) {
      const made = compared(tableOf(`${id}.csv`));
      const wanted = expectedOf(id);
      expect(made.scatter.random).toBe("cell");
      expect(made.contrasts.map(({ from, to }) => [from, to])).toEqual([
        [0, 1],
        [0, 2],
        [1, 2],
      ]);
      wanted.contrasts.forEach((one: { estimate: number; se: number; satterthwaiteDf: number }, k: number) => {
        close(made.contrasts[k]!.model.value, one.estimate, 1e-7);
        close(made.contrasts[k]!.model.se, one.se, 1e-6);
        close(made.contrasts[k]!.model.nu, one.satterthwaiteDf, 1e-3);
        expect(made.contrasts[k]!.adjustedP.model).toBeGreaterThanOrEqual(made.contrasts[k]!.model.p);
      });
    }
  });
  it("pull a player's own difference toward the group, more where there are fewer shots, and give one without a shot the group's", () => {
    const made = compared(tableOf("lies-unbalanced.csv"));
    const [, flatless] = made.contrasts;
    const p04 = flatless!.players[3]!;
    expect(p04.n[1]).toBe(0);
    expect(p04.own).toBeNaN();
    expect(p04.pulled!.se).toBeGreaterThan(flatless!.model.se);
    for (const { own, pulled } of flatless!.players) {
      if (Number.isNaN(own)) continue;
      const group = flatless!.model.value;
      // Not exactly between the two: levels of other conditions tell of the player too.
      expect(Math.abs(pulled!.value - group)).toBeLessThan(Math.abs(own - group) + 1);
      expect(pulled!.low).toBeLessThan(pulled!.value);
    }
    expect(made.levels).toHaveLength(10);
    expect(made.counts[3]![2]).toBe(0);
  });
  it("of a crossover: period, and the shot number in tens", () => {
    const { table, ...shots } = tableOf("crossover.csv");
    const period = table["period"]!.map((one) => (Number(one) === 2 ? 1 : 0));
    const made = compared(shots, { shotNumber: table["shot"]!, columns: [period], random: "cell" });
    const wanted = expectedOf("crossover");
    close(made.contrasts[0]!.model.value, wanted.beta[1], 1e-7);
    close(made.contrasts[0]!.model.nu, wanted.satterthwaiteDf[1], 1e-3);
    // Ten shots at a time; centring does not touch the slope.
    close(made.covariates[0]!.value, 10 * wanted.beta[3], 1e-7);
    close(made.covariates[1]!.value, wanted.beta[2], 1e-7);
    close(made.covariates[1]!.se, wanted.se[2], 1e-6);
  });
  it("count the shot number in tens from the middle of each player's own", () => {
    const shots = { values: [1, 2, 3, 4, 5], player: [3, 3, 3, 1, 1], condition: [0, 1, 0, 1, 0] };
    const { shotNumber } = playersData(shots, { shotNumber: [10, 20, 60, 5, 15] });
    expect([...shotNumber!]).toEqual([-2, -1, 3, -0.5, 0.5]);
  });
  it("with sessions nested in players have their scatter beside", () => {
    const dice = random(9, "sessions");
    const shots = invented(dice, { players: 8, conditions: 2, shots: 8, sdReaction: 0.5 });
    const session = Array.from(shots.values, (_, i) => (i % 4) >> 1);
    const days = Array.from({ length: 16 }, () => 3 * dice.normal());
    const values = Array.from(shots.values, (value, i) => value + days[shots.player[i]! * 2 + session[i]!]!);
    const made = compared({ ...shots, values }, { session });
    expect(made.scatter.sdSession!).toBeGreaterThan(1.5);
    expect(compared(shots, { session: session.map(() => 1) }).scatter.sdSession).toBeUndefined();
  });
});

describe("days that all players share", () => {
  it("are a scatter of their own beside the players, and shots of a bad day do not pose as a difference", () => {
    const dice = random(31, "days");
    const shots = invented(dice, { players: 8, conditions: 2, shots: 6, sdReaction: 0.5 });
    const days = Array.from(shots.values, (_, i) => i % 6);
    const level = Array.from({ length: 6 }, () => 4 * dice.normal());
    const values = Array.from(shots.values, (value, i) => value + level[days[i]!]!);
    const made = compared({ ...shots, values }, { crossed: [days] });
    const plain = compared({ ...shots, values });
    expect(made.scatter.sdCrossed[0]!).toBeGreaterThan(2);
    expect(plain.scatter.sdCrossed).toEqual([]);
    // Each day has as many shots of either condition: the difference stays, its standard error loses what the days add.
    close(made.contrasts[0]!.model.value, plain.contrasts[0]!.model.value, 1e-6);
    expect(made.contrasts[0]!.model.se).toBeLessThan(plain.contrasts[0]!.model.se);
    expect(made.scatter.sigma).toBeLessThan(plain.scatter.sigma / 2);
  });
});

describe("where nothing can be said of players in general", () => {
  it("up to four players stand side by side", () => {
    const shots = invented(random(1, "four"), { players: 4, conditions: 3, shots: 4, sdReaction: 0 });
    const made = playersComparison(shots, ask);
    if (made.kind !== "each-player") throw new Error(made.kind);
    expect(made.players).toHaveLength(4);
    expect(made.players[2]!.contrasts.map(({ from, to }) => [from, to])).toEqual([
      [0, 1],
      [0, 2],
      [1, 2],
    ]);
    expect(made.players[2]!.contrasts[0]!.difference).toMatchObject({ kind: "difference", n: [4, 4] });
  });
  it("players of one condition each are compared by their means", () => {
    const player = Array.from({ length: 24 }, (_, i) => Math.floor(i / 3));
    const shots = { values: player.map((p, i) => p + (i % 3)), player, condition: player.map((p) => p % 2) };
    const made = playersComparison(shots, ask);
    if (made.kind !== "between-players") throw new Error(made.kind);
    expect(made.contrasts[0]!.difference).toMatchObject({ kind: "difference", value: 1, n: [4, 4] });
  });
  it("one condition, columns that cannot be told apart, or no scatter are withheld; a shot without a number is left out", () => {
    const shots = invented(random(2, "withheld"), { players: 6, conditions: 2, shots: 3, sdReaction: 0 });
    const single = { ...shots, condition: Array.from(shots.condition, () => 0) };
    expect(playersComparison(single, ask)).toMatchObject({ reason: "too-few", needed: 2 });
    expect(playersComparison(shots, { ...ask, columns: [shots.condition] })).toMatchObject({ reason: "dependent" });
    expect(playersComparison({ ...shots, values: shots.player }, ask)).toMatchObject({ reason: "no-scatter" });
    const missing = { ...shots, values: Array.from(shots.values, (one, i) => (i === 4 ? Number.NaN : one)) };
    expect(playersComparison(missing, ask)).toMatchObject({ countMissing: 1 });
    expect(() => playersComparison({ ...shots, player: [1] }, ask)).toThrow(RangeError);
  });
});

describe("honesty, by simulation from a seed", () => {
  it("players who react differently but alike on average: a difference of three conditions is claimed in about 5 of 100 pairs", () => {
    const dice = random(11, "honest");
    let claimed = 0;
    let pairs = 0;
    for (let run = 0; run < 150; run++) {
      const made = compared(invented(dice, { players: 8, conditions: 3, shots: 4, sdReaction: 1 }));
      for (const { model } of made.contrasts) {
        pairs++;
        if (model.p <= 0.05) claimed++;
      }
    }
    // 450 pairs, not independent: 95 % of such runs lie between 2 and 8 of 100.
    expect(claimed / pairs).toBeGreaterThan(0.02);
    expect(claimed / pairs).toBeLessThan(0.08);
  });
  it("the interval of a player's own pulled difference holds the player's true difference in about 95 of 100", () => {
    const dice = random(12, "pulled");
    let covered = 0;
    let count = 0;
    for (let run = 0; run < 80; run++) {
      const shots = invented(dice, { players: 10, conditions: 2, shots: 5, sdReaction: 1, effect: 1 });
      const made = compared(shots);
      made.contrasts[0]!.players.forEach(({ pulled }, k) => {
        const truth = 1 + shots.reactions[k]![1]! - shots.reactions[k]![0]!;
        count++;
        if (pulled!.low <= truth && truth <= pulled!.high) covered++;
      });
    }
    expect(covered / count).toBeGreaterThan(0.92);
    expect(covered / count).toBeLessThan(0.98);
  });
});

describe("laws of the comparison", () => {
  it("swapping the conditions turns the sign and keeps p, whichever is the reference; shift and scale move it accordingly", () => {
    for (const [conditions, id] of [
      [2, "slope"],
      [3, "cell"],
    ] as const) {
      const shots = invented(random(21, id), { players: 7, conditions, shots: 4, sdReaction: 1, effect: 1 });
      const one = compared(shots);
      const other = compared({ ...shots, condition: Array.from(shots.condition, (c) => conditions - 1 - c) });
      const scaled = compared({ ...shots, values: Array.from(shots.values, (value) => 4 * value - 30) });
      expect(one.scatter.random).toBe(id);
      const [there, back, large] = [one.contrasts[0]!, other.contrasts.at(-1)!, scaled.contrasts[0]!];
      close(back.model.value, -there.model.value, 1e-6);
      close(back.model.p, there.model.p, 1e-4);
      close(back.players[2]!.pulled!.value, -there.players[2]!.pulled!.value, 1e-4);
      close(large.model.value, 4 * there.model.value, 1e-6);
      close(large.model.p, there.model.p, 1e-5);
      close(large.players[2]!.pulled!.se, 4 * there.players[2]!.pulled!.se, 1e-4);
      expect(compared(shots)).toEqual(one);
    }
  });
});

describe("carry-over", () => {
  it("columns name the condition before, none for the first shot of a block", () => {
    const columns = carryOverColumns([0, 1, 2, 1, 2, 0], [7, 7, 7, 8, 8, 8]);
    expect(columns.map((column) => [...column])).toEqual([
      [0, 0, 1, 0, 1, 0],
      [0, 0, 0, 0, 0, 1],
    ]);
  });
});

const checks = join(root, "../shared/data/checks/statistics/spec/mixed.json");
describe.skipIf(!existsSync(checks))("the check values that lie beside the repository in some checkouts", () => {
  it("of spec/mixed.json are met", () => {
    const { cases } = JSON.parse(readFileSync(checks, "utf8"));
    expect(cases).toHaveLength(3);
    for (const one of cases) meetsPlayers(one);
  });
});
