import { type ShotFacts, VERSION } from "@underfoot/domain";
import type { ColumnMapping } from "@underfoot/formats";
import type { Settings } from "@underfoot/mechanics";
import { sha256Of } from "../disk/recording-store.ts";

/** All that a result hangs on. */
export interface ResultInputs {
  readonly recordingSha256: string;
  readonly stretch: { readonly first: number; readonly end: number };
  readonly facts: ShotFacts | undefined;
  readonly mapping: ColumnMapping | undefined;
  readonly settings: Settings;
}

/** The facts that move a number: what was asked, how it was labelled and what became of the ball do not. */
function computingFacts(facts: ShotFacts | undefined): unknown {
  if (facts === undefined) return null;
  const { handed, target, up, lie, plates, feet, ballM, mass, padM, latitudeDeg, heightM, events } = facts;
  return { handed, target, up, lie, plates, feet, ballM, mass, padM, latitudeDeg, heightM, events };
}

/** The same text for the same content, whatever the order of its fields. */
function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_, item: unknown) =>
    typeof item === "object" && item !== null && !Array.isArray(item)
      ? Object.fromEntries(Object.entries(item).sort(([a], [b]) => (a < b ? -1 : 1)))
      : item,
  );
}

/** Under which a result is kept: another recording, fact, setting or version gives another key. */
export function cacheKey(
  { recordingSha256, stretch, facts, mapping, settings }: ResultInputs,
  version: string = VERSION,
): string {
  return sha256Of(
    canonicalJson({
      recordingSha256,
      stretch,
      facts: computingFacts(facts),
      mapping: mapping ?? null,
      settings,
      version,
    }),
  );
}
