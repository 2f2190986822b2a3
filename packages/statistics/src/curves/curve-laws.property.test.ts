import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { random } from "../../../domain/src/random.ts";
import { bothWays, verdictOf } from "../difference/verdict.ts";
import { type Difference, welch } from "../difference/welch.ts";
import { curveClusters } from "./curve-clusters.ts";
import { type CurveComparison, curveDifference, pairedCurveDifference } from "./curve-difference.ts";

const draw = { seed: 1, streams: random, label: "law" };
const countPoints = 5;
const value = fc.integer({ min: -400, max: 400 }).map((n) => n / 8);
const row = fc.array(value, { minLength: countPoints, maxLength: countPoints });
const rows = fc.array(row, { minLength: 4, maxLength: 5 });
const labels = (nA: number, nB: number) => ({ groups: [...Array(nA).fill(0), ...Array(nB).fill(1)] });
function compared(a: number[][], b: number[][], sigma = 0.25): CurveComparison {
  const curve = { values: [...a, ...b].flat(), countPoints, sigma: Array(countPoints).fill(sigma) };
  const result = curveDifference([curve], labels(a.length, b.length), draw);
  if (result.kind === "withheld") throw new Error("withheld");
  return result;
}
const near = (got: number, wanted: number, scale = 1): void =>
  expect(Math.abs(got - wanted), `${got}, wanted ${wanted}`).toBeLessThanOrEqual(1e-8 * Math.max(1, scale));

