import type { Finding } from "@underfoot/domain";
import type { StreamBlock } from "./stream-block.ts";
import type { ClientMessage, HelloMessage, StreamMessage } from "./stream-message-type.ts";

/**
 * Why samples are missing: the device lost them, the bridge no longer has them, nobody answered in time,
 * or the segment ended before they came.
 */
export type GapCause = "device" | "gone" | "unanswered" | "ended";

/** Samples, in order; or the named lack of them: [fromSample, toSample). */
export type StreamPiece =
  | { readonly kind: "samples"; readonly segment: number; readonly block: StreamBlock }
  | {
      readonly kind: "gap";
      readonly segment: number;
      readonly fromSample: number;
      readonly toSample: number;
      readonly cause: GapCause;
    };

/** Why a segment began: the first of all, a new stream id, or a sample index that went back under the same id. */
export type SegmentReason = "first" | "new-stream" | "went-back";

/** What the join of a stream says. */
export type StreamOutput =
  | StreamPiece
  | {
      readonly kind: "segment-began";
      readonly segment: number;
      readonly streamId: number;
      readonly fromSample: number;
      readonly reason: SegmentReason;
    }
  | { readonly kind: "segment-ended"; readonly segment: number }
  /** What the channels mean, from this sample on. Said once for each change. */
  | { readonly kind: "hello"; readonly hello: HelloMessage; readonly fromSample: number }
  /** To be sent to the bridge. */
  | { readonly kind: "ask"; readonly message: ClientMessage }
  /** Any other message of the bridge, as it came. */
  | { readonly kind: "message"; readonly message: StreamMessage }
  /** No block for a second while connected. Said once for each silence. */
  | { readonly kind: "silent"; readonly sinceMs: number }
  | { readonly kind: "finding"; readonly finding: Finding };

/** What became of what arrived. `storedSamples` + `gapSamples` is every sample from the segments' beginnings to what is known of their ends. */
export interface StreamCounts {
  readonly segments: number;
  readonly packets: number;
  /** Wrong bytes: magic, length, checksum, JSON and so on. */
  readonly bad: number;
  readonly duplicates: number;
  /** The same samples once more with other bytes: the first were kept. */
  readonly conflicts: number;
  /** Came after their samples were named as a gap, or after their segment had ended. */
  readonly late: number;
  /** Another number of channels or format than the segment has. */
  readonly misfits: number;
  readonly storedSamples: number;
  readonly gapSamples: number;
  /** Known, and neither given nor named yet: waiting for what lies before them. */
  readonly waitingSamples: number;
}
