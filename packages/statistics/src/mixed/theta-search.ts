import { backwardSolve, choleskyInPlace, forwardSolve } from "../linear-algebra/cholesky.ts";
import type { Values } from "../samples.ts";

/** A θ below this counts as 0: on the boundary. */
export const BOUNDARY = 1e-4;
const GOLDEN = (Math.sqrt(5) - 1) / 2;
/** First look along s = θ/(1 + θ), so that a second valley is not missed. */
const LOOKS = [0, 0.05, 0.2, 0.4, 0.6, 0.8, 0.93, 0.99, 0.9999];
const GOLDEN_WIDTH = 0.03;
const MOST_NELDER_MEAD = 2000;
const MOST_NEWTON = 12;
/** Relative step of the differences, and of the second pass of Richardson's extrapolation half of it. */
const RELATIVE_STEP = 1e-3;
const SMALLEST_STEP = 1e-5;
/** What a θ may cost at 0 for that to be worth a search of its own. */
const WORTH_TRYING = 10;
/** A search ended where the gradient says so, or the last step was this small beside θ. */
const SMALL_STEP = 1e-6;

export interface ThetaSearch {
  readonly theta: Float64Array<ArrayBuffer>;
  readonly criterion: number;
  readonly isOnBoundary: readonly boolean[];
  readonly isConverged: boolean;
  /** Largest slope of the criterion among the θ that are not on the boundary. */
  readonly largestGradient: number;
}

type Objective = (theta: Values) => number;

/** Steps of the differences: relative, at least 1e-5; a θ that links two is measured by the largest of all. */
function differenceSteps(theta: Values): Float64Array<ArrayBuffer> {
  const largest = Array.from(theta).reduce((most, one) => Math.max(most, Math.abs(one)), 0);
  return Float64Array.from(theta, (one) =>
    Math.max(SMALLEST_STEP, RELATIVE_STEP * Math.max(Math.abs(one), 0.1 * largest)),
  );
}

export interface Derivatives {
  readonly gradient: Float64Array<ArrayBuffer>;
  /** free × free, row-major. */
  readonly hessian: Float64Array<ArrayBuffer>;
}

/** θ with some entries moved. */
function moved(theta: Values, moves: readonly (readonly [number, number])[]): Float64Array<ArrayBuffer> {
  const there = Float64Array.from(theta);
  for (const [j, by] of moves) there[j]! += by;
  return there;
}

/** (4 D(h/2) - D(h))/3: the error of the fourth order is left. */
function extrapolated(difference: (share: number) => number): number {
  return (4 * difference(0.5) - difference(1)) / 3;
}

/** f at moved θ, each place visited once. */
function remembered(
  f: (theta: Values) => Values,
  theta: Values,
): (moves: readonly (readonly [number, number])[]) => Values {
  const known = new Map<string, Values>();
  return (moves) => {
    const key = moves.join(";");
    const found = known.get(key) ?? f(moved(theta, moves));
    known.set(key, found);
    return found;
  };
}

type AtMoves = ReturnType<typeof remembered>;

function gradientOf(
  at: AtMoves,
  o: { readonly k: number; readonly steps: Values; readonly free: readonly number[] },
): Float64Array<ArrayBuffer> {
  return Float64Array.from(o.free, (j) =>
    extrapolated((share) => {
      const h = share * o.steps[j]!;
      return (at([[j, h]])[o.k]! - at([[j, -h]])[o.k]!) / (2 * h);
    }),
  );
}

/** Gradients of functions of θ along the free ones, by central differences with Richardson's extrapolation; one for each value of `f`. */
export function gradientsOf(f: (theta: Values) => Values, theta: Values, free: readonly number[]): readonly Values[] {
  const steps = differenceSteps(theta);
  const at = remembered(f, theta);
  return Array.from(at([]), (_, k) => gradientOf(at, { k, steps, free }));
}

/**
 * Gradient and Hessian of functions of θ by central differences with Richardson's extrapolation.
 *
 * @param f      at least one value at each θ
 * @param free   which θ move
 * @returns      one pair for each value of `f`
 */
