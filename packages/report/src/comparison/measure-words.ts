import { catalogueEntry } from "@underfoot/mechanics";

/** The measure that a sentence speaks of. */
export interface MeasureWords {
  /** As the catalogue has it, with a capital. */
  readonly title: string;
  /** Id of the catalogue; of a curve its column. */
  readonly measure: string;
  readonly unit: string;
}

/** Words for a difference: amounts are more or less, instants later or earlier, stretches of time longer or shorter. */
export type Direction = "more" | "less" | "later" | "earlier" | "longer" | "shorter" | "higher" | "lower";

/** The title inside a sentence: a capital only where it belongs to an abbreviation. */
export function titleInside(title: string): string {
  return /^[A-Z][a-z]*[A-Z]/.test(title) ? title : `${title.charAt(0).toLowerCase()}${title.slice(1)}`;
}

/**
 * Word for a difference above or below 0.
 * @param isSigned  the values are negative on one side: more of less than nothing would mislead, so higher or lower
 */
export function directionOf({ measure }: MeasureWords, difference: number, isSigned = false): Direction {
  const statistic = catalogueEntry(measure)?.statistic;
  const isUp = difference > 0;
  if (statistic === "peakTime" || statistic === "minTime") return isUp ? "later" : "earlier";
  if (statistic === "duration") return isUp ? "longer" : "shorter";
  if (isSigned) return isUp ? "higher" : "lower";
  return isUp ? "more" : "less";
}

/** True where the difference is said of an amount ("8 points more load share"), else of a place on a scale ("42 ms later"). */
export function isAmount(direction: Direction): direction is "more" | "less" {
  return direction === "more" || direction === "less";
}
