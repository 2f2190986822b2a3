import type { PlayerAxes } from "@underfoot/domain";
import type { Measure } from "@underfoot/mechanics";

/** The measure of an id on these axes, or the one that is the same on both; the entry in body weights is left aside. */
export function measureOf(measures: readonly Measure[], id: string, axes: PlayerAxes): Measure | undefined {
  return measures.find((measure) => measure.id === id && (measure.axes ?? axes) === axes && measure.unit !== "BW");
}

/** The same, only where it is valid. */
export function validMeasureOf(measures: readonly Measure[], id: string, axes: PlayerAxes): Measure | undefined {
  const found = measureOf(measures, id, axes);
  return found?.isValid ? found : undefined;
}
