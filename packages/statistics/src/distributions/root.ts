export interface Bracket {
  readonly low: number;
  readonly high: number;
  /** Neither end is moved past these. */
  readonly least?: number;
  readonly most?: number;
}

/** Relative width at which halving stops. */
const RELATIVE_WIDTH = 1e-14;
/** 2^2098 spans every double; more halvings change nothing. */
const MOST_HALVINGS = 2200;

/**
 * The place where a rising function passes 0, by halving a bracket that is widened by doubling its width first.
 * Cannot fail on a monotone function that changes sign.
 *
 * @param rising   a function that never falls; a falling one is given with its sign turned
 * @param bracket  first guess of two ends, and the limits that the ends may not pass
 * @returns        the root to 1e-14 relative (absolute below 1e-300); a limit itself when the sign never changes inside it
 */
export function root(rising: (x: number) => number, { low, high, least, most }: Bracket): number {
  const floor = least ?? Number.NEGATIVE_INFINITY;
  const ceiling = most ?? Number.POSITIVE_INFINITY;
  let a = Math.max(low, floor);
  let b = Math.min(high, ceiling);
  while (rising(a) > 0) {
    if (a <= floor) return floor;
    a = Math.max(floor, a - 2 * (b - a));
  }
  while (rising(b) < 0) {
    if (b >= ceiling) return ceiling;
    b = Math.min(ceiling, b + 2 * (b - a));
  }
  for (let step = 0; step < MOST_HALVINGS; step++) {
    const middle = a + (b - a) / 2;
    if (middle <= a || middle >= b || b - a <= RELATIVE_WIDTH * Math.abs(middle)) return middle;
    if (rising(middle) < 0) a = middle;
    else b = middle;
  }
  return a + (b - a) / 2;
}
