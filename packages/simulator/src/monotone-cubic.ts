import type { Column } from "@underfoot/domain";
import type { TimeGrid } from "./time-grid.ts";

export interface Knot {
  /** Time in s, or any other abscissa. */
  readonly at: number;
  readonly value: number;
}

/** Slope at an inner knot: 0 at a turning point, else the weighted harmonic mean of both secants. */
function innerSlope(before: Knot, at: Knot, after: Knot): number {
  const h0 = at.at - before.at;
  const h1 = after.at - at.at;
  const d0 = (at.value - before.value) / h0;
  const d1 = (after.value - at.value) / h1;
  if (d0 * d1 <= 0) return 0;
  const w0 = 2 * h1 + h0;
  const w1 = h1 + 2 * h0;
  return (w0 + w1) / (w0 / d0 + w1 / d1);
}

/**
 * A smooth curve through knots that never leaves the range of two neighbouring knots: cubic Hermite pieces with the
 * slopes of Fritsch & Butland 1984; constant, with slope 0, before the first and after the last knot.
 *
 * @param knots  in rising time, at least one
 * @param out    receives the values at the grid's times
 */
export function monotoneCubic(
  knots: readonly Knot[],
  grid: TimeGrid,
  out: Column = new Float64Array(grid.count),
): Column {
  const last = knots.length - 1;
  const slopes = knots.map((knot, k) => (k === 0 || k === last ? 0 : innerSlope(knots[k - 1]!, knot, knots[k + 1]!)));
  let k = 0;
  for (let i = 0; i < grid.count; i++) {
    const timeS = grid.firstS + i * grid.stepS;
    while (k < last && knots[k + 1]!.at <= timeS) k++;
    const from = knots[k]!;
    if (k === last || timeS <= from.at) {
      out[i] = from.value;
      continue;
    }
    const to = knots[k + 1]!;
    const h = to.at - from.at;
    const u = (timeS - from.at) / h;
    const v = 1 - u;
    out[i] =
      v * v * (1 + 2 * u) * from.value +
      u * u * (1 + 2 * v) * to.value +
      h * u * v * (v * slopes[k]! - u * slopes[k + 1]!);
  }
  return out;
}
