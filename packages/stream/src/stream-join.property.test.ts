import { random } from "@underfoot/domain";
import fc from "fast-check";
import { expect, test } from "vitest";
import {
  blockBytes,
  blockFromBytes,
  blockPayload,
  blockValues,
  packetFromText,
  type StreamBlock,
  type StreamCounts,
  type StreamMessage,
  type StreamOutput,
  streamJoin,
  streamMessageText,
} from "./index.ts";

interface Weather {
  readonly seed: number;
  readonly blocks: number;
  readonly lossShare: number;
  readonly doubleShare: number;
  readonly lateMs: number;
  readonly deviceLossShare: number;
  readonly firstSequence: number;
  readonly canAsk: boolean;
  readonly ring: number;
  readonly restartAt: number;
}

interface Sent {
  readonly blocks: readonly StreamBlock[];
  readonly endOf: ReadonlyMap<number, number>;
  readonly outputs: readonly StreamOutput[];
  readonly counts: StreamCounts;
}

type Packet = { readonly block: StreamBlock } | { readonly message: StreamMessage };

/** A made-up device and its link, 10 samples each 10 ms: every sample holds its own index. */
function played(weather: Weather): Sent {
  const dice = random(weather.seed);
  const under = (share: number): boolean => dice.unit() < share;
  const arrivals: { readonly atMs: number; readonly packet: Packet }[] = [];
  const send = (packet: Packet, atMs: number): void => {
    if (under(weather.lossShare)) return;
    arrivals.push({ atMs: atMs + dice.unit() * weather.lateMs, packet });
    if (under(weather.doubleShare)) arrivals.push({ atMs: atMs + dice.unit() * weather.lateMs, packet });
  };
  const blocks: StreamBlock[] = [];
  const endOf = new Map<number, number>();
  let sample = 0;
  let sequence = weather.firstSequence;
  let streamId = 1;
  const next = () => ({ sample, sequence });
  const hello = (): StreamMessage => ({
    type: "hello",
    streamId,
    device: { id: "A", label: "plate" },
    rateHz: 1000,
    format: "i32",
    channels: [{ role: "fz", name: "Fz", unit: "N", scale: 1, offset: 0 }],
    next: next(),
  });
  arrivals.push({ atMs: 0, packet: { message: hello() } });
  for (let k = 0; k < weather.blocks; k++) {
    const atMs = 1 + 10 * k;
    if (k === weather.restartAt) {
      streamId += 1;
      sample = 0;
      sequence = 0;
      arrivals.push({ atMs, packet: { message: hello() } });
    }
    const hasLost = under(weather.deviceLossShare);
    if (hasLost) sample += 1 + Math.floor(dice.unit() * 50);
    const sampleCount = 1 + Math.floor(dice.unit() * 19);
    const payload = blockPayload(
      Array.from({ length: sampleCount }, (_, i) => sample + i),
      "i32",
    );
    const block: StreamBlock = {
      ...{ streamId, sequence, firstSample: sample, ticks: BigInt(1000 * sample), sampleCount, channelCount: 1 },
      ...{ format: "i32", isClockValid: true, hasLostBefore: hasLost, isClockSetAnew: false, isResent: false },
      payload,
    };
    blocks.push(block);
    send({ block }, atMs);
    sample += sampleCount;
    sequence = (sequence + 1) % 2 ** 32;
    endOf.set(streamId, sample);
  }
  const join = streamJoin({ canAsk: weather.canAsk });
  const outputs: StreamOutput[] = [];
  const lastMs = 10 * weather.blocks + weather.lateMs + 10;
  arrivals.push({ atMs: lastMs, packet: { message: { type: "bye", why: "end", next: next() } } });
  const sentAt = (block: StreamBlock): number => 1 + 10 * blocks.indexOf(block);
  const streamAt = (nowMs: number): number =>
    weather.restartAt >= 0 && nowMs > 10 * weather.restartAt && streamId === 2 ? 2 : 1;
  const answer = (message: StreamMessage, nowMs: number): void => {
    if (message.type !== "resend") return;
    const length = (message.toSequence - message.fromSequence + 2 ** 32) % 2 ** 32;
    for (const block of blocks) {
      const isAsked = (block.sequence - message.fromSequence + 2 ** 32) % 2 ** 32 <= length;
      if (!isAsked || block.streamId !== streamAt(nowMs) || sentAt(block) > nowMs) continue;
      if (under(weather.ring)) send({ block: { ...block, isResent: true } }, nowMs + 5);
      else send({ message: { type: "gone", fromSequence: block.sequence, toSequence: block.sequence } }, nowMs + 5);
    }
  };
  for (let nowMs = 0; nowMs < lastMs + 30_000; nowMs += 20) {
    arrivals.sort((a, b) => a.atMs - b.atMs);
    const said: StreamOutput[] = [];
    while (arrivals[0] !== undefined && arrivals[0].atMs <= nowMs) {
      const packet = arrivals.shift()?.packet as Packet;
      const read = (): ReturnType<typeof packetFromText> =>
        "block" in packet
          ? { kind: "block", block: blockFromBytes(blockBytes(packet.block)) }
          : packetFromText(streamMessageText(packet.message));
      said.push(...join.packet(read, nowMs));
    }
    said.push(...join.tick(nowMs));
    for (const one of said) if (one.kind === "ask") answer(one.message, nowMs);
    outputs.push(...said);
    if (arrivals.length === 0 && nowMs > lastMs && join.counts.waitingSamples === 0) break;
  }
  outputs.push(...join.end());
  return { blocks, endOf, outputs, counts: join.counts };
}

