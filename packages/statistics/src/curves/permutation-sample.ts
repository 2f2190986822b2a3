import { isAtLeastAsExtreme } from "../difference/labellings.ts";
import { quantileOfOrdered, type Values } from "../samples.ts";

/** Keeps a count such as 0.05 × 10,000 from falling short by rounding. */
const ROUNDING = 1e-9;

/** The largest statistics of all labellings, in rising order, and what is read from them. */
export interface PermutationSample {
  readonly ordered: Float64Array<ArrayBuffer>;
}

export function permutationSample(maxima: Values): PermutationSample {
  return { ordered: Float64Array.from(maxima).sort() };
}

/**
 * The threshold at level α: the (⌊αB⌋ + 1)-th largest of B; beyond means above it (Nichols & Holmes 2002). `type-7` interpolates instead
 * (Hyndman & Fan 1996), as other programs do.
 */
export function permutationThreshold(
  { ordered }: PermutationSample,
  alphaOfOne: number,
  rule: "rank" | "type-7" = "rank",
): number {
  if (rule === "type-7") return quantileOfOrdered(ordered, 1 - alphaOfOne);
  return ordered[ordered.length - Math.floor(alphaOfOne * ordered.length + ROUNDING) - 1]!;
}

/** Share of labellings at least as extreme; the observed one is among them. NaN for NaN. */
export function adjustedP({ ordered }: PermutationSample, statistic: number): number {
  if (Number.isNaN(statistic)) return Number.NaN;
  let [low, high] = [0, ordered.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (isAtLeastAsExtreme(ordered[middle]!, statistic)) high = middle;
    else low = middle + 1;
  }
  return (ordered.length - low) / ordered.length;
}