export function derivatives(
  f: (theta: Values) => Values,
  theta: Values,
  free: readonly number[],
): readonly Derivatives[] {
  const steps = differenceSteps(theta);
  const at = remembered(f, theta);
  const m = free.length;
  return Array.from(at([]), (value, k) => {
    const hessian = new Float64Array(m * m);
    for (let a = 0; a < m; a++) {
      for (let b = 0; b <= a; b++) {
        const [i, j] = [free[a]!, free[b]!];
        const second = extrapolated((share) => {
          const [h, g] = [share * steps[i]!, share * steps[j]!];
          if (i === j) return (at([[i, h]])[k]! - 2 * value + at([[i, -h]])[k]!) / h ** 2;
          const pair = (si: number, sj: number): number =>
            at([
              [j, sj * g],
              [i, si * h],
            ])[k]!;
          return (pair(1, 1) - pair(1, -1) - pair(-1, 1) + pair(-1, -1)) / (4 * h * g);
        });
        hessian[a * m + b] = second;
        hessian[b * m + a] = second;
      }
    }
    return { gradient: gradientOf(at, { k, steps, free }), hessian };
  });
}

/** One θ: the best of a first look, then golden section around it. */
function alongOne(f: (theta: number) => number): number {
  const g = (s: number): number => f(s / (1 - s));
  const seen = LOOKS.map(g);
  const best = seen.reduce((least, value, k) => (value < seen[least]! ? k : least), 0);
  let low = LOOKS[Math.max(0, best - 1)]!;
  let high = LOOKS[Math.min(LOOKS.length - 1, best + 1)]!;
  let [left, right] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
  let [atLeft, atRight] = [g(left), g(right)];
  while (high - low > GOLDEN_WIDTH * Math.max(low, 1 - high, 1e-3)) {
    if (atLeft <= atRight) {
      high = right;
      [right, atRight] = [left, atLeft];
      left = high - GOLDEN * (high - low);
      atLeft = g(left);
    } else {
      low = left;
      [left, atLeft] = [right, atRight];
      right = low + GOLDEN * (high - low);
      atRight = g(right);
    }
  }
  const s = atLeft <= atRight ? left : right;
  return s / (1 - s);
}

interface Corner {
  readonly at: Float64Array<ArrayBuffer>;
  readonly value: number;
}

/** What the worst corner gives way to: reflected, expanded or contracted; undefined where all corners are to be drawn in. */
function betterCorner(simplex: readonly Corner[], along: (share: number) => Corner): Corner | undefined {
  const [best, second, worst] = [simplex[0]!, simplex.at(-2)!, simplex.at(-1)!];
  const mirrored = along(-1);
  if (mirrored.value < best.value) {
    const expanded = along(-2);
    return expanded.value < mirrored.value ? expanded : mirrored;
  }
  if (mirrored.value < second.value) return mirrored;
  const contracted = along(mirrored.value < worst.value ? -0.5 : 0.5);
  return contracted.value < Math.min(mirrored.value, worst.value) ? contracted : undefined;
}

/** The simplex search of Nelder & Mead (1965) with their own coefficients, from `start`; edges 0.1 and a tenth. */
function simplexSearch(f: Objective, start: Values): Float64Array<ArrayBuffer> {
  const m = start.length;
  const corner = (at: Float64Array<ArrayBuffer>): Corner => ({ at, value: f(at) });
  let simplex = [corner(Float64Array.from(start))];
  for (let j = 0; j < m; j++) simplex.push(corner(moved(start, [[j, 0.1 + 0.1 * Math.abs(start[j]!)]])));
  for (let turn = 0; turn < MOST_NELDER_MEAD; turn++) {
    simplex.sort((a, b) => a.value - b.value);
    const [best, worst] = [simplex[0]!, simplex[m]!];
    const spread = best.at.reduce((most, one, j) => Math.max(most, Math.abs(one - worst.at[j]!)), 0);
    if (worst.value - best.value < 1e-10 && spread < 1e-7) break;
    const centre = Float64Array.from(start, (_, j) => simplex.slice(0, m).reduce((sum, { at }) => sum + at[j]!, 0) / m);
    const better = betterCorner(simplex, (share) => corner(centre.map((one, j) => one + share * (worst.at[j]! - one))));
    if (better === undefined)
      simplex = simplex.map((one, k) => (k === 0 ? one : corner(best.at.map((v, j) => (v + one.at[j]!) / 2))));
    else simplex[m] = better;
  }
  return simplex.reduce((least, one) => (one.value < least.value ? one : least)).at;
}