const weathers = fc.record({
  seed: fc.nat(),
  blocks: fc.integer({ min: 1, max: 120 }),
  lossShare: fc.constantFrom(0, 0.01, 0.2, 0.6),
  doubleShare: fc.constantFrom(0, 0.3),
  lateMs: fc.constantFrom(0, 30, 190, 900),
  deviceLossShare: fc.constantFrom(0, 0.1),
  firstSequence: fc.constantFrom(0, 2 ** 32 - 30),
  canAsk: fc.boolean(),
  ring: fc.constantFrom(0, 0.5, 1),
  restartAt: fc.constantFrom(-1, 40),
});

test("whatever the link does, each sample sent is given once, in order and unchanged, or named as a gap", () => {
  fc.assert(
    fc.property(weathers, (weather) => {
      const { endOf, outputs, counts } = played(weather);
      const reached = new Map<number, number>();
      for (const one of outputs) {
        if (one.kind === "segment-began") expect(one.fromSample).toBe(0);
        if (one.kind !== "samples" && one.kind !== "gap") continue;
        const from = one.kind === "gap" ? one.fromSample : one.block.firstSample;
        expect(from).toBe(reached.get(one.segment) ?? 0);
        if (one.kind === "gap") expect(one.toSample).toBeGreaterThan(from);
        else
          expect([...blockValues(one.block)]).toEqual(
            Array.from({ length: one.block.sampleCount }, (_, i) => from + i),
          );
        reached.set(one.segment, one.kind === "gap" ? one.toSample : from + one.block.sampleCount);
      }
      const ends = [...endOf.entries()];
      expect(reached.get(ends.length)).toBe(ends.at(-1)?.[1]);
      expect(counts.segments).toBe(ends.length);
      expect(counts.storedSamples + counts.gapSamples).toBe([...reached.values()].reduce((a, b) => a + b, 0));
      expect(counts.waitingSamples).toBe(0);
      expect(counts.conflicts + counts.misfits + counts.bad).toBe(0);
    }),
    { numRuns: 150 },
  );
});

test("a link that only reorders and doubles within the wait loses nothing but what the device lost", () => {
  fc.assert(
    fc.property(weathers, (weather) => {
      const mild = { ...weather, lossShare: 0, lateMs: Math.min(weather.lateMs, 190), restartAt: -1 };
      const { blocks, outputs, counts } = played(mild);
      expect(counts.storedSamples).toBe(blocks.reduce((total, block) => total + block.sampleCount, 0));
      expect(outputs.filter((one) => one.kind === "gap" && one.cause !== "device")).toEqual([]);
    }),
    { numRuns: 80 },
  );
});

test("a bridge that has everything mends what a link with a way back lost", () => {
  const { blocks, counts } = played({
    ...{ seed: 3, blocks: 300, lossShare: 0.05, doubleShare: 0.1, lateMs: 30, deviceLossShare: 0 },
    ...{ firstSequence: 0, canAsk: true, ring: 1, restartAt: -1 },
  });
  const sent = blocks.reduce((total, block) => total + block.sampleCount, 0);
  expect(counts.gapSamples).toBeLessThan(sent * 0.01);
  expect(counts.storedSamples + counts.gapSamples).toBe(sent);
});

test("whatever blocks and places a bridge makes up, pieces follow each other and every sample known is counted", () => {
  const small = {
    sampleCount: fc.integer({ min: 1, max: 9 }),
    sequence: fc.constantFrom(0, 1, 2, 3, 4, 5, 2 ** 32 - 1),
  };
  const event = fc.record({
    ...small,
    streamId: fc.constantFrom(1, 1, 1, 2),
    sample: fc.oneof(fc.nat(60), fc.constantFrom(2 ** 40)),
    isResent: fc.boolean(),
    isPlace: fc.boolean(),
    channelCount: fc.constantFrom(1, 1, 1, 2),
    afterMs: fc.constantFrom(0, 0, 10, 250, 600),
  });
  fc.assert(
    fc.property(fc.array(event, { maxLength: 40 }), (events) => {
      const join = streamJoin();
      const outputs: StreamOutput[] = [];
      let nowMs = 0;
      for (const { afterMs, isPlace, sample, sequence, ...rest } of events) {
        nowMs += afterMs;
        const payload = new Uint8Array(rest.sampleCount * rest.channelCount * 2);
        const block: StreamBlock = {
          ...{ ...rest, sequence, firstSample: sample, payload, ticks: 0n, format: "i16" },
          ...{ isClockValid: false, hasLostBefore: false, isClockSetAnew: false },
        };
        const message: StreamMessage = { type: "status", next: { sample, sequence } };
        outputs.push(...join.packet(() => (isPlace ? { kind: "message", message } : { kind: "block", block }), nowMs));
      }
      outputs.push(...join.end());
      const reached = new Map<number, number>();
      let known = 0;
      for (const one of outputs) {
        if (one.kind === "segment-began") reached.set(one.segment, one.fromSample);
        if (one.kind !== "samples" && one.kind !== "gap") continue;
        const from = one.kind === "gap" ? one.fromSample : one.block.firstSample;
        const to = one.kind === "gap" ? one.toSample : from + one.block.sampleCount;
        expect(from).toBe(reached.get(one.segment));
        reached.set(one.segment, to);
        known += to - from;
      }
      expect(join.counts.storedSamples + join.counts.gapSamples).toBe(known);
      expect(join.counts.waitingSamples).toBe(0);
    }),
    { numRuns: 500 },
  );
});
