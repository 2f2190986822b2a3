import { normalCdf, normalQuantile } from "../distributions/normal.ts";
import { checkedLevel, type Estimate, type EstimateOptions, LEVEL_OF_ONE, ONE_LOOK } from "../estimate.ts";
import { quantileOf } from "../quantile-of.ts";
import { mean, type Values } from "../samples.ts";
import { MOST_EXACT } from "./labellings.ts";
import type { DrawOptions } from "./permutation.ts";

const COUNT_RESAMPLES = 10_000;
const EDGE = 5;

export interface BcaInterval extends Estimate {
  readonly kind: "bca";
  /** Bias and skew corrections. */
  readonly z0: number;
  readonly acceleration: number;
  readonly isExact: boolean;
  /** A limit at the first or last 5 resamples is not to be trusted. */
  readonly findings: readonly "bootstrap-edge"[];
}

export interface BcaOptions extends EstimateOptions, DrawOptions {
  readonly countResamples?: number;
  /** All resamples are taken where there are no more than these; 100,000. */
  readonly mostExact?: number;
}

type Statistic = (groups: readonly Values[]) => number;

/** Every resample of every group, n^n each. */
function allResamples(groups: readonly Values[], statistic: Statistic): Float64Array<ArrayBuffer> {
  const sizes = groups.flatMap((group) => Array.from(group, () => group.length));
  const at = sizes.map(() => 0);
  const drawn = groups.map((group) => Float64Array.from(group));
  const found: number[] = [];
  for (;;) {
    let place = 0;
    groups.forEach((group, g) => {
      for (let k = 0; k < group.length; k++) drawn[g]![k] = group[at[place++]!]!;
    });
    found.push(statistic(drawn));
    let digit = sizes.length - 1;
    while (digit >= 0 && at[digit] === sizes[digit]! - 1) at[digit--] = 0;
    if (digit < 0) return Float64Array.from(found);
    at[digit]!++;
  }
}

function drawnResamples(
  groups: readonly Values[],
  statistic: Statistic,
  options: BcaOptions,
): Float64Array<ArrayBuffer> {
  const random = options.streams(options.seed, options.label);
  return Float64Array.from({ length: options.countResamples ?? COUNT_RESAMPLES }, () =>
    statistic(groups.map((group) => Float64Array.from(group, () => group[random.below(group.length)]!))),
  );
}

/** a = Σu³/(6 (Σu²)^{3/2}), u the jackknife influences of every group; 0 where nothing moves. */
function accelerationOf(groups: readonly Values[], statistic: Statistic): number {
  let squares = 0;
  let cubes = 0;
  groups.forEach((group, g) => {
    const without = Array.from(group, (_, left) =>
      statistic(groups.map((other, h) => (h === g ? Float64Array.from(other).filter((__, k) => k !== left) : other))),
    );
    const centre = mean(without);
    for (const value of without) {
      const influence = ((group.length - 1) * (centre - value)) / group.length;
      squares += influence ** 2;
      cubes += influence ** 3;
    }
  });
  return squares === 0 ? 0 : cubes / (6 * squares ** 1.5);
}

/** What the interval is formed from beside the resamples. */
export interface BcaParts {
  readonly value: number;
  readonly acceleration: number;
  readonly n: readonly number[];
  readonly isExact: boolean;
  /** Given where they were drawn. */
  readonly seed?: number;
  readonly options: EstimateOptions;
}

/** How many resamples lie below the value, ties half. */
function countBelow(resamples: Float64Array, value: number): number {
  const tie = 1e-12 * Math.max(1, Math.abs(value));
  const [from, to] = [value - tie, value + tie];
  let [below, upTo] = [0, 0];
  for (let b = 0; b < resamples.length; b++) {
    // Added, not branched on: which side a resample lies on cannot be foreseen.
    below += Number(resamples[b]! < from);
    upTo += Number(resamples[b]! <= to);
  }
  return (below + upTo) / 2;
}

/** The interval from what the statistic was in each resample. */
export function bcaFromResamples(
  resamples: Float64Array,
  { value, acceleration, n, options, ...draw }: BcaParts,
): BcaInterval {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK } = options;
  const B = resamples.length;
  const below = countBelow(resamples, value);
  // All on one side: the correction has no finite value, the edge is reported below.
  const z0 = normalQuantile(Math.min(Math.max(below / B, 0.5 / B), 1 - 0.5 / B));
  const tail = (1 - checkedLevel(levelOfOne)) / 2;
  const place = (p: number): number => {
    const z = z0 + normalQuantile(p);
    return normalCdf(z0 + z / (1 - acceleration * z));
  };
  const [first, last] = [place(tail), place(1 - tail)];
  const [low, high] = [quantileOf(resamples, first), quantileOf(resamples, last)];
  const isOne = low === high && resamples.every((one) => one === low);
  const isAtEdge = !isOne && (first * (B - 1) < EDGE || (1 - last) * (B - 1) < EDGE);
  return {
    kind: "bca",
    value,
    low,
    high,
    levelOfOne,
    n,
    method: "bca",
    ...draw,
    countArrangements: B,
    looks,
    z0,
    acceleration,
    findings: isAtEdge ? ["bootstrap-edge"] : [],
  };
}

/**
 * Bias-corrected and accelerated bootstrap interval of any statistic (Efron 1987; DiCiccio & Efron 1996), resampling within groups.
 *
 * Too narrow with few shots: nominal 95 % covers 86 % at 5, 92 % at 20 (measured). For statistics without a formula; never for a verdict.
 *
 * @param groups     without NaN, 2 values or more each
 * @param statistic  of groups of any sizes, in their unit
 * @returns          the interval, exact where all resamples could be taken (one group of up to 6)
 */
export function bcaInterval(groups: readonly Values[], statistic: Statistic, options: BcaOptions): BcaInterval {
  const total = groups.reduce((product, group) => product * group.length ** group.length, 1);
  const isExact = total <= (options.mostExact ?? MOST_EXACT);
  return bcaFromResamples(isExact ? allResamples(groups, statistic) : drawnResamples(groups, statistic, options), {
    value: statistic(groups),
    acceleration: accelerationOf(groups, statistic),
    n: groups.map((group) => group.length),
    isExact,
    ...(isExact ? {} : { seed: options.seed }),
    options,
  });
}
