import { normalCdf, normalQuantile } from "../distributions/normal.ts";
import { checkedLevel, type Estimate, type EstimateOptions, LEVEL_OF_ONE, ONE_LOOK } from "../estimate.ts";
import { mean, quantileOfOrdered, type Values } from "../samples.ts";
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
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK } = options;
  const total = groups.reduce((product, group) => product * group.length ** group.length, 1);
  const isExact = total <= (options.mostExact ?? MOST_EXACT);
  const resamples = isExact ? allResamples(groups, statistic) : drawnResamples(groups, statistic, options);
  const value = statistic(groups);
  const B = resamples.length;
  resamples.sort();
  const tie = 1e-12 * Math.max(1, Math.abs(resamples[0]!), Math.abs(resamples[B - 1]!));
  const below = resamples.reduce((sum, one) => sum + (one < value - tie ? 1 : one <= value + tie ? 0.5 : 0), 0);
  // All on one side: the correction has no finite value, the edge is reported below.
  const z0 = normalQuantile(Math.min(Math.max(below / B, 0.5 / B), 1 - 0.5 / B));
  const acceleration = accelerationOf(groups, statistic);
  const tail = (1 - checkedLevel(levelOfOne)) / 2;
  const place = (p: number): number => {
    const z = z0 + normalQuantile(p);
    return normalCdf(z0 + z / (1 - acceleration * z));
  };
  const [first, last] = [place(tail), place(1 - tail)];
  const isAtEdge = resamples[0] !== resamples[B - 1] && (first * (B - 1) < EDGE || (1 - last) * (B - 1) < EDGE);
  return {
    kind: "bca",
    value,
    low: quantileOfOrdered(resamples, first),
    high: quantileOfOrdered(resamples, last),
    levelOfOne,
    n: groups.map((group) => group.length),
    method: "bca",
    ...(isExact ? {} : { seed: options.seed }),
    countArrangements: B,
    looks,
    z0,
    acceleration,
    isExact,
    findings: isAtEdge ? ["bootstrap-edge"] : [],
  };
}
