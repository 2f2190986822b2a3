import type { Values } from "../samples.ts";
import type { Curves } from "../scatter/t-field.ts";

/** Curves of one session in the order of their shots, with the lie of each shot and its visit: a new number whenever a lie is laid again. */
export interface VisitedCurves {
  readonly curves: Curves;
  readonly lies: Values;
  readonly visits: Values;
}

/** The mean curve of each visit. */
export interface VisitMeans {
  /** One row a visit. */
  readonly curves: Curves;
  /** The lie of each visit. */
  readonly lies: readonly number[];
  /**
   * Largest difference between two visits to one lie at each point: a difference between lies must exceed it (own choice), as `leastExcess` of a
   * compared curve. NaN where no lie was visited twice.
   */
  readonly largestDifference: Float64Array<ArrayBuffer>;
}

/**
 * Mean curves of visits. The shots of a visit share the feet's place, the zero and the time, so a lie is judged against visits; with four visits
 * to each, compare these curves by `curveDifference`, the visits as units.
 */
export function visitMeanCurves({ curves, lies, visits }: VisitedCurves): VisitMeans {
  const { values, countPoints } = curves;
  const names = [...new Set(Array.from(visits))];
  const means = new Float64Array(names.length * countPoints);
  const liesOfVisits = names.map((name, row) => {
    const shots = Array.from(visits, (_, k) => k).filter((k) => visits[k] === name);
    for (let q = 0; q < countPoints; q++)
      means[row * countPoints + q] = shots.reduce((sum, k) => sum + values[k * countPoints + q]!, 0) / shots.length;
    return lies[shots[0]!]!;
  });
  const largestDifference = Float64Array.from({ length: countPoints }, (_, q) => {
    const spans = [...new Set(liesOfVisits)].flatMap((lie) => {
      const here = liesOfVisits.flatMap((one, row) => (one === lie ? [means[row * countPoints + q]!] : []));
      return here.length > 1 ? [Math.max(...here) - Math.min(...here)] : [];
    });
    return spans.length === 0 ? Number.NaN : Math.max(...spans);
  });
  return { curves: { values: means, countPoints }, lies: liesOfVisits, largestDifference };
}
