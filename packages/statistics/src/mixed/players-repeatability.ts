import {
  checkedLevel,
  type Estimate,
  type EstimateOptions,
  LEVEL_OF_ONE,
  ONE_LOOK,
  type Withheld,
} from "../estimate.ts";
import type { NormalStreams } from "../random.ts";
import { quantileOfOrdered, type Values, validValues } from "../samples.ts";
import { repeatability } from "../scatter/intraclass-correlation.ts";
import { mixedDesign } from "./mixed-design.ts";
import { mixedFit } from "./mixed-fit.ts";

const COUNT_REFITS = 1000;

export interface PlayersRepeatability extends Estimate {
  readonly kind: "repeatability";
  /** Between players and of single shots, unit of the measure: a low share with a small first one means that players are alike. */
  readonly sdPlayers: number;
  readonly sigma: number;
  /** Refits of the bootstrap that could not be had. */
  readonly countLost: number;
}

/** Share of the variance between players: θ²/(1 + θ²). */
function fittedShare(
  design: ReturnType<typeof mixedDesign>,
  y: Values,
): { share: number; theta: number; sigma: number; mean: number } | undefined {
  const fit = mixedFit(design, y)?.fit;
  if (fit === undefined) return undefined;
  const theta = fit.theta[0]!;
  return { share: theta ** 2 / (1 + theta ** 2), theta, sigma: fit.sigma, mean: fit.beta[0]! };
}

/**
 * Repeatability of single shots, σ_b²/(σ_b² + σ²), of players with any number of shots each (Nakagawa & Schielzeth 2010). Equal counts: the closed
 * form with its F interval; else REML of the intercept model, its interval the percentiles of 1,000 refits to data drawn from the fit.
 *
 * @param groups   one array a player, one condition or one lie; NaN is left out
 * @param options  seed and stream of the bootstrap
 */
export function playersRepeatability(
  groups: readonly Values[],
  options: EstimateOptions & { readonly seed: number; readonly streams: NormalStreams; readonly label: string },
): PlayersRepeatability | Withheld {
  const { levelOfOne = LEVEL_OF_ONE, looks = ONE_LOOK } = options;
  const kept = groups.map((group) => validValues(group)).filter((group) => group.length > 0);
  const n = kept.map((group) => group.length);
  if (kept.length < 2 || n.every((count) => count < 2)) return { kind: "withheld", reason: "too-few", n, needed: 2 };
  const values = Float64Array.from(kept.flatMap((group) => [...group]));
  const levels = kept.flatMap((group, player) => Array.from(group, () => player));
  const design = mixedDesign([new Float64Array(values.length).fill(1)], [{ levels }]);
  const fit = fittedShare(design, values);
  if (fit === undefined) return { kind: "withheld", reason: "no-scatter", n };
  const scatter = { kind: "repeatability" as const, sdPlayers: fit.theta * fit.sigma, sigma: fit.sigma };
  if (n.every((count) => count === n[0])) {
    const closed = repeatability(kept, options);
    return "kind" in closed ? closed : { ...closed, ...scatter, countLost: 0 };
  }
  const random = options.streams(options.seed, options.label);
  const shares: number[] = [];
  for (let b = 0; b < COUNT_REFITS; b++) {
    const own = kept.map(() => fit.theta * fit.sigma * random.normal());
    const drawn = Float64Array.from(levels, (player) => fit.mean + own[player]! + fit.sigma * random.normal());
    const share = fittedShare(design, drawn)?.share;
    if (share !== undefined) shares.push(share);
  }
  const ordered = Float64Array.from(shares).sort();
  const tail = (1 - checkedLevel(levelOfOne)) / 2;
  return {
    ...scatter,
    value: fit.share,
    low: quantileOfOrdered(ordered, tail),
    high: quantileOfOrdered(ordered, 1 - tail),
    levelOfOne,
    n,
    method: "repeatability-bootstrap",
    seed: options.seed,
    countArrangements: shares.length,
    looks,
    countLost: COUNT_REFITS - shares.length,
  };
}
