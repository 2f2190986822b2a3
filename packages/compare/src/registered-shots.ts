import { resampledCubic } from "@underfoot/signal";
import { type Registration, registeredByEvents, registeredByImpact, registeredCurves } from "@underfoot/statistics";
import type { ComparedShot, ShotSeries } from "./compared-shot.ts";

/** The events of a registration, in order of time; top and impact must be there. */
export const REGISTRATION_EVENTS = ["start", "top", "delivery", "impact", "finish"] as const;
const NEEDED = [1, 3] as const;

/** One curve of many shots on one time scale, row by row. Unit of the curve. */
export interface RegisteredCurve {
  readonly column: string;
  readonly values: Float64Array<ArrayBuffer>;
  /** 0 where gravity has no part. */
  readonly slopeShare: Float64Array<ArrayBuffer>;
  /** Root mean square over the shots of the measurement noise of one sample. */
  readonly sigma: number;
  readonly sigmaOfLie: readonly number[];
  readonly sigmaOfSetUp: readonly number[];
}

/**
 * How these shots are brought to one time scale.
 *
 * @returns undefined where they cannot be registered by events: top or impact is missing in a shot
 */
export function registrationOf(shots: readonly ComparedShot[], kind: "impact" | "events"): Registration | undefined {
  if (kind === "impact") return registeredByImpact(new Float64Array(shots.length));
  const times = shots.map(({ eventsMs }) => REGISTRATION_EVENTS.map((event) => eventsMs?.[event] ?? Number.NaN));
  return registeredByEvents(times, NEEDED);
}

/** One curve of the shots, which must all have it. */
export function registeredCurve(
  shots: readonly ComparedShot[],
  column: string,
  registration: Registration,
): RegisteredCurve {
  const series = shots.map((shot): ShotSeries => {
    const found = shot.curves?.get(column);
    if (found === undefined) throw new RangeError(`shot ${shot.shotId} has no curve ${column}`);
    return found;
  });
  const onGrid = (of: (one: ShotSeries) => Float64Array<ArrayBuffer>): Float64Array<ArrayBuffer> =>
    registeredCurves(
      series.map((one) => ({ values: of(one), firstMs: one.firstMs, rateHz: one.rateHz })),
      registration,
      resampledCubic,
    );
  const values = onGrid((one) => one.values);
  const hasShare = series.some(({ slopeShare }) => slopeShare !== undefined);
  return {
    column,
    values,
    slopeShare: hasShare
      ? onGrid((one) => one.slopeShare ?? new Float64Array(one.values.length))
      : new Float64Array(values.length),
    sigma: Math.sqrt(series.reduce((sum, { sigma }) => sum + sigma * sigma, 0) / series.length),
    sigmaOfLie: series.map(({ sigmaOfLie }) => sigmaOfLie),
    sigmaOfSetUp: series.map(({ sigmaOfSetUp }) => sigmaOfSetUp),
  };
}
