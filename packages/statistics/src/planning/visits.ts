import { mean, type Values } from "../samples.ts";

/** Shots of one session in their order: value, lie and visit of each. */
export interface VisitedShots {
  readonly values: Values;
  /** The lie of each shot, 0, 1, ... */
  readonly lies: Values;
  /** The visit of each shot: a new number whenever a lie is laid again. */
  readonly visits: Values;
}

export interface VisitScatter {
  /** Visits to each lie, by number of the lie. */
  readonly countVisits: ReadonlyMap<number, number>;
  /** Lies visited once: there lie and time cannot be told apart. */
  readonly liesVisitedOnce: readonly number[];
  /**
   * Largest difference between the means of two visits to one lie, unit of the values: a difference between lies must exceed it (own choice).
   * NaN where no lie was visited twice.
   */
  readonly largestDifference: number;
}

/**
 * How visits to one lie differ. The shots of a visit share the feet's place, the zero and the time, so a lie is judged against visits.
 * NaN is left out.
 */
export function visitScatter({ values, lies, visits }: VisitedShots): VisitScatter {
  const byLie = new Map<number, Map<number, number[]>>();
  for (let k = 0; k < values.length; k++) {
    if (Number.isNaN(values[k]!)) continue;
    const ofLie = byLie.get(lies[k]!) ?? new Map<number, number[]>();
    ofLie.set(visits[k]!, [...(ofLie.get(visits[k]!) ?? []), values[k]!]);
    byLie.set(lies[k]!, ofLie);
  }
  const spans = [...byLie.values()]
    .filter((ofLie) => ofLie.size > 1)
    .map((ofLie) => {
      const means = [...ofLie.values()].map((shots) => mean(shots));
      return Math.max(...means) - Math.min(...means);
    });
  return {
    countVisits: new Map([...byLie].map(([lie, ofLie]) => [lie, ofLie.size])),
    liesVisitedOnce: [...byLie].filter(([, ofLie]) => ofLie.size === 1).map(([lie]) => lie),
    largestDifference: spans.length === 0 ? Number.NaN : Math.max(...spans),
  };
}

/**
 * Whether all shots of one condition came before all of the other: then order and condition cannot be told apart, and no test repairs it.
 *
 * @param groups  0 or 1 for each shot, in the order they were hit
 */
export function isOrderConfounded(groups: Values): boolean {
  let changes = 0;
  for (let k = 1; k < groups.length; k++) if (groups[k] !== groups[k - 1]) changes++;
  return changes === 1;
}
