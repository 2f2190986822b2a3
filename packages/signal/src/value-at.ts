import type { Samples } from "./samples.ts";

/** Value at a position in samples (1.5 lies between x[1] and x[2]) on straight lines between samples; NaN outside. */
export function valueAt(x: Samples, position: number): number {
  const before = Math.floor(position);
  if (!(position >= 0 && position <= x.length - 1)) return Number.NaN;
  const share = position - before;
  const value = x[before]!;
  return share === 0 ? value : value + share * (x[before + 1]! - value);
}
