import { crc32 } from "./crc32.ts";
import type { StreamBlock } from "./stream-block.ts";
import type { StreamPlace } from "./stream-message-type.ts";
import type { GapCause } from "./stream-output.ts";

const TWO_32 = 2 ** 32;
/** A longer way between two sequences is a count that went back, not a loss. */
const MOST_MISSING_BLOCKS = 2 ** 31;
/** Blocks and gaps remembered to tell a double from a stream that went back: over 40 s of blocks of 10 ms. */
const REMEMBERED = 4096;
/** Blocks that may wait for what lies before them; beyond it the oldest hole is given up. */
const MOST_WAITING = 2048;

export interface SegmentWaits {
  readonly reorderMs: number;
  readonly resendMs: number;
  readonly canAsk: boolean;
}

interface Hole {
  readonly fromSample: number;
  readonly toSample: number;
  readonly fromSequence: number;
  /** Undefined where sequences do not tell which blocks are missing. */
  readonly blocksMissing: number | undefined;
  noticedMs: number;
  askedMs: number | undefined;
  cause: GapCause | undefined;
}

interface Remembered {
  readonly sequence: number;
  readonly sampleCount: number;
  readonly ticks: bigint | undefined;
  readonly crc: number;
}

/** What became of a block. `back`: its sample index went back, as of a stream that began anew. */
export type Verdict = "taken" | "duplicate" | "conflict" | "late" | "back";

/** A piece of one segment. */
export type OrderedPiece =
  | { readonly kind: "samples"; readonly block: StreamBlock }
  | { readonly kind: "gap"; readonly fromSample: number; readonly toSample: number; readonly cause: GapCause };

const after = (sequence: number, by = 1): number => (sequence + by) % TWO_32;
const distance = (from: number, to: number): number => (to - from + TWO_32) % TWO_32;
const endOf = (block: StreamBlock): number => block.firstSample + block.sampleCount;

function rememberedOf(block: StreamBlock): Remembered {
  return {
    sequence: block.sequence,
    sampleCount: block.sampleCount,
    ticks: block.isClockValid ? block.ticks : undefined,
    crc: crc32(block.payload),
  };
}

function comparison(block: StreamBlock, before: Remembered): Verdict {
  const now = rememberedOf(block);
  if (now.sequence !== before.sequence || now.sampleCount !== before.sampleCount) return "back";
  if (now.ticks !== before.ticks) return "back";
  return now.crc === before.crc ? "duplicate" : "conflict";
}

/** A hole without a missing block is the device's own loss: nobody can send it again. */
function holesOf(
  range: Pick<Hole, "fromSample" | "toSample" | "fromSequence">,
  toSequence: number,
  times: Pick<Hole, "noticedMs" | "askedMs">,
): readonly Hole[] {
  if (range.fromSample === range.toSample) return [];
  const missing = distance(range.fromSequence, toSequence);
  const blocksMissing = missing < MOST_MISSING_BLOCKS ? missing : undefined;
  return [{ ...range, ...times, blocksMissing, cause: blocksMissing === 0 ? "device" : undefined }];
}

/** Puts the blocks of one run of one stream in order. */
export class StreamSegment {
  readonly streamId: number;
  readonly #start: StreamPlace;
  readonly #openedMs: number;
  readonly #waits: SegmentWaits;
  #givenEnd: number;
  #end: number;
  #nextSequence: number;
  #holes: Hole[] = [];
  readonly #waiting: StreamBlock[] = [];
  readonly #remembered: Map<number, Remembered> = new Map();
  readonly #named: { readonly fromSample: number; readonly toSample: number }[] = [];

  /** Begins at a place: the next sample, and the sequence of the block that brings it. */
  constructor(streamId: number, start: StreamPlace, openedMs: number, waits: SegmentWaits) {
    this.streamId = streamId;
    this.#start = start;
    this.#openedMs = openedMs;
    this.#waits = waits;
    this.#givenEnd = start.sample;
    this.#end = start.sample;
    this.#nextSequence = start.sequence;
  }

  /** One past the last sample known of. */
  get knownEnd(): number {
    return this.#end;
  }

  get waitingSamples(): number {
    return this.#end - this.#givenEnd;
  }

