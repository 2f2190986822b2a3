export interface Bracket {
  readonly low: number;
  readonly high: number;
  /** Neither end is moved past these. */
  readonly least?: number;
  readonly most?: number;
}

/** Relative width at which the search stops. */
const RELATIVE_WIDTH = 1e-14;
/** 2^2098 spans every double; more halvings change nothing. */
const MOST_STEPS = 2200;

/** A place and the function there. */
interface Point {
  readonly x: number;
  readonly f: number;
}

/**
 * Where to look next, as a share of the way from the newest point to the one across the root: by inverse quadratic interpolation where the three
 * points promise that it converges, else in the middle (Chandrupatla 1997, Adv Eng Softw 28, from memory).
 */
function nextShare(newest: Point, across: Point, before: Point): number {
  const xi = (newest.x - across.x) / (before.x - across.x);
  const phi = (newest.f - across.f) / (before.f - across.f);
  if (!(1 - Math.sqrt(1 - xi) < phi && phi < Math.sqrt(xi))) return 0.5;
  const [f1, f2, f3] = [newest.f, across.f, before.f];
  const share =
    ((f1 / (f2 - f1)) * f3) / (f2 - f3) +
    ((((before.x - newest.x) / (across.x - newest.x)) * f1) / (f3 - f1)) * (f2 / (f3 - f2));
  return Number.isFinite(share) ? share : 0.5;
}

/** The root between two points of unlike sign, to the relative width. */
function between(rising: (x: number) => number, low: Point, high: Point): number {
  let [newest, across] = [high, low];
  let share = 0.5;
  for (let step = 0; step < MOST_STEPS; step++) {
    const x = newest.x + share * (across.x - newest.x);
    const f = rising(x);
    const isSameSide = f < 0 === newest.f < 0;
    const before = isSameSide ? newest : across;
    if (!isSameSide) across = newest;
    newest = { x, f };
    const width = Math.abs(across.x - newest.x);
    const closest = Math.abs(across.f) < Math.abs(f) ? across.x : x;
    const least = (RELATIVE_WIDTH * Math.abs(closest) + Number.MIN_VALUE) / 2;
    if (f === 0) return x;
    if (width <= 2 * least) return closest;
    share = Math.min(1 - least / width, Math.max(least / width, nextShare(newest, across, before)));
  }
  return newest.x;
}

/**
 * The place where a rising function passes 0, within a bracket that is widened by doubling its width first, never leaving it: halving, with
 * larger steps where the function is smooth. Cannot fail on a monotone function that changes sign.
 *
 * @param rising   a function that never falls; a falling one is given with its sign turned
 * @param bracket  first guess of two ends, and the limits that the ends may not pass
 * @returns        the root to 1e-14 relative; a limit itself when the sign never changes inside it
 */
export function root(rising: (x: number) => number, { low, high, least, most }: Bracket): number {
  const floor = least ?? Number.NEGATIVE_INFINITY;
  const ceiling = most ?? Number.POSITIVE_INFINITY;
  let a: Point = { x: Math.max(low, floor), f: 0 };
  let b: Point = { x: Math.min(high, ceiling), f: 0 };
  a = { x: a.x, f: rising(a.x) };
  while (a.f > 0) {
    if (a.x <= floor) return floor;
    const x = Math.max(floor, a.x - 2 * (b.x - a.x));
    a = { x, f: rising(x) };
  }
  b = { x: b.x, f: rising(b.x) };
  while (b.f < 0) {
    if (b.x >= ceiling) return ceiling;
    const x = Math.min(ceiling, b.x + 2 * (b.x - a.x));
    b = { x, f: rising(x) };
  }
  return between(rising, a, b);
}
