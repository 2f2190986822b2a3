import { type Finding, UnderfootError } from "@underfoot/domain";
import { packetShare } from "./packet-share.ts";
import type { StreamBlock } from "./stream-block.ts";
import type { HelloMessage, StreamMessage, StreamPlace } from "./stream-message-type.ts";
import type { GapCause, SegmentReason, StreamCounts, StreamOutput } from "./stream-output.ts";
import type { StreamPacket } from "./stream-packet.ts";
import { type OrderedPiece, StreamSegment } from "./stream-segment.ts";

/** How the join waits. */
export interface StreamJoinOptions {
  /** How long a block out of order is waited for before it counts as missing. */
  readonly reorderMs?: number;
  /** How long the answer to a resend is waited for, from the ask or from the last block that came of it. */
  readonly resendMs?: number;
  /** How long no block may come before the stream is called silent. */
  readonly silentMs?: number;
  /** False over UDP, where nothing goes back to the bridge. */
  readonly canAsk?: boolean;
}

interface Current {
  readonly number: number;
  readonly segment: StreamSegment;
  shape: Pick<StreamBlock, "format" | "channelCount"> | undefined;
}

/** Blocks of a stream whose beginning is not known yet: the first that came may not be the earliest. */
interface Opening {
  readonly streamId: number;
  readonly sinceMs: number;
  readonly blocks: StreamBlock[];
}

interface Ended {
  readonly number: number;
  knownEnd: number;
}

type Counted = Exclude<keyof StreamCounts, "storedSamples" | "gapSamples" | "waitingSamples">;

const LIMIT_OF_ENDED = 256;
const TWO_32 = 2 ** 32;
const WENT_BACK: Finding = {
  code: "stream-went-back",
  severity: "caution",
  sentence: "The sample count of the live stream went back under the same stream number: taken as a new stream.",
  remedy: "Mend the bridge: it gives a new stream number each time the device starts anew.",
};

const endOf = (block: StreamBlock): number => block.firstSample + block.sampleCount;
const placeOf = (block: StreamBlock): StreamPlace => ({ sample: block.firstSample, sequence: block.sequence });
const placeAfter = (block: StreamBlock): StreamPlace => ({
  sample: endOf(block),
  sequence: (block.sequence + 1) % TWO_32,
});
const textOf = ({ next: _, ...hello }: HelloMessage): string => JSON.stringify(hello);

/**
 * The state machine between the packets of one connection and samples in order. It has no clock: every time is the caller's, in ms of
 * one clock that never goes back.
 *
 * Laws: the samples given and the gaps named follow each other without overlap from the beginning of a segment to its known end, whatever
 * was lost, doubled, late or out of order; no sample is made up. The beginning is `next` of the first `hello` of the stream, or else the
 * lowest index seen in the first `reorderMs`. The end is known from the last block or from `next` of a later message.
 */
