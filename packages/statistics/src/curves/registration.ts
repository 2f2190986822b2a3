import type { Values } from "../samples.ts";

/** Points of a registered curve, and the window about impact that the default covers. */
const COUNT_POINTS = 501;
const IMPACT_WINDOW = { firstMs: -700, stepMs: 2 } as const;

/** Equal steps in time that all shots are brought to. */
export interface TimeGrid {
  readonly firstMs: number;
  readonly stepMs: number;
  readonly countPoints: number;
}

/** Where each shot is read: the same grid for all, and each shot's own times, ms, row by row. */
export interface Registration {
  readonly kind: "impact" | "events";
  readonly grid: TimeGrid;
  /** countShots × countPoints, on each shot's own clock. */
  readonly readAtMs: Float64Array<ArrayBuffer>;
  /** Numbers of the events used, and their target instants: the means over all shots of all conditions. Empty for `impact`. */
  readonly events: readonly number[];
  readonly targetsMs: readonly number[];
}

function timeAt({ firstMs, stepMs }: TimeGrid, q: number): number {
  return firstMs + q * stepMs;
}

/**
 * Registration by one event: -700 .. +300 ms about it in 2 ms.
 *
 * @param atMs  its time in each shot, on the shot's own clock
 */
export function registeredByImpact(
  atMs: Values,
  grid: TimeGrid = { ...IMPACT_WINDOW, countPoints: COUNT_POINTS },
): Registration {
  const { countPoints } = grid;
  const readAtMs = new Float64Array(atMs.length * countPoints);
  for (let i = 0; i < atMs.length; i++)
    for (let q = 0; q < countPoints; q++) readAtMs[i * countPoints + q] = atMs[i]! + timeAt(grid, q);
  return { kind: "impact", grid, readAtMs, events: [], targetsMs: [] };
}

/** Time on a shot's own clock that stands at a target time, by straight lines between events. */
function readAt(targetsMs: readonly number[], ownMs: readonly number[], atMs: number): number {
  let k = 0;
  while (k + 2 < targetsMs.length && atMs >= targetsMs[k + 1]!) k++;
  const [from, to] = [targetsMs[k]!, targetsMs[k + 1]!];
  return ownMs[k]! + ((atMs - from) * (ownMs[k + 1]! - ownMs[k]!)) / (to - from);
}

/**
 * Registration by events, piecewise linear: the stretch between two events is read in proportion. It takes timing out of the curve, so times are
 * compared as measures; choose one of the two registrations before looking, doing both is two looks. Derivatives and integrals are formed before.
 *
 * @param eventsMs    one row a shot of all conditions compared, the events in order of time; NaN where one is not valid. An event that any shot
 *                    lacks is not used
 * @param needed      events without which there is no registration, by number (top and impact)
 * @param countPoints from the first to the last event used
 * @returns           undefined where a needed event is missing in a shot, or events of a shot are not in order
 */
export function registeredByEvents(
  eventsMs: readonly Values[],
  needed: readonly number[],
  countPoints: number = COUNT_POINTS,
): Registration | undefined {
  const countEvents = eventsMs[0]?.length ?? 0;
  const events = Array.from({ length: countEvents }, (_, e) => e).filter((e) =>
    eventsMs.every((shot) => Number.isFinite(shot[e])),
  );
  const own = eventsMs.map((shot) => events.map((e) => shot[e]!));
  const isRising = own.every((times) => times.every((time, k) => k === 0 || time > times[k - 1]!));
  if (events.length < 2 || !isRising || needed.some((e) => !events.includes(e))) return undefined;
  const targetsMs = events.map((_, k) => own.reduce((sum, times) => sum + times[k]!, 0) / own.length);
  const [firstMs, lastMs] = [targetsMs[0]!, targetsMs.at(-1)!];
  const grid = { firstMs, stepMs: (lastMs - firstMs) / (countPoints - 1), countPoints };
  const readAtMs = new Float64Array(own.length * countPoints);
  own.forEach((times, i) => {
    for (let q = 0; q < countPoints; q++) readAtMs[i * countPoints + q] = readAt(targetsMs, times, timeAt(grid, q));
  });
  return { kind: "events", grid, readAtMs, events, targetsMs };
}

/** A shot's filtered curve: samples at a constant rate, the first at `firstMs` on the shot's own clock. */
export interface ShotCurve {
  readonly values: Float64Array<ArrayBuffer>;
  readonly firstMs: number;
  readonly rateHz: number;
}

/** Values between samples (cubic through four), NaN outside them. @param positions  in samples from the first */
export type Interpolation = (values: Float64Array<ArrayBuffer>, positions: Float64Array<ArrayBuffer>) => Float64Array;

/**
 * The shots' curves on the common grid, row by row: NaN where a shot does not cover it, so that only what all shots cover is tested.
 *
 * @param shots  in the order of the registration
 */
export function registeredCurves(
  shots: readonly ShotCurve[],
  { grid, readAtMs }: Registration,
  interpolation: Interpolation,
): Float64Array<ArrayBuffer> {
  const { countPoints } = grid;
  if (readAtMs.length !== shots.length * countPoints)
    throw new RangeError(`${shots.length} shots are not those of a registration of ${readAtMs.length / countPoints}`);
  const registered = new Float64Array(readAtMs.length);
  shots.forEach(({ values, firstMs, rateHz }, i) => {
    const times = readAtMs.subarray(i * countPoints, (i + 1) * countPoints);
    const positions = Float64Array.from(times, (time) => ((time - firstMs) * rateHz) / 1000);
    registered.set(interpolation(values, positions), i * countPoints);
  });
  return registered;
}
