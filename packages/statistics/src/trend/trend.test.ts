import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import { exactScoreP, inversionChances, kendallScore, kendallTest, pairwiseSlopes, theilSen } from "./kendall.ts";
import { leastSquares } from "./least-squares.ts";
import { meanMovingRange, runChart } from "./run-chart.ts";
import { sessionScatter } from "./session-scatter.ts";
import { type SessionShots, sessionTrend } from "./session-trend.ts";

const root = join(import.meta.dirname, "../../../..");
/** SciPy and NumPy by reference/statistics-trend.py; NIST's certified values named inside. */
const reference = JSON.parse(readFileSync(join(root, "reference/statistics-trend.json"), "utf8"));
const close = (got: number, wanted: number, tolerance: number): void =>
  expect(Math.abs(got - wanted) / Math.abs(wanted || 1), `${got}, wanted ${wanted}`).toBeLessThanOrEqual(tolerance);
const ask = { seed: 1, streams: random };
const stream = random(1, "test");
const days = (means: readonly number[], step = 10): SessionShots[] =>
  means.map((mean, j) => ({ day: j * step, values: [mean - 1, mean, mean + 1] }));

describe("least squares", () => {
  it("meets NIST's certified Norris line to 1e-11", () => {
    const { x, y, certified } = reference.norris;
    const fit = leastSquares(y, [x]);
    close(fit.coefficients[0]!.value, certified.b0, 1e-11);
    close(fit.coefficients[0]!.se, certified.seB0, 1e-11);
    close(fit.coefficients[1]!.value, certified.b1, 1e-11);
    close(fit.coefficients[1]!.se, certified.seB1, 1e-11);
    close(fit.sigma, certified.residualSd, 1e-11);
  });
  it("refuses more coefficients than values carry, and columns that say the same", () => {
    expect(() => leastSquares([1, 2], [[1, 2]])).toThrow(RangeError);
    expect(() => leastSquares([1, 2, 3, 5], [[1, 1, 1, 1]])).toThrow(RangeError);
    expect(() => leastSquares([1, 2, 3, 5], [[1, 2]])).toThrow(RangeError);
  });
  it("fits a mean alone", () => {
    const fit = leastSquares([1, 2, 3], []);
    expect(fit.coefficients[0]).toMatchObject({ value: 2 });
    close(fit.coefficients[0]!.se, 1 / Math.sqrt(3), 1e-14);
  });
});

describe("Kendall's score", () => {
  it("meets SciPy's exact p without ties, 4 to 30 values", () => {
    for (const one of reference.kendall) {
      const test = kendallTest(one.x, one.y, stream);
      expect(test).toMatchObject({ score: one.score, method: "kendall-exact" });
      close(test.p, one.p, 1e-12);
    }
  });
  it("has chances that add up to one and are symmetric", () => {
    for (const n of [2, 5, 9, 40]) {
      const chances = inversionChances(n);
      close(
        chances.reduce((sum, one) => sum + one, 0),
        1,
        1e-13,
      );
      close(chances[1]!, chances.at(-2)!, 1e-13);
    }
    expect(exactScoreP(10, 5)).toBeCloseTo(2 / 120, 14);
  });
  it("counts all orders where values are tied: 4 values with one tie, by hand", () => {
    // y = 1 1 2 3 gives S = 5, the largest; 2 of 24 orders reach it, 2 of 24 its negative.
    const test = kendallTest([1, 2, 3, 4], [1, 1, 2, 3], stream);
    expect(test).toEqual({ score: 5, p: 4 / 24, method: "kendall-all-orders", countArrangements: 24 });
  });
  it("shuffles where many values are tied, repeatably from the seed", () => {
    const x = Array.from({ length: 12 }, (_, i) => i);
    const y = [1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6];
    const one = kendallTest(x, y, random(3, "k"));
    expect(one).toMatchObject({ method: "kendall-shuffles", countArrangements: 10_000, p: 1 / 10_001 });
    expect(kendallTest(x, y, random(3, "k"))).toEqual(one);
  });
  it("agrees between all orders and the recurrence", () => {
    const y = [3, 1, 4, 2, 6, 5];
    const x = [1, 2, 3, 4, 5, 6];
    close(kendallTest(x, y, stream).p, exactScoreP(kendallScore(x, y), 6), 1e-14);
  });
});