export class StreamJoin {
  readonly #waits: Required<StreamJoinOptions>;
  readonly #badShare: ReturnType<typeof packetShare> = packetShare();
  readonly #ended: Map<number, Ended> = new Map();
  readonly #counts: Record<Counted, number> = {
    segments: 0,
    packets: 0,
    bad: 0,
    duplicates: 0,
    conflicts: 0,
    late: 0,
    misfits: 0,
  };
  #storedSamples = 0;
  #gapSamples = 0;
  #current: Current | undefined;
  #opening: Opening | undefined;
  /** A block whose index went back: a second one that follows it proves a new run, a single one is a straggler. */
  #stray: StreamBlock | undefined;
  #helloText = "";
  #isConnected = true;
  #heardMs: number | undefined;
  #isSilent = false;
  #out: StreamOutput[] = [];

  constructor({ reorderMs = 200, resendMs = 500, silentMs = 1000, canAsk = true }: StreamJoinOptions) {
    this.#waits = { reorderMs, resendMs, silentMs, canAsk };
  }

  /**
   * Takes one packet.
   *
   * @param read  `packetFromBytes` or `packetFromText` of what arrived; an UnderfootError that it throws is counted as bad, not passed on
   */
  packet(read: () => StreamPacket, nowMs: number): readonly StreamOutput[] {
    this.#counts.packets += 1;
    const packet = this.#read(read);
    const finding = this.#badShare(packet === undefined, nowMs);
    if (finding !== undefined) this.#out.push({ kind: "finding", finding });
    if (packet?.kind === "block") this.#takeBlock(packet.block, nowMs);
    else if (packet?.kind === "message") this.#takeMessage(packet.message, nowMs);
    this.#advance(nowMs);
    return this.#said();
  }

  /** Time passes: to be called every 50 ms or so. */
  tick(nowMs: number): readonly StreamOutput[] {
    this.#heardMs ??= nowMs;
    if (this.#isConnected && !this.#isSilent && nowMs - this.#heardMs >= this.#waits.silentMs) {
      this.#isSilent = true;
      this.#out.push({ kind: "silent", sinceMs: this.#heardMs });
    }
    this.#advance(nowMs);
    return this.#said();
  }

  /** The connection is there again: what is missing is asked for anew. */
  connected(nowMs: number): void {
    this.#isConnected = true;
    this.#heardMs = nowMs;
    this.#isSilent = false;
    this.#current?.segment.askAnew(nowMs);
  }

  /** Nothing is given up while there is no connection; `end` does so. */
  disconnected(): void {
    this.#isConnected = false;
  }

  /** Ends the segment: everything held is given, every hole named. A block of it that comes later counts as late. */
  end(): readonly StreamOutput[] {
    this.#endSegment();
    return this.#said();
  }

  get counts(): StreamCounts {
    const opening = this.#opening?.blocks ?? [];
    return {
      ...this.#counts,
      storedSamples: this.#storedSamples,
      gapSamples: this.#gapSamples,
      waitingSamples:
        (this.#current?.segment.waitingSamples ?? 0) + opening.reduce((total, block) => total + block.sampleCount, 0),
    };
  }

  #read(packet: () => StreamPacket): StreamPacket | undefined {
    try {
      return packet();
    } catch (fault) {
      if (!(fault instanceof UnderfootError)) throw fault;
      this.#counts.bad += 1;
      return undefined;
    }
  }

  #said(): readonly StreamOutput[] {
    const all = this.#out;
    this.#out = [];
    return all;
  }

  #gap(segment: number, fromSample: number, toSample: number, cause: GapCause): void {
    this.#gapSamples += toSample - fromSample;
    this.#out.push({ kind: "gap", segment, fromSample, toSample, cause });
  }

  #give({ number }: Current, pieces: readonly OrderedPiece[]): void {
    for (const piece of pieces) {
      if (piece.kind === "gap") this.#gap(number, piece.fromSample, piece.toSample, piece.cause);
      else {
        this.#storedSamples += piece.block.sampleCount;
        this.#out.push({ kind: "samples", segment: number, block: piece.block });
      }
    }
  }

  #begin(streamId: number, start: StreamPlace, reason: SegmentReason, nowMs: number): void {
    this.#counts.segments += 1;
    const number = this.#counts.segments;
    this.#out.push({ kind: "segment-began", segment: number, streamId, fromSample: start.sample, reason });
    this.#current = { number, segment: new StreamSegment(streamId, start, nowMs, this.#waits), shape: undefined };
  }

  #endSegment(): void {
    if (this.#opening !== undefined) this.#open(this.#opening.sinceMs);
    const current = this.#current;
    if (current === undefined) return;
    const { number, segment } = current;
    this.#give(current, segment.rest());
    this.#out.push({ kind: "segment-ended", segment: number });
    this.#ended.set(segment.streamId, { number, knownEnd: segment.knownEnd });
    const [oldest] = this.#ended.keys();
    if (this.#ended.size > LIMIT_OF_ENDED && oldest !== undefined) this.#ended.delete(oldest);
    this.#current = undefined;
    this.#stray = undefined;
  }

  #reason(): SegmentReason {
    return this.#counts.segments === 0 ? "first" : "new-stream";
  }

  /** The blocks gathered so far begin a segment at the lowest index among them, or at `place` where that is lower. */
  #open(nowMs: number, place?: StreamPlace): void {
    if (this.#opening === undefined) return;
    const { streamId, blocks } = this.#opening;
    this.#opening = undefined;
    blocks.sort((a, b) => a.firstSample - b.firstSample);
    const [first] = blocks;
    if (first === undefined) return;
    const isLower = place !== undefined && place.sample < first.firstSample;
    this.#begin(streamId, isLower ? place : placeOf(first), this.#reason(), nowMs);
    for (const block of blocks) this.#offer(block, nowMs);
  }

  #takeBlock(block: StreamBlock, nowMs: number): void {
    this.#heardMs = nowMs;
    this.#isSilent = false;
    if (this.#current?.segment.streamId === block.streamId) {
      this.#offer(block, nowMs);
      return;
    }
    const old = this.#ended.get(block.streamId);
    if (old !== undefined) {
      this.#afterTheEnd(block, old);
      return;
    }
    if (this.#opening?.streamId !== block.streamId) {
      this.#endSegment();
      this.#opening = { streamId: block.streamId, sinceMs: nowMs, blocks: [] };
    }
    this.#opening.blocks.push(block);
  }

  /** A block of a segment that has ended is not given, but samples that nobody knew of are named. */
  #afterTheEnd(block: StreamBlock, old: Ended): void {
    this.#counts.late += 1;
    if (endOf(block) <= old.knownEnd) return;
    this.#gap(old.number, old.knownEnd, endOf(block), "ended");
    old.knownEnd = endOf(block);
  }

  #offer(block: StreamBlock, nowMs: number): void {
    const current = this.#current;
    if (current === undefined) return;
    const { format, channelCount } = block;
    current.shape ??= { format, channelCount };
    if (current.shape.format !== format || current.shape.channelCount !== channelCount) {
      this.#counts.misfits += 1;
      current.segment.extend(placeAfter(block), nowMs);
      return;
    }
    const verdict = current.segment.offer(block, nowMs);
    if (verdict === "duplicate") this.#counts.duplicates += 1;
    else if (verdict === "conflict") this.#counts.conflicts += 1;
    else if (verdict === "late") this.#counts.late += 1;
    else if (verdict === "back") this.#wentBack(block, nowMs);
    else this.#stray = undefined;
  }

  #wentBack(block: StreamBlock, nowMs: number): void {
    const first = this.#stray;
    this.#stray = block;
    const { sample, sequence } = first === undefined ? { sample: Number.NaN, sequence: 0 } : placeAfter(first);
    if (first === undefined || sample !== block.firstSample || sequence !== block.sequence) {
      this.#counts.late += 1;
      return;
    }
    this.#counts.late -= 1;
    this.#endSegment();
    this.#begin(block.streamId, placeOf(first), "went-back", nowMs);
    this.#out.push({ kind: "finding", finding: WENT_BACK });
    this.#offer(first, nowMs);
    this.#offer(block, nowMs);
  }

  #takeMessage(message: StreamMessage, nowMs: number): void {
    if (message.type === "hello") {
      this.#takeHello(message, nowMs);
      return;
    }
    if (message.type === "gone") this.#current?.segment.gone(message.fromSequence, message.toSequence);
    if ((message.type === "status" || message.type === "bye") && message.next !== undefined) {
      if (this.#opening !== undefined) this.#open(nowMs);
      this.#current?.segment.extend(message.next, nowMs);
    }
    this.#out.push({ kind: "message", message });
  }

  #takeHello(hello: HelloMessage, nowMs: number): void {
    const { streamId, next } = hello;
    const isKnown = this.#current?.segment.streamId === streamId || this.#opening?.streamId === streamId;
    if (!isKnown && this.#ended.has(streamId)) return;
    if (!isKnown) {
      this.#endSegment();
      if (next !== undefined) this.#begin(streamId, next, this.#reason(), nowMs);
    }
    if (next !== undefined && this.#opening?.streamId === streamId) this.#open(nowMs, next);
    const current = this.#current?.segment.streamId === streamId ? this.#current : undefined;
    if (next !== undefined) current?.segment.extend(next, nowMs);
    const text = textOf(hello);
    if (text === this.#helloText) return;
    this.#helloText = text;
    if (current !== undefined) current.shape ??= { format: hello.format, channelCount: hello.channels.length };
    this.#out.push({ kind: "hello", hello, fromSample: next?.sample ?? current?.segment.knownEnd ?? 0 });
  }

  #advance(nowMs: number): void {
    if (this.#opening !== undefined && nowMs - this.#opening.sinceMs >= this.#waits.reorderMs) this.#open(nowMs);
    const current = this.#current;
    if (current === undefined || !this.#isConnected) return;
    for (const range of current.segment.asks(nowMs)) {
      this.#out.push({ kind: "ask", message: { type: "resend", ...range } });
    }
    this.#give(current, current.segment.pieces(nowMs));
  }
}

/** A join that has seen nothing yet and counts as connected. */
export function streamJoin(options: StreamJoinOptions = {}): StreamJoin {
  return new StreamJoin(options);
}

/** How long to wait before the k-th attempt to connect again, from 0: 0.5, 1, 2, then 5 s. */
export function reconnectDelayMs(attempt: number): number {
  return [500, 1000, 2000][attempt] ?? 5000;
}
