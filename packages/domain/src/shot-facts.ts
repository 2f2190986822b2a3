import type { Sense } from "./recording.ts";
import type { Vector } from "./vector.ts";

export type Handed = "right" | "left";
export type Foot = "lead" | "trail";

export const EVENT_NAMES = ["address", "start", "top", "delivery", "impact", "finish"] as const;
export type EventName = (typeof EVENT_NAMES)[number];
/** Marked by a person, from a trigger or sound, or estimated from the forces. Marks beat signals beat estimates. */
export type EventSource = "marked" | "signal" | "estimated";

/** The five shot intents the demo player is asked for; a coach may write any other word. */
export const INTENTS = ["stock", "steep", "shallow", "low", "high"] as const;
export type Intent = (typeof INTENTS)[number];

/** The slope under the player. pitch + rises toward the target (upslope), roll + rises toward the ball. */
export interface Lie {
  readonly pitchDeg: number;
  readonly rollDeg: number;
  readonly source: "inclinometer" | "stance" | "assumed";
  readonly sdDeg: number;
}

/** What a person says about one plate of the recording. */
export interface PlateFact {
  /** Number in the recording, from 1. */
  readonly plate: number;
  readonly foot: Foot | "both" | "none";
  readonly sense?: Sense;
  readonly originSign?: "as-written" | "turned";
  readonly type?: number;
  /** Seconds from the first sample; `none` forbids any zero. */
  readonly zero?: "none" | readonly [number, number];
  /** lead-plate time = offsetS + (1 + drift) x this plate's time. */
  readonly clock?: { readonly offsetS: number; readonly drift: number; readonly sdS: number };
}

/** A traced foot. Points in the laboratory or in plate axes, m; two numbers lie in the plate's surface. */
export interface FootOutlineFact {
  readonly foot: Foot;
  readonly frame: "lab" | "plate";
  readonly outline: readonly Vector[];
  readonly heel?: Vector;
  readonly toe?: Vector;
}

export interface ShotResult {
  /** mm from the face's centre: toward the toe, up. */
  readonly strikeMm?: readonly [number, number];
  readonly contact?: "clean" | "fat" | "thin" | "shank" | "top" | "miss";
  readonly startLineDeg?: number;
  readonly carryM?: number;
  readonly launchDeg?: number;
  readonly isGood?: boolean;
}

/** What the recording cannot say: who, which way, on what slope, and what a person marked. Read from a shot sidecar. */
export interface ShotFacts {
  readonly recordingFile?: string;
  readonly recordingSha256?: string;
  /** A pseudonym, never a name. */
  readonly player?: string;
  readonly handed: Handed;
  /** Direction of the target in the laboratory, any length > 0. */
  readonly target: Vector;
  /** Against gravity in the laboratory, if the laboratory is level. */
  readonly up?: Vector;
  readonly lie?: Lie;
  readonly plates: readonly PlateFact[];
  readonly feet: readonly FootOutlineFact[];
  readonly ballM?: Vector;
  readonly mass?: {
    readonly kg: number;
    readonly sdKg?: number;
    readonly source?: "scale" | "plates" | "said";
    readonly withClub?: boolean;
  };
  readonly padM?: number;
  readonly latitudeDeg?: number;
  readonly heightM?: number;
  readonly events: readonly {
    readonly event: EventName;
    readonly timeS: number;
    readonly fromS?: number;
    readonly source: EventSource;
    readonly sdMs?: number;
  }[];
  readonly intent?: string;
  readonly lieName?: string;
  readonly club?: string;
  readonly result?: ShotResult;
  readonly keep: "kept" | "set-aside";
  readonly note?: string;
  /** Fields this version does not know, kept and written back. */
  readonly unknown?: Readonly<Record<string, unknown>>;
}
