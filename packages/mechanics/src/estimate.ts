/** A measure before it has a name: in the catalogue's unit. */
export interface Estimate {
  /** NaN where `why` is set. */
  readonly value: number;
  /** Variance that is new in every shot: noise, clock, event times, sway. */
  readonly ownVariance: number;
  /** Variance that is the same in every shot of a session: zero, gain, crosstalk, place, lie. */
  readonly sharedVariance: number;
  readonly slopeShare?: number;
  readonly text?: string;
  /** A plate was at the end of its range there: the true value is at least this. */
  readonly isAtLeast?: boolean;
  /** Why it is not valid. */
  readonly why?: string;
}

export function notValid(why: string): Estimate {
  return { value: Number.NaN, ownVariance: Number.NaN, sharedVariance: Number.NaN, why };
}

/** Reasons in words, for people. */
export const WHY = {
  gap: "gap in the recording",
  light: "foot too light",
  notTraced: "feet not traced",
  twoPeaks: "two peaks",
  noPeak: "no clear peak",
  clocks: "the plates' clocks are too far apart",
  places: "nobody said where the plates lie",
  noPair: "each foot needs its own plate",
  noMoments: "the plate gives no moments",
  saturated: "a plate was at the end of its range",
  outside: "outside the recording",
} as const;