describe("laws of whole curves", () => {
  it("a permutation p is a multiple of one labelling, never below it, and no smaller than at the largest |t|", () => {
    fc.assert(
      fc.property(rows, rows, (a, b) => {
        const { curves, p, countArrangements } = compared(a, b);
        for (const one of curves[0]?.adjustedP ?? []) {
          expect(one).toBeGreaterThanOrEqual(1 / countArrangements);
          near(one * countArrangements, Math.round(one * countArrangements));
          expect(one).toBeGreaterThanOrEqual(p);
        }
      }),
      { numRuns: 60 },
    );
  });
  it("swapping the conditions turns the differences and keeps every p and the threshold", () => {
    fc.assert(
      fc.property(rows, rows, (a, b) => {
        const [one, other] = [compared(a, b), compared(b, a)];
        near(other.threshold, one.threshold, one.threshold);
        for (let q = 0; q < countPoints; q++) {
          near(other.curves[0]?.difference[q] ?? 9, -(one.curves[0]?.difference[q] ?? 9), 100);
          near(other.curves[0]?.adjustedP[q] ?? 9, one.curves[0]?.adjustedP[q] ?? 9);
        }
      }),
      { numRuns: 60 },
    );
  });
  it("shift and scale of the curves move differences and leave t; a curve common to all shots changes nothing", () => {
    fc.assert(
      fc.property(rows, rows, row, (a, b, common) => {
        const moved = (some: number[][]) => some.map((one) => one.map((x, q) => 4 * x + common[q]!));
        const [one, other] = [compared(a, b), compared(moved(a), moved(b), 1)];
        near(other.threshold, one.threshold, one.threshold);
        for (let q = 0; q < countPoints; q++) {
          near(other.curves[0]?.difference[q] ?? 9, 4 * (one.curves[0]?.difference[q] ?? 9), 1000);
          near(other.curves[0]?.t[q] ?? 9, one.curves[0]?.t[q] ?? 9, 100);
        }
      }),
      { numRuns: 60 },
    );
  });
  it("the order of shots within a condition changes nothing", () => {
    fc.assert(
      fc.property(rows, rows, (a, b) => {
        const [one, other] = [compared(a, b), compared(a.toReversed(), b.toReversed())];
        near(other.threshold, one.threshold, one.threshold);
        near(other.p, one.p);
      }),
      { numRuns: 40 },
    );
  });
  it("one more curve in the family lowers no p and no cluster's p; the interval contains the difference", () => {
    const ten = fc.array(row, { minLength: 10, maxLength: 10 });
    fc.assert(
      fc.property(ten, ten, (first, second) => {
        const asCurve = (some: number[][]) => ({
          values: some.flat(),
          countPoints,
          sigma: Array(countPoints).fill(0.25),
        });
        const alone = curveDifference([asCurve(first)], labels(5, 5), draw);
        const both = curveDifference([asCurve(first), asCurve(second)], labels(5, 5), draw);
        if (alone.kind === "withheld" || both.kind === "withheld") throw new Error("withheld");
        const [one, other] = [alone.curves[0], both.curves[0]];
        for (let q = 0; q < countPoints; q++) {
          expect(other?.adjustedP[q]).toBeGreaterThanOrEqual(one?.adjustedP[q] ?? 9);
          expect(other?.low[q]).toBeLessThanOrEqual(other?.difference[q] ?? 0);
          expect(other?.high[q]).toBeGreaterThanOrEqual(other?.difference[q] ?? 0);
        }
        const cluster = curveClusters([asCurve(first)], labels(5, 5), draw);
        const clusters = curveClusters([asCurve(first), asCurve(second)], labels(5, 5), draw);
        if (cluster.kind === "withheld" || clusters.kind === "withheld") throw new Error("withheld");
        cluster.clusters.forEach((found, at) => {
          expect(clusters.clusters[at]?.p).toBeGreaterThanOrEqual(found.p - 1e-12);
        });
      }),
      { numRuns: 30 },
    );
  });
  it("every point of a stretch leaves labels and interval on its side, and its p is at most the level", () => {
    fc.assert(
      fc.property(rows, rows, fc.integer({ min: 0, max: 40 }), (a, b, shift) => {
        const result = compared(
          a,
          b.map((one) => one.map((x, q) => x + (q > 1 ? 10 * shift : 0))),
        );
        const [curve] = result.curves;
        for (const { firstPoint, lastPoint, side, p, fromMs, toMs } of curve?.stretches ?? []) {
          expect(p).toBeLessThanOrEqual(0.05 + 1e-12);
          expect(fromMs).toBeLessThanOrEqual(toMs);
          for (const q of [firstPoint, lastPoint]) {
            expect(Math.abs(curve?.t[q] ?? 0)).toBeGreaterThan(Math.max(result.factor, 0));
            expect(side === "above" ? curve?.low[q] : -(curve?.high[q] ?? 0)).toBeGreaterThan(0);
          }
        }
      }),
      { numRuns: 60 },
    );
  });
  it("turning every difference of pairs keeps p; a single curve's point is the sign-flip test", () => {
    fc.assert(
      fc.property(fc.array(row, { minLength: 5, maxLength: 6 }), (differences) => {
        const sigma = Array(countPoints).fill(0.25);
        const of = (some: number[][]) => pairedCurveDifference([{ values: some.flat(), countPoints, sigma }], draw);
        const [one, other] = [of(differences), of(differences.map((some) => some.map((x) => -x)))];
        if (one.kind === "withheld" || other.kind === "withheld") throw new Error("withheld");
        near(other.p, one.p);
        near(one.p * one.countArrangements, Math.round(one.p * one.countArrangements));
      }),
      { numRuns: 60 },
    );
  });
});

describe("laws of the verdict", () => {
  const p = fc.double({ min: 0.001, max: 1, noNaN: true });
  it("asking more never turns a difference that is not beyond into one that is", () => {
    const five = fc.array(value, { minLength: 5, maxLength: 6 });
    fc.assert(
      fc.property(five, five, p, p, fc.double({ min: 0, max: 20, noNaN: true }), (a, b, raw, more, sigma) => {
        const difference = welch(a, b);
        const input = { difference, p: raw, adjustedP: raw, smallestP: 0.001 };
        const lenient = verdictOf(input).verdict;
        const strict = verdictOf({ ...input, adjustedP: Math.max(raw, more), sigmaShared: sigma }).verdict;
        if (strict === "beyondScatter") expect(lenient).toBe("beyondScatter");
        if (lenient === "beyondScatter") expect((difference as Difference).p).toBeLessThan(0.05);
      }),
    );
  });
  it("without a mishit both ways agree", () => {
    fc.assert(
      fc.property(fc.nat({ max: 12 }), (count) => {
        const judge = (shots: readonly number[]) => ({ verdict: `${shots.length}` });
        expect(bothWays(Array(count).fill(0), judge).mishitsDecide).toBe(false);
      }),
    );
  });
});