describe("the slope", () => {
  it("meets SciPy's Theil-Sen", () => {
    for (const one of reference.theilSen) close(theilSen(one.x, one.y, 0.95).value, one.slope, 1e-12);
  });
  it("has no limits where so few points cannot reach the level", () => {
    const { low, high } = theilSen([1, 2, 3], [1, 2, 4], 0.95);
    expect([low, high]).toEqual([Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]);
  });
  it("of a straight line is that line's, with no width", () => {
    expect(theilSen([0, 1, 2, 3, 4, 5], [1, 3, 5, 7, 9, 11], 0.95)).toEqual({ value: 2, low: 2, high: 2 });
    expect(pairwiseSlopes([1, 1, 2], [0, 1, 5])).toEqual(Float64Array.of(4, 5));
  });
  it("covers the true slope at least as often as stated (400 seeded sets of 7 sessions)", () => {
    const drawn = random(8, "coverage");
    let covered = 0;
    for (let run = 0; run < 400; run++) {
      const x = [0, 8, 15, 21, 33, 40, 61];
      const { low, high } = theilSen(
        x,
        x.map((day) => 0.2 * day + drawn.normal()),
        0.95,
      );
      if (low <= 0.2 && 0.2 <= high) covered++;
    }
    expect(covered / 400).toBeGreaterThan(0.93);
  });
});

describe("what sessions can say", () => {
  it("from one day is nothing, from two a difference of these days, from three and four points", () => {
    expect(sessionTrend(days([10]), ask).change).toEqual({ kind: "nothing" });
    const two = sessionTrend(days([10, 14]).toReversed(), { ...ask, sigmaShared: 3 }).change;
    expect(two).toMatchObject({ kind: "two-days", exceedsShared: false, difference: { value: 4, n: [3, 3] } });
    expect(sessionTrend(days([10, 11, 12]), ask).change).toEqual({ kind: "points" });
    expect(sessionTrend(days([10, 11, 12, 13]), ask).change).toEqual({ kind: "points" });
  });
  it("from five days is a trend, with its smallest p of 2/120", () => {
    const { change, points } = sessionTrend(days([10, 11.5, 12, 13.2, 14]), ask);
    expect(change).toMatchObject({ kind: "trend", score: 10, exceedsShared: true });
    if (change.kind !== "trend") return;
    expect(change.p).toBeCloseTo(2 / 120, 14);
    expect(change.slope.value).toBeCloseTo(3, 1);
    expect(points.map((point) => point.countShots)).toEqual([3, 3, 3, 3, 3]);
    const shared = sessionTrend(days([10, 11.5, 12, 13.2, 14]), { ...ask, sigmaShared: 2.5 }).change;
    expect(shared).toMatchObject({ kind: "trend", exceedsShared: false });
  });
  it("averages sessions of one day and leaves out empty ones", () => {
    const sessions: SessionShots[] = [
      { day: 0, values: [1, 3] },
      { day: 0, values: [5, 7, 9] },
      { day: 4, values: [Number.NaN] },
    ];
    const { points, countEmpty, change } = sessionTrend(sessions, ask);
    expect(countEmpty).toBe(1);
    expect(points).toHaveLength(1);
    expect(points[0]).toMatchObject({ day: 0, mean: 4.5, countShots: 5, countSessions: 2 });
    close(points[0]!.se, Math.sqrt(1 + 4 / 3) / 2, 1e-13);
    expect(change).toEqual({ kind: "nothing" });
    expect(sessionTrend([...sessions, { day: 9, values: [1, 2, 3] }], ask).change).toEqual({ kind: "points" });
  });
  it("gives no interval for a session of one shot, and no difference of days with two", () => {
    const { points, change } = sessionTrend(
      [
        { day: 0, values: [1] },
        { day: 3, values: [1, 2] },
      ],
      ask,
    );
    expect(points[0]?.low).toBeNaN();
    expect(change).toEqual({ kind: "points" });
  });
  it("shows the runs apart where a break leaves too few sessions, and ignores a break outside", () => {
    const few = sessionTrend(days([1, 2, 3, 4, 5, 6]), { ...ask, breaks: [25] }).change;
    expect(few.kind === "apart" && few.runs.map((run) => run.length)).toEqual([3, 3]);
    const lopsided = sessionTrend(days([1, 2, 3, 4, 5, 6, 7, 8, 9]), { ...ask, breaks: [75] }).change;
    expect(lopsided.kind === "apart" && lopsided.runs.map((run) => run.length)).toEqual([8, 1]);
    expect(sessionTrend(days([1, 2, 3, 4, 5, 6]), { ...ask, breaks: [0, 500] }).change.kind).toBe("trend");
  });
  it("finds a step beside a slope", () => {
    const means = [10, 10.3, 9.9, 10.2, 10.4, 14.4, 14.6, 14.9, 14.7, 15.1];
    const { change } = sessionTrend(days(means), { ...ask, breaks: [45], sigmaShared: 1 });
    expect(change.kind).toBe("steps");
    if (change.kind !== "steps") return;
    expect(change.steps[0]).toMatchObject({ day: 45, exceedsShared: true });
    expect(change.steps[0]?.low).toBeGreaterThan(3);
    expect(Math.abs(change.slope.value)).toBeLessThan(1);
  });
  it("says when neighbouring sessions hang together", () => {
    const wave = [0, 2, 3, 3, 2, 0, -2, -3, -3, -2];
    expect(sessionTrend(days(wave), ask).change).toMatchObject({ kind: "trend", findings: ["sessions-hang-together"] });
  });
});

