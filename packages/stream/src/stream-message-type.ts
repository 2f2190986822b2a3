import type { Sense } from "@underfoot/domain";
import type { SampleFormat } from "./stream-block.ts";

/** What a channel of a stream carries: force, moment, CoP, free moment, a signal of the plate's matrix, or something beside the plate. */
export const STREAM_ROLES = [
  "fx",
  "fy",
  "fz",
  "mx",
  "my",
  "mz",
  "px",
  "py",
  "tz",
  "s1",
  "s2",
  "s3",
  "s4",
  "s5",
  "s6",
  "s7",
  "s8",
  "s9",
  "s10",
  "s11",
  "s12",
  "trigger",
  "sound",
  "temperature",
  "other",
] as const;
export type StreamRole = (typeof STREAM_ROLES)[number];

export const STREAM_PLATE_GIVES = ["force", "force+cop", "force+moment", "signals"] as const;

/** A channel: value = (raw - offset) x scale, in `unit`. */
export interface StreamChannel {
  readonly role: StreamRole;
  readonly name: string;
  readonly unit: string;
  readonly scale: number;
  readonly offset: number;
  /** The ends of the converter's range, raw. */
  readonly min?: number;
  readonly max?: number;
}

/** The plate behind a stream, in plate axes: right handed, z down. */
export interface StreamPlate {
  readonly gives: (typeof STREAM_PLATE_GIVES)[number];
  readonly sense: Sense;
  /** Along plate x and y. */
  readonly sizeM: readonly [number, number];
  /** From the plate's origin to the centre of the surface. */
  readonly originM: readonly [number, number, number];
  /** Six rows Fx Fy Fz Mx My Mz, a column for each signal s1.., N and N m per unit of signal. */
  readonly matrix?: readonly (readonly number[])[];
  /** How the plate's axes lie, in words. */
  readonly axes: string;
}

/** What the bridge will send next: the first sample and the sequence of its next new block. */
export interface StreamPlace {
  readonly sample: number;
  readonly sequence: number;
}

/** First message of a bridge, and again after every change. */
export interface HelloMessage {
  readonly type: "hello";
  /** A new one each time the device or its sample count starts anew; never used again. */
  readonly streamId: number;
  readonly device: { readonly id: string; readonly label: string };
  readonly rateHz: number;
  /** Absent where the device has no clock. */
  readonly clock?: { readonly ticksPerSecond: number; readonly bits: number };
  readonly format: SampleFormat;
  readonly channels: readonly StreamChannel[];
  readonly plate?: StreamPlate;
  readonly next?: StreamPlace;
}

/** What a bridge says. */
export type BridgeMessage =
  | HelloMessage
  | { readonly type: "pong"; readonly id: number; readonly ticks: bigint }
  | { readonly type: "note"; readonly what: string; readonly sample?: number; readonly ticks?: bigint }
  | { readonly type: "gone"; readonly fromSequence: number; readonly toSequence: number }
  | { readonly type: "mark"; readonly sample: number; readonly label: string }
  | {
      readonly type: "status";
      /** 0 empty, 1 full. */
      readonly batteryShare?: number;
      readonly temperatureC?: number;
      /** Samples that the device lost since the stream began. */
      readonly lostSamples?: number;
      readonly next?: StreamPlace;
    }
  | { readonly type: "bye"; readonly why: string; readonly next?: StreamPlace };

/** What Underfoot says to a bridge. Sequences from and to are both included; `to` may be below `from` where the count wraps. */
export type ClientMessage =
  | { readonly type: "auth"; readonly token: string }
  | { readonly type: "ping"; readonly id: number }
  | { readonly type: "start" | "stop" | "zero" }
  | { readonly type: "resend"; readonly fromSequence: number; readonly toSequence: number };

export type StreamMessage = BridgeMessage | ClientMessage;
