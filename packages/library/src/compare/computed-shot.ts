import {
  type ComparedLabel,
  type ComparedShot,
  type ComparedValue,
  type ShotSeries,
  shotCurves,
} from "@underfoot/compare";
import { recordingFromBytes } from "@underfoot/formats";
import { type Measure, type Shot, shotFromRecording } from "@underfoot/mechanics";
import { recordingStretch, type ShotQuestion, shotOutcome } from "@underfoot/pipeline";
import { columnName, currentLayout, sigmaAt, valueAt } from "../results/packed-values.ts";
import { type KeptEvents, keptEvents } from "../results/results.ts";

/** What is said of a shot, not computed. */
export type ShotSaid = Omit<ComparedShot, "measures" | "curves" | "impactSource" | "eventsMs"> & {
  readonly label: Exclude<ComparedLabel, "invalid">;
};

/** What is computed of a shot for comparisons: few large arrays, cheap to keep and to hand from thread to thread. */
export interface ComputedShot {
  /** False where nothing could be computed. */
  readonly isValid: boolean;
  /** By column of this version's layout: value, sigma, its shared part, slope's share; NaN where not valid, and where there is no share. */
  readonly numbers: Float64Array<ArrayBuffer>;
  readonly impactSource?: KeptEvents["impactSource"];
  readonly eventsMs?: KeptEvents["eventsMs"];
  /** Columns that were asked for; a shot need not have them. */
  readonly curvesAsked: readonly string[];
  readonly curves: ReadonlyMap<string, ShotSeries>;
}

const { columns: COLUMNS } = currentLayout();
const PLACES: ReadonlyMap<string, number> = new Map(COLUMNS.map((name, k) => [name, k]));
const FIELDS = 4;

const NOTHING: ComputedShot = { isValid: false, numbers: new Float64Array(0), curvesAsked: [], curves: new Map() };

/** Uncertainties and shares as the library keeps them, so that a shot is the same whether it was read or computed again. */
function packedNumbers(measures: readonly Measure[]): Float64Array<ArrayBuffer> {
  const numbers = new Float64Array(COLUMNS.length * FIELDS).fill(Number.NaN);
  for (const { id, axes, isValid, value, sigma, sigmaShared, slopeShare = Number.NaN } of measures) {
    const place = PLACES.get(columnName(id, axes));
    if (place !== undefined && isValid)
      numbers.set([value, ...[sigma, sigmaShared, slopeShare].map(Math.fround)], place * FIELDS);
  }
  return numbers;
}

/** What the library keeps of a shot, with the events that were found. */
export interface StoredNumbers {
  readonly isValid: boolean;
  readonly values: Uint8Array;
  readonly sigmas: Uint8Array;
  readonly shared: Uint8Array;
  readonly shares: Uint8Array;
  readonly events: KeptEvents | undefined;
}

/** A shot without curves from what the library keeps. */
export function shotFromStored({ isValid, values, sigmas, shared, shares, events }: StoredNumbers): ComputedShot {
  if (!isValid) return NOTHING;
  const numbers = new Float64Array(COLUMNS.length * FIELDS);
  for (let k = 0; k < COLUMNS.length; k++)
    numbers.set([valueAt(values, k), sigmaAt(sigmas, k), sigmaAt(shared, k), sigmaAt(shares, k)], k * FIELDS);
  return { isValid, numbers, ...(events ?? {}), curvesAsked: [], curves: new Map() };
}

/** Curves are compared from start to finish: what lies more than this outside is not kept. ms. */
const KEPT_BEFORE_MS = 1200;
const KEPT_AFTER_MS = 800;
const KEPT_AROUND_MS = 300;

/** The part of a curve that any registration can read: quiet seconds before and after are most of a recording. */
function aroundShot(series: ShotSeries, eventsMs: ComputedShot["eventsMs"] = {}): ShotSeries {
  const { start = 0, finish = 0 } = eventsMs;
  const { firstMs, rateHz, values, slopeShare } = series;
  const place = (ms: number): number => Math.round(((ms - firstMs) * rateHz) / 1000);
  const from = Math.max(0, place(Math.min(-KEPT_BEFORE_MS, start - KEPT_AROUND_MS)));
  const end = place(Math.max(KEPT_AFTER_MS, finish + KEPT_AROUND_MS));
  return {
    ...series,
    values: values.slice(from, end),
    ...(slopeShare === undefined ? {} : { slopeShare: slopeShare.slice(from, end) }),
    firstMs: firstMs + (1000 * from) / rateHz,
  };
}

