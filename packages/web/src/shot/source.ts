import type { EventName, ShotFacts } from "@underfoot/domain";
import type { ColumnMapping } from "@underfoot/formats";
import type { Stretch } from "@underfoot/pipeline";

/** A time a person gave an event, seconds from the first sample. */
export interface Mark {
  readonly event: EventName;
  readonly timeS: number;
  readonly sdMs: number;
}

/** What one shot is read from: the library, or a file that was dropped. Bytes are fetched when it is opened. */
export interface Source {
  readonly id: string;
  readonly kind: "stored" | "file";
  /** Name of the recording's file. */
  readonly file: string;
  /** Of the recording, where the library knows it. */
  readonly sha256?: string;
  /** The shot's part of a longer recording. */
  readonly stretch?: Stretch;
  readonly mapping?: ColumnMapping;
  /** The dropped files themselves, to be handed on. */
  readonly files?: readonly File[];
  readonly read: () => Promise<SourceContent>;
}

export interface SourceContent {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly sidecarText: string | undefined;
}

/** What holds for one recording beside its bytes. A correction is a new input; nothing computed is ever edited. */
export interface Entry {
  readonly marks: readonly Mark[];
  /** Stand in for a sidecar. */
  readonly facts: ShotFacts | undefined;
}

/** The bytes of a recording could not be had. */
export class UnreadSource extends Error {
  override readonly name: string = "UnreadSource";
}