  offer(block: StreamBlock, nowMs: number): Verdict {
    if (block.firstSample < this.#end) return this.#offerOld(block, nowMs);
    this.#growTo({ sample: block.firstSample, sequence: block.sequence }, nowMs);
    this.#end = endOf(block);
    this.#nextSequence = after(block.sequence);
    this.#keep(block);
    return "taken";
  }

  /** The bridge has sent everything before this place. */
  extend(place: StreamPlace, nowMs: number): void {
    if (place.sample > this.#end) this.#growTo(place, nowMs);
  }

  /** The bridge no longer has these blocks, both ends included. */
  gone(fromSequence: number, toSequence: number): void {
    const length = distance(fromSequence, toSequence) + 1;
    for (const one of this.#holes) {
      const isWithin =
        one.blocksMissing !== undefined && distance(fromSequence, one.fromSequence) + one.blocksMissing <= length;
      if (isWithin) one.cause ??= "gone";
    }
  }

  /** Sequences to be asked for again, both ends included. */
  asks(nowMs: number): readonly { readonly fromSequence: number; readonly toSequence: number }[] {
    return this.#holes.flatMap((one) => {
      const { cause, askedMs, noticedMs, blocksMissing, fromSequence } = one;
      const isDue = cause === undefined && askedMs === undefined && nowMs - noticedMs >= this.#waits.reorderMs;
      if (!isDue || !this.#waits.canAsk || blocksMissing === undefined) return [];
      one.askedMs = nowMs;
      return [{ fromSequence, toSequence: after(fromSequence, blocksMissing - 1) }];
    });
  }

  /** Everything that is missing is asked for anew: the connection was lost. */
  askAnew(nowMs: number): void {
    for (const one of this.#holes) {
      one.noticedMs = nowMs;
      one.askedMs = undefined;
    }
  }

  /** Names what has been waited for long enough, and gives what is in order by now. */
  pieces(nowMs: number): readonly OrderedPiece[] {
    for (const one of this.#holes) {
      const isAsked = this.#waits.canAsk && one.blocksMissing !== undefined;
      const sinceMs = isAsked ? one.askedMs : one.noticedMs;
      if (sinceMs !== undefined && nowMs - sinceMs >= this.#waits.resendMs) one.cause ??= "unanswered";
    }
    return this.#inOrder();
  }

  /** Gives all that is left, every hole named. */
  rest(): readonly OrderedPiece[] {
    for (const one of this.#holes) one.cause ??= "ended";
    return this.#inOrder();
  }

  #growTo({ sample, sequence }: StreamPlace, nowMs: number): void {
    const range = { fromSample: this.#end, toSample: sample, fromSequence: this.#nextSequence };
    this.#holes.push(...holesOf(range, sequence, { noticedMs: nowMs, askedMs: undefined }));
    this.#end = sample;
    this.#nextSequence = sequence;
  }

  #keep(block: StreamBlock): void {
    const at = this.#waiting.findLastIndex((one) => one.firstSample < block.firstSample) + 1;
    this.#waiting.splice(at, 0, block);
    this.#remembered.set(block.firstSample, rememberedOf(block));
    const [oldest] = this.#remembered.keys();
    if (this.#remembered.size > REMEMBERED && oldest !== undefined) this.#remembered.delete(oldest);
    const first = this.#holes.find((one) => one.cause === undefined);
    if (this.#waiting.length > MOST_WAITING && first !== undefined) first.cause = "unanswered";
  }

  #offerOld(block: StreamBlock, nowMs: number): Verdict {
    const before = this.#remembered.get(block.firstSample);
    if (before !== undefined) return comparison(block, before);
    const holds = (one: { readonly fromSample: number; readonly toSample: number }): boolean =>
      one.fromSample <= block.firstSample && endOf(block) <= one.toSample;
    const k = this.#holes.findIndex(holds);
    const old = this.#holes[k];
    if (old !== undefined) return old.cause === undefined ? this.#fill(block, k, old, nowMs) : "late";
    if (block.isResent || this.#named.some(holds)) return "late";
    const { reorderMs, resendMs } = this.#waits;
    const isBeforeStart = endOf(block) <= this.#start.sample && nowMs - this.#openedMs <= reorderMs + resendMs;
    return isBeforeStart ? "late" : "back";
  }

  /** The block lies inside a hole: what is left of it on both sides are holes of their own. */
  #fill(block: StreamBlock, k: number, old: Hole, nowMs: number): Verdict {
    const { fromSample, toSample, fromSequence, blocksMissing = MOST_MISSING_BLOCKS } = old;
    if (distance(fromSequence, block.sequence) >= blocksMissing) return "back";
    const times = { noticedMs: old.noticedMs, askedMs: old.askedMs === undefined ? undefined : nowMs };
    const toSequence = after(fromSequence, blocksMissing);
    const rightFrom = after(block.sequence);
    this.#holes.splice(
      k,
      1,
      ...holesOf({ fromSample, toSample: block.firstSample, fromSequence }, block.sequence, times),
      ...holesOf({ fromSample: endOf(block), toSample, fromSequence: rightFrom }, toSequence, times),
    );
    this.#keep(block);
    return "taken";
  }

  #inOrder(): readonly OrderedPiece[] {
    const pieces: OrderedPiece[] = [];
    for (;;) {
      const hole = this.#holes[0];
      const block = this.#waiting[0];
      if (hole !== undefined && hole.fromSample === this.#givenEnd) {
        const { cause, fromSample, toSample } = hole;
        if (cause === undefined) return pieces;
        pieces.push({ kind: "gap", fromSample, toSample, cause });
        this.#named.push({ fromSample, toSample });
        if (this.#named.length > REMEMBERED) this.#named.shift();
        this.#givenEnd = toSample;
        this.#holes.shift();
      } else if (block !== undefined) {
        pieces.push({ kind: "samples", block });
        this.#givenEnd = endOf(block);
        this.#waiting.shift();
      } else return pieces;
    }
  }
}
