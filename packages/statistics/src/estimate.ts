/** How much was looked at when a result was read: it decides what chance alone would have given. */
export interface Looks {
  readonly countMeasures: number;
  readonly countPairs: number;
  readonly times: number;
}

export const ONE_LOOK: Looks = { countMeasures: 1, countPairs: 1, times: 1 };

/** A number with its interval and how it was made. */
export interface Estimate {
  /** In the unit of the input, unless the method says that it has none. */
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Coverage of the interval, two-sided: 0.95. */
  readonly levelOfOne: number;
  /** Values that counted, one number a group. */
  readonly n: readonly number[];
  /** Short name of the method, stored with the result. */
  readonly method: string;
  /** Given where random numbers were used. */
  readonly seed?: number;
  /** How many labellings or resamples were counted. */
  readonly countArrangements?: number;
  readonly looks: Looks;
}

/** Interval level when none is asked for (common practice, no source). */
export const LEVEL_OF_ONE = 0.95;

export interface EstimateOptions {
  /** 0.95 by default. */
  readonly levelOfOne?: number;
  readonly looks?: Looks;
}

/** An answer that is not given, with the reason and what would be needed. */
export interface Withheld {
  readonly kind: "withheld";
  readonly reason: "too-few" | "no-scatter" | "not-positive" | "no-margin" | "same-day" | "incomplete" | "dependent";
  readonly n: readonly number[];
  /** Values a group that would have been enough, where a count decides. */
  readonly needed?: number;
}

/** A level strictly between 0 and 1, else a RangeError. */
export function checkedLevel(levelOfOne: number): number {
  if (!(levelOfOne > 0 && levelOfOne < 1)) throw new RangeError(`a level lies between 0 and 1, not ${levelOfOne}`);
  return levelOfOne;
}
