import { blockFromBytes, type StreamBlock } from "./stream-block.ts";
import { streamFaults } from "./stream-faults.ts";
import { streamMessageFromText } from "./stream-message.ts";
import type { StreamMessage } from "./stream-message-type.ts";

/** What one packet holds. `unknown`: a message of a type that version 1 does not know. */
export type StreamPacket =
  | { readonly kind: "block"; readonly block: StreamBlock }
  | { readonly kind: "message"; readonly message: StreamMessage }
  | { readonly kind: "unknown" };

/** The first bytes of a JSON object and of a block. */
const BRACE = 0x7b;
const LETTER_U = 0x55;

/** What a text message, or the text of a datagram, holds. Throws as `streamMessageFromText`. */
export function packetFromText(text: string): StreamPacket {
  const message = streamMessageFromText(text);
  return message === undefined ? { kind: "unknown" } : { kind: "message", message };
}

/**
 * What a binary message or a datagram holds: told by its first byte, `{` a JSON message, `U` a block.
 *
 * @param text  UTF-8 to text (a decoder is the caller's, since a pure room has none)
 * @throws UnderfootError `stream-datagram`, or as `blockFromBytes` and `streamMessageFromText`
 */
export function packetFromBytes(bytes: Uint8Array, text: (utf8: Uint8Array) => string): StreamPacket {
  if (bytes[0] === BRACE) return packetFromText(text(bytes));
  if (bytes[0] === LETTER_U) return { kind: "block", block: blockFromBytes(bytes) };
  throw streamFaults.datagram(bytes[0]);
}
