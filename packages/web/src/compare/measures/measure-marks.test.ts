import type { ComparedMeasure, ShotPairRow, ShotUsualRow } from "@underfoot/compare";
import { expect, test } from "vitest";
import { bySize, measureMark, stepScale } from "./measure-marks.ts";

const row = { column: "m", measure: "m", axes: undefined, title: "M", unit: "N", decimals: 0 };
/** Only what a mark is made from; the rest of a row is not looked at. */
const measured = (steps: number, slopeShare: number, lozenge: ComparedMeasure["lozenge"]): ComparedMeasure =>
  ({
    ...row,
    kind: "conditions",
    steps,
    slopeShare,
    mdc: 20,
    lozenge,
    a: { n: 6 },
    b: { n: 6 },
  }) as unknown as ComparedMeasure;

test("block and mark of a difference: the block about the slope's share, the mark where the whole difference is", () => {
  // Push 81 N, 68 of them the slope's, 20 N leave scatter: 3.4 steps of slope, 0.65 of hers.
  expect(measureMark(measured(0.65, 68, "within"))).toEqual({ mark: "within", at: 4.05, slope: 3.4, hasBlock: true });
  expect(measureMark(measured(-2.1, 0, "beyond"))).toMatchObject({ mark: "beyond", at: -2.1, slope: 0 });
});

test("without scatter there is neither block nor place", () => {
  const few = measureMark({ ...measured(Number.NaN, 68, "too-few"), mdc: Number.NaN });
  expect(few).toMatchObject({ mark: "too-few", hasBlock: false, slope: 0 });
  expect(few.at).toBeNaN();
  const four = { ...measured(0.4, 0, "too-few"), a: { n: 4 } } as unknown as ComparedMeasure;
  expect(measureMark(four)).toMatchObject({ at: 0.4, hasBlock: false });
});

test("one shot is never filled: outside its usual band it is beyond alone; two shots have no lozenge", () => {
  const usual = (steps: number) =>
    measureMark({
      ...row,
      ...{ kind: "shot-usual", steps, slopeShare: 9 },
      band: Number.isNaN(steps) ? { kind: "withheld" } : { kind: "shot-against-band", low: 10, high: 16 },
    } as unknown as ShotUsualRow);
  expect([usual(3).mark, usual(0.9).mark, usual(Number.NaN).mark]).toEqual(["beyond-alone", "within", "too-few"]);
  // Half the band is 3: a slope's share of 9 moves the block by three steps.
  expect(usual(0.5)).toMatchObject({ slope: 3, at: 3.5 });
  const pair = measureMark({
    ...row,
    kind: "shot-pair",
    steps: 2,
    slopeShare: 10,
    mdcSingle: 20,
  } as unknown as ShotPairRow);
  expect(pair).toEqual({ mark: "bar", at: 2.5, slope: 0.5, hasBlock: true });
});

test("rows are ordered by what is beyond gravity, not by what gravity gives", () => {
  const rows = [
    measured(0.1, 90, "within"),
    measured(Number.NaN, 0, "too-few"),
    measured(-2, 0, "beyond"),
    measured(1.3, 0, "beyond-alone"),
  ];
  expect(bySize(rows).map(({ steps }) => steps)).toEqual([-2, 1.3, 0.1, Number.NaN]);
});

test("the scale holds every block; what is farther than six steps stands at the edge", () => {
  const scale = stepScale([measureMark(measured(0.65, 40, "within")), measureMark(measured(-1.3, 0, "beyond-alone"))]);
  expect([scale.min, scale.max, scale.ticks.length]).toEqual([-2, 4, 7]);
  expect(scale.share(1)).toBe(0.5);
  const far = stepScale([measureMark(measured(40, 0, "beyond"))]);
  expect([far.min, far.max, far.isOutside(40), far.share(40)]).toEqual([-2, 6, true, 1]);
  const wide = stepScale([measureMark(measured(40, 0, "beyond")), measureMark(measured(-40, 0, "beyond"))]);
  expect(wide.ticks).toEqual([-6, -4, -2, 0, 2, 4, 6]);
  expect(stepScale([]).ticks).toEqual([-2, -1, 0, 1, 2]);
});
