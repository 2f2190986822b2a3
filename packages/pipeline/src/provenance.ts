import { VERSION } from "@underfoot/domain";
import type { Settings } from "@underfoot/mechanics";

/** With what a result was made: enough to make it again. */
export interface Provenance {
  readonly software: "Underfoot";
  readonly version: string;
  readonly settings: Settings;
  /** SHA-256 of the recording's bytes, lower-case hex; undefined where the host could not form it. */
  readonly sourceSha256: string | undefined;
}

export function provenanceOf(settings: Settings, sourceSha256: string | undefined): Provenance {
  return { software: "Underfoot", version: VERSION, settings, sourceSha256 };
}
