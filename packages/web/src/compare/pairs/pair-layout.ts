import { domainOutward, type ScaleDomain } from "@underfoot/report";
import type { PairCurve } from "./pair-curves.ts";

/** Where one column of a pair stands, px. */
export interface PairBox {
  readonly x: number;
  readonly width: number;
}

/** Where everything of the falling pairs stands, in CSS px. */
export interface PairLayout {
  readonly width: number;
  readonly height: number;
  readonly fallTop: number;
  readonly fallBottom: number;
  /** Left edge of the event lines; the names of events end before it. */
  readonly lineLeft: number;
  /** Right edge of the event lines, where the ruler's handle begins. */
  readonly lineRight: number;
  readonly pairs: readonly { readonly both: PairBox; readonly difference: PairBox }[];
}

/** Below this width of the picture two pairs stand beside each other, else three. */
const NARROW_PX = 520;
const HANDLE_PX = 26;
const FALL_PX = 460;
/** Title, unit, two lines of values at the ruler, numbers of the scale. */
const HEAD_PX = 112;
/** Words of what is beyond. */
const FOOT_PX = 42;

/** How many pairs have room beside each other. */
export function pairRoom(widthPx: number): number {
  return widthPx < NARROW_PX ? 2 : 3;
}

/** Where the pairs stand on a picture of this width. */
export function pairLayout(widthPx: number, countPairs: number): PairLayout {
  const isNarrow = widthPx < NARROW_PX;
  const lineLeft = isNarrow ? 54 : 88;
  const [gapPx, innerPx] = isNarrow ? [14, 12] : [28, 20];
  const lineRight = widthPx - HANDLE_PX;
  const perPair = (lineRight - lineLeft - gapPx * countPairs) / Math.max(1, countPairs);
  const both = Math.round((perPair - innerPx) * 0.48);
  const pairs = Array.from({ length: countPairs }, (_, k) => {
    const x = lineLeft + 10 + k * (perPair + gapPx);
    return { both: { x, width: both }, difference: { x: x + both + innerPx, width: perPair - innerPx - both } };
  });
  return {
    ...{ width: widthPx, height: HEAD_PX + FALL_PX + FOOT_PX, fallTop: HEAD_PX, fallBottom: HEAD_PX + FALL_PX },
    ...{ lineLeft, lineRight, pairs },
  };
}

/** Pixels of a value in a column. Values outside the scale stand at its edge. */
export function boxX({ min, max }: ScaleDomain, { x, width }: PairBox): (value: number) => number {
  return (value) => x + ((Math.min(max, Math.max(min, value)) - min) / (max - min)) * width;
}

/** A scale is at least this wide, by unit: smaller differences are not blown up to the width of a column (own choice). */
const LEAST_SPAN: Readonly<Record<string, number>> = { N: 40, "%": 10, "m/s": 0.1, mm: 20, "N m": 5 };

const known = (...rows: readonly (readonly number[])[]): Float64Array => Float64Array.from(rows.flat());

/** Scale of A and B: everything drawn in the column. */
export function bothDomain({ meanA, meanB, singles, unit }: PairCurve): ScaleDomain {
  const drawn = singles === undefined ? [meanA, meanB] : [...singles.a, ...singles.b];
  return domainOutward(known(...drawn), [], LEAST_SPAN[unit] ?? 1);
}

/** Scale of B minus A: the difference, what is allowed, the slope's share, and zero. */
export function differenceDomain({ difference, allowedLow, allowedHigh, slopeShare, unit }: PairCurve): ScaleDomain {
  return domainOutward(known(difference, allowedLow, allowedHigh, slopeShare), [0], LEAST_SPAN[unit] ?? 1);
}

/** Round numbers to write on a scale so that they stand at least `apartPx` apart; 0 is among them where it lies on the scale. */
export function scaleTicks({ min, max }: ScaleDomain, widthPx: number, apartPx: number): readonly number[] {
  const most = Math.max(1, Math.floor(widthPx / apartPx));
  const span = max - min;
  const power = 10 ** Math.floor(Math.log10(span / most));
  const step = ([1, 2, 5, 10, 20].find((factor) => span / (factor * power) <= most + 1e-9) ?? 50) * power;
  const first = Math.ceil(min / step - 1e-9);
  const last = Math.floor(max / step + 1e-9);
  // + 0: no minus before nought.
  return Array.from(
    { length: Math.max(0, last - first + 1) },
    (_, k) => Number(((first + k) * step).toPrecision(12)) + 0,
  );
}