/** Newton's steps on differences from a place near the minimum: golden section and simplex stop where rounding hides the slope. */
function polished(
  f: Objective,
  start: Values,
  free: readonly number[],
): { readonly theta: Float64Array<ArrayBuffer>; readonly isConverged: boolean; readonly largestGradient: number } {
  let theta = Float64Array.from(start);
  let value = f(theta);
  const m = free.length;
  let largestGradient = 0;
  for (let turn = 0; turn < MOST_NEWTON; turn++) {
    const [{ gradient, hessian }] = derivatives((at) => [f(at)], theta, free) as [Derivatives];
    largestGradient = gradient.reduce((most, one) => Math.max(most, Math.abs(one)), 0);
    const step = gradient.slice();
    if (!choleskyInPlace(hessian, m)) return { theta, isConverged: false, largestGradient };
    forwardSolve(hessian, m, step, 1);
    backwardSolve(hessian, m, step, 1);
    const next = moved(
      theta,
      free.map((j, a) => [j, -step[a]!] as const),
    );
    const nextValue = f(next);
    const share = step.reduce((most, one) => Math.max(most, Math.abs(one)), 0) / Math.max(...theta.map(Math.abs), 1e-3);
    // A step that leaves the valley is not taken; one below the rounding of the criterion is.
    if (!(nextValue <= value + 1e-9 * Math.max(1, Math.abs(value))) || share > 1)
      return { theta, isConverged: share < SMALL_STEP, largestGradient };
    theta = next;
    value = nextValue;
    if (share < SMALL_STEP) return { theta, isConverged: true, largestGradient };
  }
  return { theta, isConverged: false, largestGradient };
}

/** Scales made positive, the link with the scale before it. Λ and Λ with a column's sign turned are the same covariance. */
function reflected(theta: Float64Array<ArrayBuffer>, isScale: readonly boolean[]): Float64Array<ArrayBuffer> {
  return theta.map((one, j) => {
    if (isScale[j]) return Math.abs(one);
    return theta[j - 1]! < 0 ? -one : one;
  });
}

/** Searches over the θ in `free`, all others 0. */
function searchOver(f: Objective, free: readonly number[], isScale: readonly boolean[]): ThetaSearch {
  const full = (part: Values): Float64Array<ArrayBuffer> => {
    const theta = new Float64Array(isScale.length);
    free.forEach((j, a) => {
      theta[j] = part[a]!;
    });
    return theta;
  };
  const done = (theta: Float64Array<ArrayBuffer>, isConverged: boolean, largestGradient: number): ThetaSearch => {
    const at = reflected(theta, isScale);
    return { theta: at, criterion: f(at), isOnBoundary: onBoundary(at, isScale), isConverged, largestGradient };
  };
  if (free.length === 0) return done(full([]), true, 0);
  let near: Values;
  if (free.length === 1) near = [alongOne((one) => f(full([one])))];
  else {
    const g: Objective = (part) => f(full(part));
    const starts = [1, 0.3].map((one) =>
      simplexSearch(
        g,
        free.map((j) => (isScale[j] ? one : 0)),
      ),
    );
    const better = g(starts[1]!) < g(starts[0]!) ? starts[1]! : starts[0]!;
    near = simplexSearch(g, better);
  }
  const start = reflected(full(near), isScale);
  const inside = onBoundary(start, isScale);
  const moving = free.filter((j) => !inside[j]);
  if (moving.length < free.length) return done(start, true, 0);
  const { theta, isConverged, largestGradient } = polished(f, start, free);
  return done(theta, isConverged, largestGradient);
}

/** A scale below 1e-4, and the link that hangs on it. */
function onBoundary(theta: Values, isScale: readonly boolean[]): boolean[] {
  return isScale.map((scale, j) => Math.abs(theta[scale ? j : j - 1]!) < BOUNDARY);
}

/** The θ that are left when scale j is 0: its link goes with it, and a slope alone takes no link. */
function without(free: readonly number[], j: number, isScale: readonly boolean[]): readonly number[] {
  const hasLink = isScale[j + 1] === false;
  return free.filter((one) => one !== j && !(hasLink && one === j + 1));
}

/**
 * The θ that makes a criterion smallest: one by a first look and golden section, several by the simplex from two starts and once more from the
 * best; ended by Newton's steps; each scale also tried at 0. Same criterion, same θ: nothing is drawn.
 *
 * @param f        the criterion, even in every scale
 * @param isScale  false for the link between two scales, which stands after its first
 */
export function thetaSearch(f: Objective, isScale: readonly boolean[]): ThetaSearch {
  const search = (free: readonly number[]): ThetaSearch => {
    let best = searchOver(f, free, isScale);
    for (const j of free) {
      if (!isScale[j]) continue;
      const left = without(free, j, isScale);
      const held = Float64Array.from(best.theta, (one, k) => (left.includes(k) ? one : 0));
      if (f(held) - best.criterion > WORTH_TRYING) continue;
      const other = search(left);
      // At 0 itself where that costs nothing that rounding would not.
      if (other.criterion <= best.criterion + 1e-9) best = other;
    }
    return best;
  };
  return search(isScale.map((_, j) => j));
}
