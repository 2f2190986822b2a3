/** The ends of a scale, in display units. */
export interface ScaleDomain {
  readonly min: number;
  readonly max: number;
}

/** Steps that people count in. */
const STEPS = [1, 2, 5, 10] as const;
/** A scale is rounded outward to about this many steps. */
const STEP_COUNT = 6;

/**
 * The smallest round scale that holds every value, and `always` (a zero line, a slope share).
 * Rounded outward to 1, 2 or 5 times a power of ten, about six steps; at least `least` wide. Missing values do not count.
 */
export function domainOutward(values: Readonly<Float64Array>, always: readonly number[], least: number): ScaleDomain {
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (value < min) min = value;
    if (value > max) max = value;
  }
  for (const value of always) {
    min = Math.min(min, value);
    max = Math.max(max, value);
  }
  if (!(min <= max)) return { min: -least / 2, max: least / 2 };
  const missing = Math.max(0, least - (max - min)) / 2;
  const step = niceStep((max - min + 2 * missing) / STEP_COUNT);
  const at = (steps: number): number => Number((steps * step).toPrecision(12));
  return { min: at(Math.floor((min - missing) / step)), max: at(Math.ceil((max + missing) / step)) };
}

function niceStep(rough: number): number {
  const power = 10 ** Math.floor(Math.log10(rough));
  const factor = STEPS.find((candidate) => candidate * power >= rough * (1 - 1e-9)) ?? 10;
  return factor * power;
}
