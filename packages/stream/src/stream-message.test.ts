import { UnderfootError } from "@underfoot/domain";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { packetFromBytes, type StreamMessage, streamMessageFromText, streamMessageText } from "./index.ts";

/** The `hello` of docs/formats/stream.md. */
const HELLO = `{ "type": "hello", "protocol": "underfoot-stream", "version": 1, "stream": 439041101, "device": { "id": "A", "label": "left plate" },
  "rate": 1000, "clock": { "ticksPerSecond": 250000, "bits": 64 }, "format": "i16",
  "channels": [ { "role": "fx", "name": "Fx", "unit": "N", "scale": 0.1, "offset": 0, "min": -32768, "max": 32767 },
    { "role": "fy", "name": "Fy", "unit": "N", "scale": 0.1, "offset": 0 }, { "role": "fz", "name": "Fz", "unit": "N", "scale": 0.1, "offset": 0 } ],
  "plate": { "gives": "force", "sense": "on-plate", "size": [0.6, 0.4], "origin": [0, 0, -0.04], "matrix": null, "axes": "x-right y-ahead z-down" } }`;

const faultOf = (text: string): UnderfootError | undefined => {
  try {
    streamMessageFromText(text);
  } catch (fault) {
    if (fault instanceof UnderfootError) return fault;
    throw fault;
  }
  return undefined;
};
const withField = (field: string, value: unknown): string => JSON.stringify({ ...JSON.parse(HELLO), [field]: value });

describe("a message", () => {
  test("hello of the documented example is read, and written to the same JSON", () => {
    const hello = streamMessageFromText(HELLO);
    expect(hello).toMatchObject({ streamId: 0x1a2b3c4d, rateHz: 1000, plate: { sizeM: [0.6, 0.4] } });
    expect(JSON.parse(streamMessageText(hello as StreamMessage))).toEqual(JSON.parse(HELLO));
  });

  test.each<StreamMessage>([
    { type: "auth", token: "abc" },
    { type: "ping", id: 3 },
    { type: "pong", id: 3, ticks: 3500000n },
    { type: "pong", id: 3, ticks: (1n << 64n) - 1n },
    { type: "start" },
    { type: "stop" },
    { type: "zero" },
    { type: "note", what: "zero", sample: 12, ticks: 9007199254740993n },
    { type: "resend", fromSequence: 4294967290, toSequence: 3 },
    { type: "gone", fromSequence: 0, toSequence: 0 },
    { type: "mark", sample: 14000, label: "trigger" },
    { type: "status", batteryShare: 0.5, temperatureC: -4, lostSamples: 0, next: { sample: 9, sequence: 1 } },
    { type: "status" },
    { type: "bye", why: "switched off", next: { sample: 9, sequence: 1 } },
  ])("$type goes there and back", (message) => {
    expect(streamMessageFromText(streamMessageText(message))).toEqual(message);
  });

  test("of an unknown type is passed over; unknown fields are ignored", () => {
    expect(streamMessageFromText('{"type":"weather","sun":true}')).toBeUndefined();
    expect(streamMessageFromText('{"type":"toString"}')).toBeUndefined();
    expect(streamMessageFromText('{"type":"ping","id":1,"more":2}')).toEqual({ type: "ping", id: 1 });
  });

  test.each([
    ["stream-json", "{"],
    ["stream-json", "[]"],
    ["stream-json", "null"],
    ["stream-json", '{"type":1}'],
    ["stream-json", "[".repeat(60000)],
    ["stream-long", " ".repeat(65537)],
    ["stream-version", withField("version", 2)],
    ["stream-field", withField("stream", -1)],
    ["stream-field", withField("rate", 0)],
    ["stream-field", withField("format", "f64")],
    ["stream-field", withField("channels", [])],
    ["stream-field", withField("channels", new Array(65).fill({}))],
    ["stream-field", withField("channels", [{ role: "up", name: "", unit: "", scale: 1, offset: 0 }])],
    ["stream-field", withField("clock", { ticksPerSecond: 0, bits: 64 })],
    ["stream-field", withField("plate", { gives: "signals", sense: "on-plate", size: [1, 1], origin: [0, 0, 0] })],
    ["stream-field", '{"type":"pong","id":1,"ticks":9007199254740993}'],
    ["stream-field", '{"type":"pong","id":1,"ticks":"18446744073709551616"}'],
    ["stream-field", '{"type":"resend","from":1}'],
    ["stream-field", '{"type":"status","battery":2}'],
  ])("that is wrong is refused as %s", (code, text) => {
    expect(faultOf(text)?.code).toBe(code);
    expect(faultOf(text)?.message.length).toBeLessThan(250);
  });

  test("any JSON and any part of the example gives a message or a coded fault", () => {
    fc.assert(fc.property(fc.json(), (text) => void faultOf(text)));
    const fields = Object.keys(JSON.parse(HELLO)).filter((field) => field !== "type");
    fc.assert(
      fc.property(fc.constantFrom(...fields), fc.jsonValue(), (field, value) => void faultOf(withField(field, value))),
    );
    fc.assert(fc.property(fc.nat(HELLO.length), (end) => void faultOf(HELLO.slice(0, end))));
  });
});

test("a packet is told by its first byte", () => {
  const text = (utf8: Uint8Array): string => new TextDecoder().decode(utf8);
  expect(packetFromBytes(new TextEncoder().encode('{"type":"start"}'), text)).toMatchObject({ kind: "message" });
  expect(packetFromBytes(new TextEncoder().encode('{"type":"other"}'), text)).toEqual({ kind: "unknown" });
  expect(() => packetFromBytes(new Uint8Array(0), text)).toThrow(UnderfootError);
  expect(() => packetFromBytes(Uint8Array.from([0x20, 0x7b]), text)).toThrow("byte 32");
});
