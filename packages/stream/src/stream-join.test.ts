import { readFileSync } from "node:fs";
import { join as pathOf } from "node:path";
import { describe, expect, test } from "vitest";
import {
  blockBytes,
  blockFromBytes,
  blockPayload,
  packetFromBytes,
  reconnectDelayMs,
  type StreamBlock,
  type StreamJoin,
  type StreamMessage,
  type StreamOutput,
  streamJoin,
  streamMessageFromText,
} from "./index.ts";

/** The k-th block of ten samples of a made-up stream. */
function block(k: number, changes: Partial<StreamBlock> = {}): StreamBlock {
  const firstSample = changes.firstSample ?? 10 * k;
  return {
    ...{ streamId: 5, sequence: k, firstSample, ticks: BigInt(firstSample), sampleCount: 10, channelCount: 1 },
    ...{ format: "i16", isClockValid: true, hasLostBefore: false, isClockSetAnew: false, isResent: false },
    payload: blockPayload(new Array(10).fill(k), "i16"),
    ...changes,
  };
}
const give = (join: StreamJoin, nowMs: number, ...blocks: readonly StreamBlock[]): readonly StreamOutput[] =>
  blocks.flatMap((one) => join.packet(() => ({ kind: "block", block: one }), nowMs));
const say = (join: StreamJoin, nowMs: number, message: StreamMessage): readonly StreamOutput[] =>
  join.packet(() => ({ kind: "message", message }), nowMs);
const brief = (outputs: readonly StreamOutput[]): readonly string[] =>
  outputs.map((one) => {
    if (one.kind === "samples") return `${one.segment}: ${one.block.firstSample}`;
    if (one.kind === "gap") return `${one.segment}: gap ${one.fromSample}-${one.toSample} ${one.cause}`;
    if (one.kind === "ask" && one.message.type === "resend") {
      return `ask ${one.message.fromSequence}-${one.message.toSequence}`;
    }
    if (one.kind === "segment-began") return `began ${one.segment} ${one.reason}`;
    return one.kind === "finding" ? one.finding.code : one.kind;
  });
/** A join that has given block 0. */
function begun(options = {}): StreamJoin {
  const join = streamJoin(options);
  give(join, 0, block(0));
  expect(brief(join.tick(200))).toEqual(["began 1 first", "1: 0"]);
  return join;
}

