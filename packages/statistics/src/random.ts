/**
 * What this room asks of a stream of random numbers. The generator lives elsewhere; it is passed in, so that results
 * can be repeated from a stored seed.
 */
export interface Random {
  /** An integer 0 .. m-1 without bias. */
  below(m: number): number;
  /** Fisher-Yates from the front, in place; after k steps the first k are a random subset. */
  shuffle<T>(items: T[], steps?: number): T[];
  /** +1 or -1, equally likely. */
  sign(): 1 | -1;
}

/** Opens the stream of a seed and a label. Each method, measure and pair has a stream of its own. */
export type Streams = (seed: number, label: string) => Random;

/** A stream that also draws from the standard normal distribution. */
export interface NormalRandom extends Random {
  normal(): number;
}

/** Opens such a stream; needed where data are simulated from a fit. */
export type NormalStreams = (seed: number, label: string) => NormalRandom;

/** Label of the stream of one method, measure and pair, "<method>/<measure>/<A>/<B>": adding a measure moves no other result. */
export function streamLabel(o: {
  readonly method: string;
  readonly measure: string;
  readonly a: string;
  readonly b: string;
}): string {
  return [o.method, o.measure, o.a, o.b].join("/");
}
