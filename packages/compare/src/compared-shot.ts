import type { EventName, EventSource, PlayerAxes, ShotResult } from "@underfoot/domain";

/** One measure of one shot, unit of the measure. */
export interface ComparedValue {
  /** NaN where not valid. */
  readonly value: number;
  /** One standard deviation. */
  readonly sigma: number;
  /** The part of sigma that is the same in every shot of a session: it does not average out. */
  readonly sigmaShared: number;
  /** What gravity alone explains; absent where gravity has no part in it, in level axes, and where nobody gave the lie. */
  readonly slopeShare?: number;
}

/** One filtered curve of one shot at a constant rate. Times in ms from that shot's impact. */
export interface ShotSeries {
  /** Unit of the curve; NaN where not to be trusted. */
  readonly values: Float64Array<ArrayBuffer>;
  /** What gravity alone explains at each sample; absent where nothing. Same length. */
  readonly slopeShare?: Float64Array<ArrayBuffer>;
  /** Measurement noise of one sample, one standard deviation: what keeps quiet stretches from counting. */
  readonly sigma: number;
  /** What all shots on one lie share: the inclinometer's part, one standard deviation. */
  readonly sigmaOfLie: number;
  /** What all shots of a session share beside it: the plates' zero, one standard deviation. */
  readonly sigmaOfSetUp: number;
  readonly firstMs: number;
  readonly rateHz: number;
}

/** What a person says of a shot as evidence, or `invalid`: nothing could be computed of it. */
export type ComparedLabel = "kept" | "mishit" | "set-aside" | "invalid";

/** All that a comparison asks of one shot: plain data, filled by whoever has the shots. */
export interface ComparedShot {
  readonly shotId: string;
  readonly label: ComparedLabel;
  /** Whose shot it is, by any name; comparisons are of one player. */
  readonly player?: string;
  readonly sessionId?: string;
  /** YYYY-MM-DD. */
  readonly day: string;
  /** From 1 in its session, in the order they were hit. */
  readonly ordinal: number;
  readonly intent?: string;
  readonly lieName?: string;
  readonly pitchDeg?: number;
  readonly rollDeg?: number;
  readonly club?: string;
  readonly shoes?: string;
  /** Name of how the plates lay. */
  readonly layout?: string;
  /** Where its time of impact comes from; absent: there is none. */
  readonly impactSource?: EventSource;
  /** ms from impact, of the events that were found. */
  readonly eventsMs?: Readonly<Partial<Record<EventName, number>>>;
  readonly result?: ShotResult;
  /** By column: "both.target.peak turf", "lead.share.at.impact". */
  readonly measures: ReadonlyMap<string, ComparedValue>;
  /** By column: "both.target turf", "lead.share". */
  readonly curves?: ReadonlyMap<string, ShotSeries>;
}

/** Shots that are compared as one condition, under the name they are shown by. */
export interface ShotGroup {
  readonly name: string;
  readonly shots: readonly ComparedShot[];
}

/** Name of a measure or curve in one version of the axes: "both.target.peak turf"; without axes the id alone. */
export function columnOf(id: string, axes: PlayerAxes | undefined): string {
  return axes === undefined ? id : `${id} ${axes}`;
}

/** Id and axes of a column. */
export function columnParts(column: string): { readonly id: string; readonly axes: PlayerAxes | undefined } {
  const [id = "", axes] = column.split(" ");
  return { id, axes: axes === "turf" || axes === "level" ? axes : undefined };
}