describe("the run chart", () => {
  const steady = [10, 11, 10, 9, 10, 11, 9, 10];
  it("is withheld below eight reference sessions", () =>
    expect(runChart(steady.slice(1), 8)).toMatchObject({ kind: "withheld", n: [7], needed: 8 }));
  it("marks a session outside, and eight in a row on one side, nothing else", () => {
    const range = (1 + 1 + 1 + 1 + 1 + 2 + 1) / 7;
    expect(runChart([...steady, 15, ...Array(8).fill(10.5)], 8)).toMatchObject({
      kind: "run-chart",
      centre: 10,
      high: 10 + 2.66 * range,
      outside: [8],
      runs: [{ first: 8, last: 16, side: "above" }],
    });
    expect(runChart([...steady, ...Array(7).fill(9.5)], 8)).toMatchObject({ outside: [], runs: [] });
    expect(meanMovingRange([1])).toBeNaN();
  });
});

describe("session scatter", () => {
  it("is by hand for four sessions of three shots: MSB 20, MSW 1, so 19/3; t of 3 degrees of freedom 3.18245 (table)", () => {
    const sessions = [0, 2, 4, 6].map((m) => [m - 1, m, m + 1]);
    const got = sessionScatter(sessions, { countShots: 3 });
    if (got.kind === "withheld") throw new Error("withheld");
    close(got.varianceSession, 19 / 3, 1e-13);
    expect(got.mdcSession).toBeCloseTo(3.18245 * Math.sqrt(2 * (19 / 3 + 1 / 3)), 4);
  });
  it("is zero where sessions differ no more than their shots, and withheld below four", () => {
    const same = Array.from({ length: 4 }, () => [1, 2, 3]);
    expect(sessionScatter(same, { countShots: 6 })).toMatchObject({ varianceSession: 0, varianceShot: 1, n0: 3 });
    expect(sessionScatter(same.slice(1), { countShots: 6 })).toMatchObject({ kind: "withheld", needed: 4 });
    expect(sessionScatter([[1], [2], [3], [4]], { countShots: 6 })).toMatchObject({ kind: "withheld" });
  });
});

