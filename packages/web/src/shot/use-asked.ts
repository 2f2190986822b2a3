import { useMemo } from "react";
import { useAnswer } from "../api/use-answer.ts";
import type { OpenedShot } from "./opened-shot.ts";
import type { Asked } from "./outcomes.ts";
import { libraryKeptSettings } from "./stored-shot.ts";

/**
 * What is asked about the open shot, and about it as it was before it was marked here: with the library's settings, so
 * that the page and the stored results agree. A shot of the library waits for them; a dropped file can do without.
 */
export function useAsked(opened: OpenedShot | undefined): {
  readonly asked: Asked | undefined;
  readonly askedBefore: Asked | undefined;
} {
  const { answer, fault } = useAnswer("get /api/settings", {}, ["setting"]);
  const kept = useMemo(() => (answer === undefined ? undefined : libraryKeptSettings(answer)), [answer]);
  const { source, entry, before } = opened ?? {};
  const isReady = kept !== undefined || (fault !== undefined && source?.kind === "file");
  const of = (said: typeof entry): Asked | undefined =>
    isReady && source !== undefined && said !== undefined ? { source, entry: said, settings: kept } : undefined;
  // biome-ignore lint/correctness/useExhaustiveDependencies: `of` is made of these.
  const asked = useMemo(() => of(entry), [source, entry, kept, isReady]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `of` is made of these.
  const askedBefore = useMemo(() => of(before), [source, before, kept, isReady]);
  return { asked, askedBefore };
}
