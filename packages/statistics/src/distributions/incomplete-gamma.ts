import { deviance } from "./deviance.ts";
import { stirlingTail } from "./log-gamma.ts";
import type { Tails } from "./tails.ts";

const TINY = 1e-300;
const CONVERGED = 1e-16;
const MOST_TERMS = 1_000_000;

/** x^a e^-x / Γ(a+1), from the Poisson density: the large logarithms cancel before they are rounded. */
function poissonFactor(a: number, x: number): number {
  return Math.exp(-deviance(a, x) - stirlingTail(a) - 0.5 * Math.log(2 * Math.PI * a));
}

/** P(a, x) = factor · Σ x^k / ((a+1)...(a+k)); DLMF 8.7.1, all terms positive. */
function lowerSeries(a: number, x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; k < MOST_TERMS; k++) {
    term *= x / (a + k);
    sum += term;
    if (term < CONVERGED * sum) break;
  }
  return poissonFactor(a, x) * sum;
}

/** Q(a, x) by the even part of its continued fraction, DLMF 8.9.2, evaluated as Lentz does. */
function upperFraction(a: number, x: number): number {
  let b = x + 1 - a;
  let c = 1 / TINY;
  let d = 1 / b;
  let h = d;
  for (let k = 1; k < MOST_TERMS; k++) {
    const numerator = -k * (k - a);
    b += 2;
    d = numerator * d + b;
    if (Math.abs(d) < TINY) d = TINY;
    c = b + numerator / c;
    if (Math.abs(c) < TINY) c = TINY;
    d = 1 / d;
    const factor = c * d;
    h *= factor;
    if (Math.abs(factor - 1) < CONVERGED) break;
  }
  return poissonFactor(a, x) * a * h;
}

/**
 * The regularised incomplete gamma functions P(a, x) = γ(a, x)/Γ(a) and Q = 1 - P (DLMF 8.2.4).
 *
 * @param a  greater than 0
 * @param x  0 .. Infinity
 * @returns  both tails, the smaller one computed and the other its complement; about 1e-13 relative
 */
export function incompleteGamma(a: number, x: number): Tails {
  if (!(a > 0) || Number.isNaN(x) || x < 0) throw new RangeError(`incomplete gamma wants a > 0, x >= 0: ${a}, ${x}`);
  if (x === 0) return { lower: 0, upper: 1 };
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  if (x < a + 1) {
    const lower = lowerSeries(a, x);
    return { lower, upper: 1 - lower };
  }
  const upper = upperFraction(a, x);
  return { lower: 1 - upper, upper };
}
