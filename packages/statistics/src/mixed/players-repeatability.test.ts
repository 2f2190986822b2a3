import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import { playersRepeatability } from "./players-repeatability.ts";

const close = (got: number, wanted: number, tolerance: number): void =>
  expect(Math.abs(got - wanted) / Math.abs(wanted), `${got}, wanted ${wanted}`).toBeLessThanOrEqual(tolerance);

describe("repeatability", () => {
  const draw = (dice: ReturnType<typeof random>, counts: readonly number[], sdPlayers: number): number[][] =>
    counts.map((count) => {
      const level = sdPlayers * dice.normal();
      return Array.from({ length: count }, () => level + dice.normal());
    });
  it("of equal counts is the closed form, of others the share of the fit with the percentiles of its refits", () => {
    const dice = random(13, "repeat");
    const equal = playersRepeatability(draw(dice, [5, 5, 5, 5, 5, 5], 2), {
      seed: 1,
      streams: random,
      label: "repeatability",
    });
    expect(equal).toMatchObject({ kind: "repeatability", method: "repeatability-one-way" });
    const options = { seed: 1, streams: random, label: "repeatability" };
    const groups = draw(dice, [3, 8, 5, 6, 4, 7, 9, 5], 2);
    const made = playersRepeatability(groups, options);
    if (made.kind === "withheld") throw new Error("withheld");
    expect(made).toMatchObject({ method: "repeatability-bootstrap", countArrangements: 1000, countLost: 0, seed: 1 });
    expect(made.low).toBeLessThan(made.value);
    expect(made.high).toBeGreaterThan(made.value);
    close(made.value, made.sdPlayers ** 2 / (made.sdPlayers ** 2 + made.sigma ** 2), 1e-12);
    expect(playersRepeatability(groups, options)).toEqual(made);
  });
  it("of equal counts taken as unequal is the same share: one more player with one shot hardly moves it", () => {
    const groups = draw(random(14, "same"), [6, 6, 6, 6, 6, 6, 6, 6], 1.5);
    const options = { seed: 1, streams: random, label: "repeatability" };
    const closed = playersRepeatability(groups, options);
    const other = playersRepeatability([...groups, [groups[0]![0]!]], options);
    if (closed.kind === "withheld" || other.kind === "withheld") throw new Error("withheld");
    close(closed.value, closed.sdPlayers ** 2 / (closed.sdPlayers ** 2 + closed.sigma ** 2), 1e-7);
    expect(Math.abs(closed.value - other.value)).toBeLessThan(0.1);
  });
  it("is withheld for one player, single shots, and no scatter", () => {
    const options = { seed: 1, streams: random, label: "repeatability" };
    expect(playersRepeatability([[1, 2, 3]], options)).toMatchObject({ reason: "too-few" });
    expect(playersRepeatability([[1], [2], [3]], options)).toMatchObject({ reason: "too-few" });
    expect(
      playersRepeatability(
        [
          [1, 1],
          [2, 2],
          [3, 3],
        ],
        options,
      ),
    ).toMatchObject({ reason: "no-scatter" });
  });
});
