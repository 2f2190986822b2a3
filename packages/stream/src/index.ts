// The live stream's bytes: blocks and messages there and back, and the join that puts samples in order and names every gap.
export { crc32 } from "./crc32.ts";
export {
  blockBytes,
  blockFromBytes,
  blockPayload,
  blockValues,
  SAMPLE_FORMATS,
  type SampleFormat,
  type StreamBlock,
} from "./stream-block.ts";
export { reconnectDelayMs, type StreamJoin, type StreamJoinOptions, streamJoin } from "./stream-join.ts";
export { streamMessageFromText, streamMessageText } from "./stream-message.ts";
export {
  type BridgeMessage,
  type ClientMessage,
  type HelloMessage,
  STREAM_PLATE_GIVES,
  STREAM_ROLES,
  type StreamChannel,
  type StreamMessage,
  type StreamPlace,
  type StreamPlate,
  type StreamRole,
} from "./stream-message-type.ts";
export type { GapCause, SegmentReason, StreamCounts, StreamOutput, StreamPiece } from "./stream-output.ts";
export { packetFromBytes, packetFromText, type StreamPacket } from "./stream-packet.ts";
