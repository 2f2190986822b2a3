import { deviance } from "./deviance.ts";
import { stirlingTail } from "./log-gamma.ts";
import type { Tails } from "./tails.ts";

const TINY = 1e-300;
const CONVERGED = 1e-16;
const MOST_TERMS = 1_000_000;

/**
 * x^a y^b / B(a, b), y = 1 - x, from the binomial density of Loader (2000, from memory): with n = a + b,
 * exp(S(n) - S(a) - S(b) - D(a, nx) - D(b, ny)) √(ab/(2πn)), S the tail of Stirling's formula and D the deviance.
 */
function betaFactor(a: number, b: number, x: number, y: number): number {
  const n = a + b;
  const tail = stirlingTail(n) - stirlingTail(a) - stirlingTail(b);
  return Math.exp(tail - deviance(a, n * x) - deviance(b, n * y)) * Math.sqrt((a / n) * (b / (2 * Math.PI)));
}

/** The continued fraction of DLMF 8.17.22, evaluated as Lentz does; quick for x < (a+1)/(a+b+2). */
function fraction(a: number, b: number, x: number): number {
  let c = 1;
  let d = 1 - ((a + b) * x) / (a + 1);
  if (Math.abs(d) < TINY) d = TINY;
  d = 1 / d;
  let h = d;
  for (let m = 1; m < MOST_TERMS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 + even * d;
    if (Math.abs(d) < TINY) d = TINY;
    c = 1 + even / c;
    if (Math.abs(c) < TINY) c = TINY;
    d = 1 / d;
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 + odd * d;
    if (Math.abs(d) < TINY) d = TINY;
    c = 1 + odd / c;
    if (Math.abs(c) < TINY) c = TINY;
    d = 1 / d;
    const factor = d * c;
    h *= factor;
    if (Math.abs(factor - 1) < CONVERGED) break;
  }
  return h;
}

/**
 * The regularised incomplete beta function I_x(a, b) and its complement (DLMF 8.17.2).
 *
 * x and y = 1 - x are both asked for: formed by the caller without cancellation, they keep the far tails exact.
 *
 * @param a  greater than 0
 * @param b  greater than 0
 * @param x  0 .. 1
 * @param y  1 - x
 * @returns  both tails, the one on the quick side computed, the other its complement; about 1e-13 relative
 */
export function incompleteBeta(a: number, b: number, x: number, y: number): Tails {
  if (!(a > 0 && b > 0 && x >= 0 && y >= 0)) throw new RangeError(`incomplete beta at a ${a}, b ${b}, x ${x}, y ${y}`);
  if (x === 0) return { lower: 0, upper: 1 };
  if (y === 0) return { lower: 1, upper: 0 };
  if (x < (a + 1) / (a + b + 2)) {
    const lower = (betaFactor(a, b, x, y) / a) * fraction(a, b, x);
    return { lower, upper: 1 - lower };
  }
  const upper = (betaFactor(a, b, x, y) / b) * fraction(b, a, y);
  return { lower: 1 - upper, upper };
}