const beside = join(root, "../shared/data/checks/statistics");
/** SciPy 1.10's t quantile is off by up to 2.4e-9. */
const T_QUANTILE_OF_SCIPY = 3e-9;
describe.skipIf(!existsSync(beside))("against the check values beside the repository", () => {
  const read = (file: string) => JSON.parse(readFileSync(join(beside, file), "utf8")).cases;
  const named = (file: string, id: string) => read(file).find((one: { id: string }) => one.id === id);

  it("meets trend.json", () => {
    for (const id of ["ols-plain", "ols-break"]) {
      const { input, expected } = named("trend.json", id);
      const months = input.day.map((day: number) => day / 30.4375);
      const fit = leastSquares(input.y, input.step ? [months, input.step] : [months]);
      for (const [j, got] of fit.coefficients.entries()) {
        close(got.value, expected.beta[j], 1e-10);
        close(got.se, expected.se[j], 1e-10);
        close(got.t, expected.t[j], 1e-10);
        close(got.p, expected.p[j], 1e-9);
        close(got.low, expected.low[j], T_QUANTILE_OF_SCIPY);
        close(got.high, expected.high[j], T_QUANTILE_OF_SCIPY);
      }
      close(fit.sigma, expected.sigma, 1e-10);
      close(fit.rSquaredOfOne, expected.r2, 1e-10);
      close(fit.durbinWatson, expected.durbinWatson, 1e-10);
    }
    const sen = named("trend.json", "theil-sen");
    close(theilSen(sen.input.day, sen.input.y, 0.95).value, sen.expected.slope, 1e-10);
    const test = kendallTest(sen.input.day, sen.input.y, stream);
    expect(test.score).toBe(sen.expected.score);
    close(test.p, sen.expected.p, 1e-10);
    const scatter = named("trend.json", "session-scatter");
    const got = sessionScatter(scatter.input.sessions, { countShots: scatter.input.shots });
    if (got.kind === "withheld") throw new Error("withheld");
    close(got.meanSquareBetween, scatter.expected.msBetween, 1e-10);
    close(got.varianceShot, scatter.expected.msWithin, 1e-10);
    close(got.n0, scatter.expected.n0, 1e-10);
    close(got.varianceSession, scatter.expected.varianceSession, 1e-10);
    close(got.mdcSession, scatter.expected.mdcSession, T_QUANTILE_OF_SCIPY);
  });
  it("meets spec/trend.json", () => {
    for (const one of read("spec/trend.json")) {
      const sen = theilSen(one.days, one.means, 0.95);
      const test = kendallTest(one.days, one.means, stream);
      expect(test.score).toBe(one.S);
      close(test.p, one.p, 1e-9);
      close(sen.value * 30, one.slopePer30days, 1e-9);
      close(sen.low * 30, one.low, 1e-9);
      close(sen.high * 30, one.high, 1e-9);
      close(meanMovingRange(one.means), one.meanMovingRange, 1e-9);
    }
  });
  it("meets NIST's lines and Longley of nist.json and spec/nist.json", () => {
    for (const [id, tolerance] of [
      ["linear-Norris", 1e-9],
      ["linear-Longley", 1e-8],
    ] as const) {
      const { input, expected } = named("nist.json", id);
      const columns =
        id === "linear-Norris"
          ? [input.x]
          : input.x[0].map((_: number, j: number) => input.x.map((row: number[]) => row[j]));
      const fit = leastSquares(input.y, columns);
      const beta = expected.beta ?? [expected.b0, expected.b1];
      const se = expected.se ?? [expected.seB0, expected.seB1];
      for (const [j, got] of fit.coefficients.entries()) {
        close(got.value, beta[j], tolerance);
        close(got.se, se[j], tolerance);
      }
      close(fit.sigma, expected.residualSd, tolerance);
    }
  });
});
