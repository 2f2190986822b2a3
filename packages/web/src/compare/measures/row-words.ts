import type { Sentence } from "@underfoot/report";

/** A row of the list of measures in words. */
export interface RowWords {
  /** "84 to 76 %"; empty where only one value is held against a band. */
  readonly values: string;
  /** What is hers of the difference: "−8 points"; empty where it cannot be said. */
  readonly difference: string;
  /** "−12 to −4 points"; empty where there is none. */
  readonly interval: string;
  /** "slope +68 N"; empty where gravity has no part. */
  readonly slope: string;
  /** Of the mark, for those who do not see it; empty where no verdict is given. */
  readonly verdict: string;
  readonly sentence: Sentence;
  /** What is said beside it. */
  readonly hints: readonly Sentence[];
}

/** Two values that share a unit: "84 to 76 %". */
export function fromTo(a: string, b: string, unit: string): string {
  const tail = ` ${unit}`;
  return a.endsWith(tail) && b.endsWith(tail) ? `${a.slice(0, -tail.length)} to ${b}` : `${a} to ${b}`;
}
