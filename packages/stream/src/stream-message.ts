import { helloFromFields, helloJson, placeFromFields } from "./hello-message.ts";
import { isJsonObject, type MessageFields, messageFields } from "./message-fields.ts";
import { streamFaults } from "./stream-faults.ts";
import type { StreamMessage } from "./stream-message-type.ts";

const MOST_CHARACTERS = 65536;
const COUNT = { least: 0, isWhole: true } as const;
const SEQUENCE = { least: 0, most: 2 ** 32 - 1, isWhole: true } as const;

const range = (fields: MessageFields): { readonly fromSequence: number; readonly toSequence: number } => ({
  fromSequence: fields.number("from", SEQUENCE),
  toSequence: fields.number("to", SEQUENCE),
});

const READERS: Readonly<Record<StreamMessage["type"], (fields: MessageFields) => StreamMessage>> = {
  hello: helloFromFields,
  auth: (fields) => ({ type: "auth", token: fields.text("token") }),
  ping: (fields) => ({ type: "ping", id: fields.number("id", COUNT) }),
  pong: (fields) => ({ type: "pong", id: fields.number("id", COUNT), ticks: fields.ticks("ticks") }),
  start: () => ({ type: "start" }),
  stop: () => ({ type: "stop" }),
  zero: () => ({ type: "zero" }),
  note: (fields) => ({
    type: "note",
    what: fields.text("what"),
    ...(fields.has("sample") ? { sample: fields.number("sample", COUNT) } : {}),
    ...(fields.has("ticks") ? { ticks: fields.ticks("ticks") } : {}),
  }),
  resend: (fields) => ({ type: "resend", ...range(fields) }),
  gone: (fields) => ({ type: "gone", ...range(fields) }),
  mark: (fields) => ({ type: "mark", sample: fields.number("sample", COUNT), label: fields.text("label") }),
  status: (fields) => ({
    type: "status",
    ...(fields.has("battery") ? { batteryShare: fields.number("battery", { least: 0, most: 1 }) } : {}),
    ...(fields.has("temperature") ? { temperatureC: fields.number("temperature") } : {}),
    ...(fields.has("lost") ? { lostSamples: fields.number("lost", COUNT) } : {}),
    ...placeFromFields(fields),
  }),
  bye: (fields) => ({ type: "bye", why: fields.text("why"), ...placeFromFields(fields) }),
};

const isKnown = (type: string): type is StreamMessage["type"] => Object.hasOwn(READERS, type);

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (cause) {
    throw streamFaults.json(cause);
  }
}

/**
 * One message from its JSON text. Fields that version 1 does not know are ignored.
 *
 * @returns undefined for a type that version 1 does not know: such messages are passed over
 * @throws UnderfootError `stream-long stream-json stream-field stream-version`, and nothing else, whatever the text
 */
export function streamMessageFromText(text: string): StreamMessage | undefined {
  if (text.length > MOST_CHARACTERS) throw streamFaults.long(text.length, MOST_CHARACTERS);
  const object = parsed(text);
  if (!isJsonObject(object)) throw streamFaults.json();
  const type = object["type"];
  if (typeof type !== "string") throw streamFaults.json();
  return isKnown(type) ? READERS[type](messageFields(object, type)) : undefined;
}

/** Ticks as JSON holds them exactly: a number up to 2^53, beyond it the digits in quotes. */
const jsonTicks = (ticks: bigint): number | string =>
  ticks <= BigInt(Number.MAX_SAFE_INTEGER) ? Number(ticks) : ticks.toString();

function json(message: StreamMessage): object {
  switch (message.type) {
    case "hello":
      return helloJson(message);
    case "pong":
      return { type: "pong", id: message.id, ticks: jsonTicks(message.ticks) };
    case "note": {
      const { ticks, ...rest } = message;
      return ticks === undefined ? rest : { ...rest, ticks: jsonTicks(ticks) };
    }
    case "resend":
    case "gone":
      return { type: message.type, from: message.fromSequence, to: message.toSequence };
    case "status": {
      const { batteryShare, temperatureC, lostSamples, next } = message;
      return { type: "status", battery: batteryShare, temperature: temperatureC, lost: lostSamples, next };
    }
    default:
      return message;
  }
}

/** The JSON text of one message, the other way of `streamMessageFromText`. */
export function streamMessageText(message: StreamMessage): string {
  return JSON.stringify(json(message));
}
