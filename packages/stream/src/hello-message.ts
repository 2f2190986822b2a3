import type { MessageFields } from "./message-fields.ts";
import { SAMPLE_FORMATS } from "./stream-block.ts";
import { streamFaults } from "./stream-faults.ts";
import {
  type HelloMessage,
  STREAM_PLATE_GIVES,
  STREAM_ROLES,
  type StreamChannel,
  type StreamPlace,
  type StreamPlate,
} from "./stream-message-type.ts";

const PROTOCOL = "underfoot-stream";
const VERSION = 1;
const MOST_UINT32 = 2 ** 32 - 1;
/** Far above any plate or microphone; only a guard against nonsense. Common practice, no source. */
const MOST_RATE_HZ = 1e6;
const MOST_SIGNALS = 12;

/** `next` of a message that may carry it. */
export function placeFromFields(fields: MessageFields): { readonly next?: StreamPlace } {
  if (!fields.has("next")) return {};
  const next = fields.object("next");
  return {
    next: {
      sample: next.number("sample", { least: 0, isWhole: true }),
      sequence: next.number("sequence", { least: 0, most: MOST_UINT32, isWhole: true }),
    },
  };
}

function channel(fields: MessageFields): StreamChannel {
  const scale = fields.number("scale");
  if (scale === 0) throw fields.fault("scale", "is 0; every value would be 0");
  return {
    role: fields.oneOf("role", STREAM_ROLES),
    name: fields.text("name"),
    unit: fields.text("unit"),
    scale,
    offset: fields.number("offset"),
    ...(fields.has("min") ? { min: fields.number("min") } : {}),
    ...(fields.has("max") ? { max: fields.number("max") } : {}),
  };
}

function matrix(fields: MessageFields): readonly (readonly number[])[] {
  const rows = fields.list("matrix", 6, 6);
  const columns = Array.isArray(rows[0]) ? rows[0].length : 0;
  const isRow = (row: unknown): row is readonly number[] =>
    Array.isArray(row) && row.length === columns && row.every((one) => Number.isFinite(one));
  if (columns >= 1 && columns <= MOST_SIGNALS && rows.every(isRow)) return rows;
  throw fields.fault("matrix", `is not six equal rows of 1 to ${MOST_SIGNALS} numbers`);
}

function plate(fields: MessageFields): StreamPlate {
  const [alongXM = 0, alongYM = 0] = fields.numbers("size", 2);
  const [x = 0, y = 0, z = 0] = fields.numbers("origin", 3);
  if (alongXM <= 0 || alongYM <= 0) throw fields.fault("size", "has a side that is not above 0");
  const gives = fields.oneOf("gives", STREAM_PLATE_GIVES);
  if (gives === "signals" && !fields.has("matrix")) throw fields.fault("matrix", "is missing, but gives is signals");
  return {
    gives,
    sense: fields.oneOf("sense", ["on-player", "on-plate"] as const),
    sizeM: [alongXM, alongYM],
    originM: [x, y, z],
    ...(fields.has("matrix") ? { matrix: matrix(fields) } : {}),
    axes: fields.text("axes"),
  };
}

/** A `hello` from its fields. Throws `stream-version` and `stream-field`. */
export function helloFromFields(fields: MessageFields): HelloMessage {
  const protocol = fields.text("protocol");
  const version = fields.number("version");
  if (protocol !== PROTOCOL || version !== VERSION) throw streamFaults.version(protocol, String(version));
  const device = fields.object("device");
  const rateHz = fields.number("rate", { least: 0, most: MOST_RATE_HZ });
  if (rateHz === 0) throw fields.fault("rate", "is 0; single events are sent as mark");
  return {
    type: "hello",
    streamId: fields.number("stream", { least: 0, most: MOST_UINT32, isWhole: true }),
    device: { id: device.text("id"), label: device.text("label") },
    rateHz,
    ...clock(fields),
    format: fields.oneOf("format", SAMPLE_FORMATS),
    channels: fields.objects("channels", 1, 64).map(channel),
    ...(fields.has("plate") ? { plate: plate(fields.object("plate")) } : {}),
    ...placeFromFields(fields),
  };
}

function clock(fields: MessageFields): Pick<HelloMessage, "clock"> {
  if (!fields.has("clock")) return {};
  const clock = fields.object("clock");
  const ticksPerSecond = clock.number("ticksPerSecond", { least: 0 });
  if (ticksPerSecond === 0) throw clock.fault("ticksPerSecond", "is 0; it is above 0");
  return { clock: { ticksPerSecond, bits: clock.number("bits", { least: 1, most: 64, isWhole: true }) } };
}

/** A `hello` as it travels. */
export function helloJson(hello: HelloMessage): object {
  const { type, streamId, device, rateHz, clock, format, channels, plate, next } = hello;
  return {
    type,
    protocol: PROTOCOL,
    version: VERSION,
    stream: streamId,
    device,
    rate: rateHz,
    clock,
    format,
    channels,
    plate: plate && {
      gives: plate.gives,
      sense: plate.sense,
      size: plate.sizeM,
      origin: plate.originM,
      matrix: plate.matrix ?? null,
      axes: plate.axes,
    },
    next,
  };
}