describe("the join", () => {
  test("waits 200 ms for order, asks, and names the gap 500 ms after the ask", () => {
    const join = begun();
    expect(give(join, 300, block(3))).toEqual([]);
    expect(join.counts.waitingSamples).toBe(30);
    expect(join.tick(499)).toEqual([]);
    expect(brief(join.tick(500))).toEqual(["ask 1-2"]);
    expect(join.tick(999)).toEqual([]);
    expect(brief(join.tick(1000))).toEqual(["1: gap 10-30 unanswered", "1: 30"]);
    expect(join.counts).toMatchObject({ storedSamples: 20, gapSamples: 20, waitingSamples: 0 });
  });

  test("waits on as long as blocks of the answer come, and gives each as soon as it is in order", () => {
    const join = begun();
    give(join, 300, block(4));
    join.tick(500);
    expect(brief(give(join, 900, block(1, { isResent: true })))).toEqual(["1: 10"]);
    expect(join.tick(1300)).toEqual([]);
    expect(brief(join.tick(1400))).toEqual(["1: gap 20-40 unanswered", "1: 40"]);
  });

  test("names at once what the device lost and what the bridge no longer has", () => {
    const join = begun();
    expect(brief(give(join, 300, block(1, { firstSample: 17, hasLostBefore: true })))).toEqual([
      "1: gap 10-17 device",
      "1: 17",
    ]);
    give(join, 310, block(4));
    const said = brief(say(join, 320, { type: "gone", fromSequence: 0, toSequence: 3 }));
    expect(said).toEqual(["message", "1: gap 27-40 gone", "1: 40"]);
  });

  test("over a link without a way back asks nothing and names the gap after 500 ms", () => {
    const join = begun({ canAsk: false });
    give(join, 300, block(2));
    expect(join.tick(799)).toEqual([]);
    expect(brief(join.tick(800))).toEqual(["1: gap 10-20 unanswered", "1: 20"]);
  });

  test("drops a double, keeps the first of a conflict, and a block after its gap is late", () => {
    const join = begun();
    give(
      join,
      300,
      block(0),
      block(0, { isResent: true }),
      block(0, { payload: blockPayload(new Array(10).fill(9), "i16") }),
    );
    give(join, 310, block(2));
    join.tick(510);
    join.tick(1010);
    expect(give(join, 1100, block(1))).toEqual([]);
    expect(join.counts).toMatchObject({ duplicates: 2, conflicts: 1, late: 1, storedSamples: 20, gapSamples: 10 });
  });

  test("takes two blocks in a row that go back as a new run, and a single one as late", () => {
    const join = begun();
    give(join, 300, block(1), block(2));
    expect(give(join, 310, block(0, { ticks: 77n }), block(3)).map((one) => one.kind)).toEqual(["samples"]);
    expect(join.counts).toMatchObject({ segments: 1, late: 1 });
    const again = give(join, 400, block(0, { ticks: 900n }), block(1, { ticks: 910n }));
    expect(brief(again)).toEqual(["segment-ended", "began 2 went-back", "stream-went-back", "2: 0", "2: 10"]);
  });

  test("does not fill a hole with a block that is none of the missing", () => {
    const join = begun();
    give(join, 300, block(3), block(1, { sequence: 77 }));
    expect(join.counts).toMatchObject({ late: 1, storedSamples: 10, waitingSamples: 30 });
  });

  test("begins where hello says, though blocks came before it, and says a hello once for each change", () => {
    const join = streamJoin();
    const hello: StreamMessage = {
      ...{ type: "hello", streamId: 5, device: { id: "A", label: "plate" }, rateHz: 1000, format: "i16" },
      channels: [{ role: "fz", name: "Fz", unit: "N", scale: 1, offset: 0 }],
    };
    give(join, 0, block(2));
    const place = { sample: 10, sequence: 1 };
    expect(brief(say(join, 10, { ...hello, next: place }))).toEqual(["began 1 first", "hello"]);
    expect(say(join, 20, { ...hello, next: { sample: 30, sequence: 3 } })).toEqual([]);
    expect(brief(give(join, 30, block(1)))).toEqual(["1: 10", "1: 20"]);
    const finer = { ...hello, channels: [{ ...hello.channels[0], scale: 0.5 }], next: { sample: 40, sequence: 4 } };
    expect(say(join, 40, finer as StreamMessage)).toMatchObject([{ kind: "hello", fromSample: 40 }]);
  });

  test("gives up the oldest hole when over 2048 blocks wait behind it", () => {
    const join = begun();
    const blocks = Array.from({ length: 2049 }, (_, k) => block(k + 2, { payload: new Uint8Array(20) }));
    expect(give(join, 300, ...blocks.slice(0, 2048))).toEqual([]);
    expect(brief(give(join, 300, ...blocks.slice(2048))).slice(0, 2)).toEqual(["1: gap 10-20 unanswered", "1: 20"]);
  });

  test("begins a new segment with a new stream number, and names what never came of the old one", () => {
    const join = begun();
    give(join, 300, block(2));
    expect(brief(give(join, 310, block(0, { streamId: 6 })))).toEqual(["1: gap 10-20 ended", "1: 20", "segment-ended"]);
    expect(brief(give(join, 320, block(4)))).toEqual(["1: gap 30-50 ended"]);
    expect(brief(join.tick(510))).toEqual(["began 2 new-stream", "2: 0"]);
    expect(join.counts).toMatchObject({ storedSamples: 30, gapSamples: 30, late: 1 });
  });

  test("gives nothing up while the connection is away, and asks for what is missing when it is back", () => {
    const join = begun();
    give(join, 300, block(2));
    join.disconnected();
    expect(join.tick(9000)).toEqual([]);
    join.connected(9100);
    say(join, 9110, { type: "status", next: { sample: 60, sequence: 6 } });
    expect(brief(join.tick(9310))).toEqual(["ask 1-1", "ask 3-5"]);
    expect(brief(give(join, 9400, block(5), block(1), block(4), block(3)))).toEqual(
      [10, 20, 30, 40, 50].map((first) => `1: ${first}`),
    );
    expect(join.counts.gapSamples).toBe(0);
  });

  test("goes on where the sequence wraps", () => {
    const join = streamJoin();
    const last = 2 ** 32 - 1;
    give(join, 0, block(0, { sequence: last - 1 }));
    join.tick(200);
    give(join, 300, block(3, { sequence: 1 }));
    expect(brief(join.tick(500))).toEqual([`ask ${last}-0`]);
    give(join, 510, block(2, { sequence: 0 }), block(1, { sequence: last }));
    expect(join.counts).toMatchObject({ storedSamples: 40, gapSamples: 0, waitingSamples: 0 });
  });

  test("names a block of another shape as a gap, and a far index makes one gap and no memory", () => {
    const join = begun();
    expect(brief(give(join, 300, block(1, { format: "i32" })))).toEqual([]);
    join.tick(500);
    expect(brief(join.tick(1000))).toEqual(["1: gap 10-20 unanswered"]);
    expect(join.counts).toMatchObject({ misfits: 1, gapSamples: 10 });
    expect(brief(give(join, 1100, block(2, { firstSample: 2 ** 52 })))).toEqual([
      `1: gap 20-${2 ** 52} device`,
      `1: ${2 ** 52}`,
    ]);
  });

  test("counts wrong bytes, says once when they are over 1 %, and goes on", () => {
    const join = begun();
    const bytes = blockBytes(block(1));
    const text = (): string => "";
    const spoilt = (): readonly StreamOutput[] => join.packet(() => packetFromBytes(bytes.with(50, 99), text), 300);
    expect(brief(spoilt())).toEqual(["stream-damaged"]);
    expect(brief(spoilt())).toEqual([]);
    expect(brief(join.packet(() => packetFromBytes(bytes, text), 310))).toEqual(["1: 10"]);
    expect(join.counts).toMatchObject({ bad: 2, packets: 4 });
    expect(() =>
      join.packet(() => {
        throw new RangeError("a fault of the caller");
      }, 320),
    ).toThrow(RangeError);
  });

  test("says once that the stream is silent", () => {
    const join = begun();
    expect(brief(join.tick(1000))).toEqual(["silent"]);
    expect(join.tick(3000)).toEqual([]);
    give(join, 3100, block(1));
    expect(brief(join.tick(4100))).toEqual(["silent"]);
  });

  test("waits longer before each attempt to connect again", () => {
    expect([0, 1, 2, 3, 9].map(reconnectDelayMs)).toEqual([500, 1000, 2000, 5000, 5000]);
  });
});

test("the page on bridges shows a hello and a block that are read", () => {
  const page = readFileSync(pathOf(import.meta.dirname, "../../../docs/formats/stream.md"), "utf8");
  const [, json = ""] = /```json\n(.*?)```/s.exec(page) ?? [];
  const [, hex = ""] = /```\n((?:[0-9a-f]{2}\s)+)```/.exec(page) ?? [];
  expect(streamMessageFromText(json)).toMatchObject({ type: "hello", streamId: 439041101 });
  const bytes = Uint8Array.from(hex.trim().split(/\s+/), (byte) => Number.parseInt(byte, 16));
  expect(blockFromBytes(bytes)).toMatchObject({ streamId: 439041101, firstSample: 14000 });
});
