import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import { mean } from "../samples.ts";
import { leastSquares } from "./least-squares.ts";
import { studyTrend } from "./study-trend.ts";

const close = (got: number, wanted: number, tolerance: number): void =>
  expect(Math.abs(got - wanted) / Math.abs(wanted), `${got}, wanted ${wanted}`).toBeLessThanOrEqual(tolerance);

/** Invented: sessions of one player with days of their own, the same number of shots each. */
function sessions(count: number, shots: number, seed: number) {
  const dice = random(seed, "study");
  const rows = Array.from({ length: count }, (_, s) => {
    const day = 11 * s + (s % 3);
    const level = 40 + 0.05 * day + 1.5 * dice.normal();
    return Array.from({ length: shots }, () => ({ day, session: s, value: level + dice.normal() }));
  }).flat();
  return {
    values: rows.map((row) => row.value),
    day: rows.map((row) => row.day),
    session: rows.map((row) => row.session),
  };
}

describe("the trend of a study", () => {
  it("with equally many shots a session is least squares of the session means, with as many degrees of freedom", () => {
    const shots = sessions(9, 6, 1);
    const made = studyTrend(shots);
    if (made.kind === "withheld") throw new Error("withheld");
    const of = (s: number, column: readonly number[]) => column.filter((_, i) => shots.session[i] === s);
    const places = Array.from({ length: 9 }, (_, s) => s);
    const line = leastSquares(
      places.map((s) => mean(of(s, shots.values))),
      [places.map((s) => of(s, shots.day)[0]! / 30)],
    ).coefficients[1]!;
    close(made.value, line.value, 1e-9);
    close(made.se, line.se, 1e-6);
    close(made.nu, 7, 1e-3);
    close(made.low, line.low, 1e-3);
    expect(made).toMatchObject({ countSessions: 9, method: "reml-sessions", sdPlayer: undefined, findings: [] });
  });
  it("of several players takes sessions within players, whatever they are called", () => {
    const [a, b, c] = [2, 3, 4].map((seed) => sessions(4, 5, seed));
    const player = [a!, b!, c!].flatMap((one, p) => one.values.map(() => p));
    const joined = (key: "values" | "day" | "session") => [...a![key], ...b![key], ...c![key]];
    const shots = {
      values: joined("values").map((v, i) => v + 10 * player[i]!),
      day: joined("day"),
      session: joined("session"),
      player,
    };
    const made = studyTrend(shots, { sigmaShared: 100 });
    expect(made).toMatchObject({ countSessions: 12, method: "reml-players-and-sessions", exceedsShared: false });
    if (made.kind === "withheld") throw new Error("withheld");
    expect(made.sdPlayer!).toBeGreaterThan(5);
    expect(made.nu).toBeLessThan(12);
  });
  it("is withheld below 6 sessions, on one day and without scatter; a shot without a number is left out", () => {
    expect(studyTrend(sessions(5, 4, 1))).toMatchObject({ reason: "too-few", needed: 6 });
    const shots = sessions(7, 3, 1);
    expect(studyTrend({ ...shots, day: shots.day.map(() => 3) })).toMatchObject({ reason: "same-day" });
    expect(studyTrend({ ...shots, values: shots.session })).toMatchObject({ reason: "no-scatter" });
    const missing = { ...shots, values: shots.values.map((v, i) => (i === 0 ? Number.NaN : v)) };
    expect(studyTrend(missing)).toMatchObject({ n: [2, 3, 3, 3, 3, 3, 3] });
    expect(() => studyTrend({ ...shots, day: [1] })).toThrow(RangeError);
  });
});