function curvesOf(shot: Shot, columns: readonly string[]): ReadonlyMap<string, ShotSeries> {
  const { eventsMs } = keptEvents(shot) ?? {};
  return new Map([...shotCurves(shot, columns)].map(([column, series]) => [column, aroundShot(series, eventsMs)]));
}

/** A shot from its recording, as comparisons need it. */
export function computedShot(question: ShotQuestion, curvesAsked: readonly string[]): ComputedShot {
  const outcome = shotOutcome(question);
  if (outcome.status !== "ok") return { ...NOTHING, curvesAsked };
  const { shot, measures } = outcome;
  const curves = curvesOf(shot, curvesAsked);
  return { isValid: true, numbers: packedNumbers(measures), ...(keptEvents(shot) ?? {}), curvesAsked, curves };
}

/** Curves of a shot whose measures are known already: without them it takes half the time. */
export function recordingCurves(
  { bytes, file, mapping, stretch, facts, settings }: ShotQuestion,
  columns: readonly string[],
): ReadonlyMap<string, ShotSeries> {
  const whole = recordingFromBytes(bytes, { file, ...(mapping ? { mapping } : {}) });
  if (facts === undefined || settings === undefined) throw new RangeError("a computed shot has facts and settings");
  return curvesOf(shotFromRecording(stretch ? recordingStretch(whole, stretch) : whole, facts, settings), columns);
}

/** A shot of which nothing could be computed, or whose recording is no longer there. */
export function shotWithout(curvesAsked: readonly string[]): ComputedShot {
  return { ...NOTHING, curvesAsked };
}

/** About how much memory it takes. */
export function bytesOfComputed({ numbers, curves }: ComputedShot): number {
  const ofCurves = [...curves.values()].reduce(
    (sum, { values, slopeShare }) => sum + values.byteLength + (slopeShare?.byteLength ?? 0),
    0,
  );
  return numbers.byteLength + ofCurves + 1000;
}

/** Arrays that may be moved to another thread once nobody here needs them. */
export function buffersOfCurves(curves: ReadonlyMap<string, ShotSeries>): readonly ArrayBuffer[] {
  const all = [...curves.values()].flatMap(({ values, slopeShare }) => [
    values.buffer,
    ...(slopeShare === undefined ? [] : [slopeShare.buffer]),
  ]);
  return [...new Set(all)];
}

function measuresOf(numbers: Float64Array): ReadonlyMap<string, ComparedValue> {
  const measures = new Map<string, ComparedValue>();
  COLUMNS.forEach((column, k) => {
    const [value = Number.NaN, sigma = Number.NaN, sigmaShared = Number.NaN, slopeShare = Number.NaN] =
      numbers.subarray(k * FIELDS, (k + 1) * FIELDS);
    if (Number.isNaN(value)) return;
    const share = Number.isNaN(slopeShare) ? {} : { slopeShare };
    measures.set(column, { value, sigma, sigmaShared, ...share });
  });
  return measures;
}

/** A shot as a comparison wants it. */
export function comparedShot(said: ShotSaid, computed: ComputedShot): ComparedShot {
  const { isValid, numbers, impactSource, eventsMs, curves } = computed;
  return {
    ...said,
    label: isValid ? said.label : "invalid",
    ...(impactSource === undefined ? {} : { impactSource }),
    ...(eventsMs === undefined ? {} : { eventsMs }),
    measures: measuresOf(numbers),
    curves,
  };
}

/** A shot as it goes from thread to thread. */
export interface PackedShot {
  readonly said: ShotSaid;
  readonly computed: ComputedShot;
}

/** What is said and what is computed of the same shots, in one order. */
export function packedShots(said: readonly ShotSaid[], computed: readonly ComputedShot[]): readonly PackedShot[] {
  return computed.flatMap((one, k) => {
    const own = said[k];
    return own === undefined ? [] : [{ said: own, computed: one }];
  });
}
